import django.db.models.deletion
from django.db import migrations, models

import inventory.models.scope


class Migration(migrations.Migration):
    dependencies = [
        ("api", "0005_passwords_and_tries"),
        ("inventory", "0004_swatches_and_snippets"),
    ]

    operations = [
        migrations.CreateModel(
            name="Invitation",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("email", models.EmailField(max_length=254)),
                ("right", models.CharField(max_length=12)),
                ("digest", models.CharField(max_length=64)),
                ("made_at", models.DateTimeField()),
                ("expires_at", models.DateTimeField()),
                ("used_at", models.DateTimeField(blank=True, null=True)),
                ("ended_at", models.DateTimeField(blank=True, null=True)),
                (
                    "made_by",
                    models.ForeignKey(
                        db_constraint=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="api.membership",
                    ),
                ),
                (
                    "studio",
                    models.ForeignKey(
                        db_index=False,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="inventory.studio",
                    ),
                ),
            ],
            options={
                "ordering": ("-made_at", "-id"),
                "constraints": [
                    inventory.models.scope.SameStudio(
                        deferred=False,
                        field="made_by",
                        name="invitation_and_its_owner_share_a_studio",
                    ),
                    models.UniqueConstraint(
                        fields=("digest",), name="invitation_digest_is_its_own"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("right__in", ("looker-on", "helper", "dyer", "owner"))),
                        name="invitation_with_a_known_right",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("expires_at__gt", models.F("made_at"))),
                        name="invitation_good_for_some_time",
                    ),
                ],
            },
        ),
    ]

import django.db.models.deletion
from django.db import migrations, models

import inventory.models.scope


class Migration(migrations.Migration):
    dependencies = [
        ("api", "0007_links_of_sources"),
        ("inventory", "0004_swatches_and_snippets"),
    ]

    operations = [
        migrations.CreateModel(
            name="CalendarLink",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("digest", models.CharField(max_length=64)),
                ("made_at", models.DateTimeField()),
                ("ended_at", models.DateTimeField(blank=True, null=True)),
                ("last_used_on", models.DateField(blank=True, null=True)),
                ("said_sha256", models.CharField(blank=True, max_length=64)),
                ("revision", models.PositiveIntegerField(default=0)),
                ("changed_at", models.DateTimeField()),
                (
                    "membership",
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
                        field="membership",
                        name="calendar_link_and_its_membership_share_a_studio",
                    ),
                    models.UniqueConstraint(
                        fields=("digest",), name="calendar_link_digest_is_its_own"
                    ),
                    models.UniqueConstraint(
                        condition=models.Q(("ended_at__isnull", True)),
                        fields=("membership",),
                        name="calendar_link_once_a_member",
                    ),
                ],
            },
        ),
    ]

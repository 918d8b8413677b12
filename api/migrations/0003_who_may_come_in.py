import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models

import inventory.models.scope
from inventory.models.at_once import AtOnce


class Migration(migrations.Migration):
    dependencies = [
        ("api", "0002_sweep_remembers_its_first_look"),
        ("inventory", "0004_swatches_and_snippets"),
    ]

    operations = [
        migrations.CreateModel(
            name="Account",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("password", models.CharField(max_length=128, verbose_name="password")),
                (
                    "last_login",
                    models.DateTimeField(blank=True, null=True, verbose_name="last login"),
                ),
                ("email", models.EmailField(max_length=254)),
                ("name", models.CharField(max_length=80)),
                ("is_active", models.BooleanField(default=True)),
                ("made_at", models.DateTimeField()),
            ],
            options={
                "ordering": ("email",),
                "constraints": [
                    models.UniqueConstraint(fields=("email",), name="account_email_is_its_own"),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("email", ""), _negated=True),
                            models.Q(("name", ""), _negated=True),
                        ),
                        name="account_has_email_and_name",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Membership",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("right", models.CharField(max_length=12)),
                ("since", models.DateTimeField()),
                ("ended_at", models.DateTimeField(blank=True, null=True)),
                (
                    "account",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
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
                "ordering": ("since", "id"),
            },
        ),
        migrations.CreateModel(
            name="ProgramToken",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("name", models.CharField(max_length=80)),
                ("right", models.CharField(max_length=12)),
                ("reads_only", models.BooleanField(default=False)),
                ("digest", models.CharField(max_length=64)),
                ("made_at", models.DateTimeField()),
                ("expires_at", models.DateTimeField()),
                ("last_used_on", models.DateField(blank=True, null=True)),
                ("ended_at", models.DateTimeField(blank=True, null=True)),
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
            },
        ),
        migrations.AddConstraint(
            model_name="membership",
            constraint=models.UniqueConstraint(
                fields=("studio", "account"), name="member_once_a_studio"
            ),
        ),
        migrations.AddConstraint(
            model_name="membership",
            constraint=models.UniqueConstraint(
                fields=("studio", "id"), name="membership_key_in_its_studio"
            ),
        ),
        migrations.AddConstraint(
            model_name="membership",
            constraint=models.CheckConstraint(
                condition=models.Q(("right__in", ("looker-on", "helper", "dyer", "owner"))),
                name="membership_with_a_known_right",
            ),
        ),
        migrations.AddConstraint(
            model_name="membership",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    ("ended_at__isnull", True),
                    ("ended_at__gte", models.F("since")),
                    _connector="OR",
                ),
                name="membership_ends_after_it_begins",
            ),
        ),
        migrations.AddConstraint(
            model_name="programtoken",
            constraint=inventory.models.scope.SameStudio(
                deferred=False, field="membership", name="token_and_its_membership_share_a_studio"
            ),
        ),
        migrations.AddConstraint(
            model_name="programtoken",
            constraint=models.UniqueConstraint(fields=("digest",), name="token_digest_is_its_own"),
        ),
        migrations.AddConstraint(
            model_name="programtoken",
            constraint=models.CheckConstraint(
                condition=models.Q(("name", ""), _negated=True), name="token_has_a_name"
            ),
        ),
        migrations.AddConstraint(
            model_name="programtoken",
            constraint=models.CheckConstraint(
                condition=models.Q(("right__in", ("looker-on", "helper", "dyer", "owner"))),
                name="token_with_a_known_right",
            ),
        ),
        migrations.AddConstraint(
            model_name="programtoken",
            constraint=models.CheckConstraint(
                condition=models.Q(("expires_at__gt", models.F("made_at"))),
                name="token_good_for_some_time",
            ),
        ),
    ]
    operations = [AtOnce(operations)]

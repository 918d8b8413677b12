import django.db.models.deletion
from django.db import migrations, models

from inventory.models.at_once import AtOnce


class Migration(migrations.Migration):
    initial = True

    dependencies = [
        ("inventory", "0004_swatches_and_snippets"),
    ]

    operations = [
        migrations.CreateModel(
            name="Turn",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("what", models.CharField(max_length=40)),
                ("holder", models.UUIDField()),
                ("until", models.DateTimeField()),
            ],
            options={
                "constraints": [
                    models.UniqueConstraint(fields=("what",), name="turn_of_one_at_a_time")
                ],
            },
        ),
        migrations.CreateModel(
            name="OutboxLetter",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("key", models.CharField(max_length=200)),
                ("kind", models.CharField(max_length=20)),
                ("to", models.CharField(max_length=254)),
                ("subject", models.CharField(max_length=200)),
                ("text", models.TextField()),
                ("stop", models.CharField(blank=True, max_length=500)),
                ("due_at", models.DateTimeField()),
                ("until", models.DateTimeField()),
                ("message_id", models.CharField(max_length=255)),
                ("filed_at", models.DateTimeField()),
                ("tries", models.PositiveSmallIntegerField(default=0)),
                ("next_at", models.DateTimeField()),
                ("hand", models.UUIDField(blank=True, null=True)),
                ("handed_at", models.DateTimeField(blank=True, null=True)),
                ("sent_at", models.DateTimeField(blank=True, null=True)),
                ("let_go_at", models.DateTimeField(blank=True, null=True)),
                ("let_go_why", models.CharField(blank=True, max_length=20)),
                ("said", models.CharField(blank=True, max_length=300)),
                ("repeats", models.PositiveSmallIntegerField(default=0)),
                ("told", models.PositiveSmallIntegerField(default=0)),
                ("tell_again_at", models.DateTimeField(blank=True, null=True)),
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
                "ordering": ("due_at", "id"),
                "indexes": [
                    models.Index(
                        condition=models.Q(("let_go_at__isnull", True), ("sent_at__isnull", True)),
                        fields=["next_at"],
                        name="letter_open_by_its_moment",
                    ),
                    models.Index(fields=["studio", "due_at"], name="letter_of_studio_by_day"),
                    models.Index(fields=["until"], name="letter_by_its_last_moment"),
                ],
                "constraints": [
                    models.UniqueConstraint(
                        fields=("studio", "key"), name="letter_filed_once_a_key"
                    ),
                    models.UniqueConstraint(
                        fields=("message_id",), name="letter_with_an_id_of_its_own"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            (
                                "kind__in",
                                (
                                    "morning sheet",
                                    "day before",
                                    "dip",
                                    "last good day",
                                    "order-by day",
                                    "light test",
                                ),
                            )
                        ),
                        name="letter_of_a_known_kind",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("key", ""), _negated=True),
                            models.Q(("to", ""), _negated=True),
                            models.Q(("subject", ""), _negated=True),
                            models.Q(("text", ""), _negated=True),
                        ),
                        name="letter_says_something_to_somebody",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("until__gt", models.F("due_at"))),
                        name="letter_of_use_after_it_is_due",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("sent_at__isnull", True), ("let_go_at__isnull", True), _connector="OR"
                        ),
                        name="letter_sent_or_let_go_not_both",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            models.Q(("let_go_at__isnull", True), ("let_go_why", "")),
                            models.Q(
                                ("let_go_at__isnull", False),
                                ("let_go_why__in", ("too late", "refused", "stopped", "given up")),
                            ),
                            _connector="OR",
                        ),
                        name="letter_let_go_for_a_reason",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("sent_at__isnull", True), ("handed_at__isnull", False), _connector="OR"
                        ),
                        name="letter_handed_over_before_it_was_sent",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("repeats__lte", models.F("tries"))),
                        name="letter_repeated_by_tries_only",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="Sweep",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("until", models.DateTimeField()),
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
                "indexes": [models.Index(fields=["until"], name="sweep_by_its_mark")],
                "constraints": [
                    models.UniqueConstraint(fields=("studio",), name="sweep_has_one_mark_a_studio")
                ],
            },
        ),
    ]
    operations = [AtOnce(operations)]

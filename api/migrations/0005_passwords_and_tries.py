from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("api", "0004_entries_said_once"),
        ("inventory", "0004_swatches_and_snippets"),
    ]

    operations = [
        migrations.CreateModel(
            name="RecoveryWish",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("email", models.CharField(max_length=254)),
                ("asked_at", models.DateTimeField()),
            ],
        ),
        migrations.CreateModel(
            name="Tries",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("who", models.CharField(max_length=64)),
                ("count", models.PositiveSmallIntegerField()),
                ("last_at", models.DateTimeField()),
            ],
        ),
        migrations.RemoveConstraint(
            model_name="outboxletter",
            name="letter_of_a_known_kind",
        ),
        migrations.AddConstraint(
            model_name="outboxletter",
            constraint=models.CheckConstraint(
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
                            "new password",
                        ),
                    )
                ),
                name="letter_of_a_known_kind",
            ),
        ),
        migrations.AddConstraint(
            model_name="recoverywish",
            constraint=models.UniqueConstraint(
                fields=("email",), name="recovery_wished_once_an_email"
            ),
        ),
        migrations.AddIndex(
            model_name="tries",
            index=models.Index(fields=["last_at"], name="tries_by_their_last"),
        ),
        migrations.AddConstraint(
            model_name="tries",
            constraint=models.UniqueConstraint(fields=("who",), name="tries_counted_once"),
        ),
        migrations.AddConstraint(
            model_name="tries",
            constraint=models.CheckConstraint(
                condition=models.Q(("count__gte", 1)), name="tries_at_least_one"
            ),
        ),
    ]

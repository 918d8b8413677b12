from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("inventory", "0005_how_a_studio_reads_and_counts"),
    ]

    operations = [
        migrations.AddField(
            model_name="studio",
            name="units",
            field=models.CharField(blank=True, default="", max_length=10),
        ),
        migrations.AddConstraint(
            model_name="studio",
            constraint=models.CheckConstraint(
                condition=models.Q(("units__in", ("", "metric", "imperial", "us"))),
                name="studio_weighs_in_units_that_are_known",
            ),
        ),
    ]

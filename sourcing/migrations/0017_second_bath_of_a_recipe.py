from django.db import migrations, models

import inventory.models.fields


class Migration(migrations.Migration):
    dependencies = [
        ("sourcing", "0016_pots_that_runs_share"),
    ]

    operations = [
        migrations.AddField(
            model_name="recipe",
            name="second_of",
            field=models.CharField(blank=True, default="", max_length=40),
            preserve_default=False,
        ),
        migrations.AddField(
            model_name="recipe",
            name="strength",
            field=inventory.models.fields.FractionText(blank=True, null=True),
        ),
        migrations.AddConstraint(
            model_name="recipe",
            constraint=models.CheckConstraint(
                condition=models.Q(strength__isnull=True) | models.Q(second_of__gt=""),
                name="recipe_strength_only_of_a_second_bath",
            ),
        ),
    ]

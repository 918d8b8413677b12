from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("sourcing", "0019_claims_that_are_used"),
    ]

    operations = [
        migrations.AddField(
            model_name="kepttake",
            name="carried_from",
            field=models.CharField(blank=True, default="", max_length=40),
            preserve_default=False,
        ),
        migrations.AddField(
            model_name="kepttake",
            name="carried_to",
            field=models.CharField(blank=True, default="", max_length=40),
            preserve_default=False,
        ),
        migrations.AddField(
            model_name="kepttake",
            name="carried_round",
            field=models.PositiveSmallIntegerField(default=0),
        ),
    ]

import datetime

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("api", "0001_the_outbox"),
    ]

    operations = [
        migrations.AddField(
            model_name="sweep",
            name="since",
            # Of a sweep that was begun before this was kept: long ago.
            field=models.DateTimeField(default=datetime.datetime(2000, 1, 1, tzinfo=datetime.UTC)),
            preserve_default=False,
        ),
        migrations.AddConstraint(
            model_name="sweep",
            constraint=models.CheckConstraint(
                condition=models.Q(("until__gte", models.F("since"))),
                name="sweep_goes_forward_from_its_first_look",
            ),
        ),
    ]

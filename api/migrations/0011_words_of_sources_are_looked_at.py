from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("api", "0010_what_stays_in_a_search")]

    operations = [
        migrations.AddField(
            model_name="sourceword",
            name="seen_at",
            field=models.DateTimeField(blank=True, null=True),
        )
    ]

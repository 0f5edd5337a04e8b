from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("compliance", "0018_time_assumed")]

    operations = [
        migrations.AddField(
            model_name="recordsrequest",
            name="they_set",
            field=models.DateTimeField(null=True, verbose_name="when they want it"),
        ),
    ]

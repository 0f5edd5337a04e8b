from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("compliance", "0019_when_they_want_it")]

    operations = [
        migrations.AddField(
            model_name="handing",
            name="task",
            field=models.CharField(blank=True, default="", editable=False, max_length=64),
            preserve_default=False,
        ),
        migrations.AddIndex(
            model_name="storedcheck",
            index=models.Index(fields=["firm", "at"], name="checks_by_time"),
        ),
    ]

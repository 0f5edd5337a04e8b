from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("compliance", "0017_handed_links")]

    operations = [
        migrations.AlterField(
            model_name="recordsrequest",
            name="due_from",
            field=models.CharField(
                blank=True,
                choices=[
                    ("rule", "the rule"),
                    ("typed", "what they set"),
                    ("assumed", "the soonest that we know of"),
                ],
                max_length=10,
                verbose_name="due by",
            ),
        ),
    ]

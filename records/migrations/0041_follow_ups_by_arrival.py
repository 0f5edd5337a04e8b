from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("records", "0040_signed_records_by_time")]

    operations = [
        migrations.AddIndex(
            model_name="signedfollowup",
            index=models.Index(fields=["firm", "received_at"], name="follow_ups_by_arrival"),
        ),
    ]

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [("records", "0039_stock_set_aside")]

    operations = [
        migrations.AddIndex(
            model_name="signedrecord",
            index=models.Index(fields=["firm", "received_at"], name="signed_record_by_time"),
        ),
    ]

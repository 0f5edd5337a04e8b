from django.db import migrations


class Migration(migrations.Migration):

    dependencies = [
        ('compliance', '0006_carry_policies_over'),
    ]

    operations = [
        migrations.RemoveField(
            model_name='historicalfirmpolicy',
            name='firm',
        ),
        migrations.RemoveField(
            model_name='historicalfirmpolicy',
            name='history_user',
        ),
        migrations.DeleteModel(
            name='FirmPolicy',
        ),
        migrations.DeleteModel(
            name='HistoricalFirmPolicy',
        ),
    ]

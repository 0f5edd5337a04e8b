from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('compliance', '0003_compress_stored_checks'),
    ]

    operations = [
        migrations.RemoveField(
            model_name='storedcheck',
            name='check_json',
        ),
        migrations.AlterField(
            model_name='storedcheck',
            name='body',
            field=models.BinaryField(verbose_name='check'),
        ),
    ]

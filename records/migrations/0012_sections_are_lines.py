from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('records', '0011_section_lines'),
    ]

    operations = [
        # With a default, so that the way back has something to put in before it fills the columns.
        migrations.AlterField(
            model_name='signedrecord',
            name='sections',
            field=models.JSONField(default=dict, verbose_name='sections'),
        ),
        migrations.AlterField(
            model_name='signedrecord',
            name='salts',
            field=models.JSONField(default=dict, verbose_name='salts'),
        ),
        migrations.RemoveField(
            model_name='signedrecord',
            name='sections',
        ),
        migrations.RemoveField(
            model_name='signedrecord',
            name='salts',
        ),
    ]

import shared.clock
from django.db import migrations, models


def keep_who_is_in(apps, editor):
    """Memberships from before invitations count on; addresses that nobody has confirmed sign in no more."""
    using = editor.connection.alias
    apps.get_model("records", "Membership")._base_manager.using(using).update(accepted_at=shared.clock.now())
    addresses = apps.get_model("account", "EmailAddress").objects.using(using)
    addresses.exclude(email=models.F("user__email")).delete()


class Migration(migrations.Migration):

    dependencies = [
        ('records', '0001_initial'),
        ('account', '0009_emailaddress_unique_primary_email'),
    ]

    operations = [
        migrations.AddField(
            model_name='historicalmembership',
            name='accepted_at',
            field=models.DateTimeField(editable=False, help_text='By the owner of the account; before that it counts for nothing.', null=True, verbose_name='accepted at'),
        ),
        migrations.AddField(
            model_name='historicalmembership',
            name='invited_at',
            field=models.DateTimeField(default=shared.clock.now, editable=False, verbose_name='invited at'),
        ),
        migrations.AddField(
            model_name='membership',
            name='accepted_at',
            field=models.DateTimeField(editable=False, help_text='By the owner of the account; before that it counts for nothing.', null=True, verbose_name='accepted at'),
        ),
        migrations.AddField(
            model_name='membership',
            name='invited_at',
            field=models.DateTimeField(default=shared.clock.now, editable=False, verbose_name='invited at'),
        ),
        migrations.RunPython(keep_who_is_in, migrations.RunPython.noop),
    ]

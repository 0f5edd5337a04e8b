from django.db import migrations

from records.models.proofs import new_token

AT_ONCE = 2000


def give_addresses(apps, editor):
    """Each record that was signed before gets the address of its proof page."""
    database = editor.connection.alias
    records = apps.get_model("records", "SignedRecord").across_firms.using(database)
    addresses = apps.get_model("records", "ProofAddress")
    without = records.filter(proof_address=None).order_by("pk").values_list("pk", "firm_id")
    while rows := list(without[:AT_ONCE]):
        addresses.across_firms.using(database).bulk_create(
            addresses(token=new_token(), record_id=record, firm_id=firm) for record, firm in rows
        )


class Migration(migrations.Migration):

    dependencies = [
        ('records', '0013_proof_addresses'),
    ]

    operations = [migrations.RunPython(give_addresses, migrations.RunPython.noop, elidable=True)]

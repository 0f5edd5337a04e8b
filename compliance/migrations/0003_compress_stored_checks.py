from django.db import migrations

from compliance.stored_form import compressed, plain

AT_ONCE = 200
GUARDED = ("change", "removal", "replacement", "truncation")


def let_rows_change(editor, table):
    """The triggers come back after the migration."""
    for event in GUARDED:
        on = "" if editor.connection.vendor == "sqlite" else f' ON "{table}"'
        editor.execute(f'DROP TRIGGER IF EXISTS "{table}_refuses_{event}"{on}')


def compress(apps, editor):
    """The same checks, byte for byte in their canonical form, so that their digests hold."""
    checks = apps.get_model("compliance", "StoredCheck").across_firms.using(editor.connection.alias)
    let_rows_change(editor, checks.model._meta.db_table)
    for row in checks.only("check_json").iterator(chunk_size=AT_ONCE):
        checks.filter(pk=row.pk).update(body=compressed(row.check_json))


def spread_out(apps, editor):
    checks = apps.get_model("compliance", "StoredCheck").across_firms.using(editor.connection.alias)
    let_rows_change(editor, checks.model._meta.db_table)
    for row in checks.only("body").iterator(chunk_size=AT_ONCE):
        checks.filter(pk=row.pk).update(check_json=plain(bytes(row.body)))


class Migration(migrations.Migration):

    dependencies = [
        ('compliance', '0002_keep_packs_and_contexts'),
    ]

    operations = [
        migrations.RunPython(compress, spread_out),
    ]

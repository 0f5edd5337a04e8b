import json

from django.db import migrations, models

AT_ONCE = 200
GUARDED = ("change", "removal", "replacement", "truncation")


def let_rows_change(editor, table):
    """The triggers come back after the migration."""
    for event in GUARDED:
        on = "" if editor.connection.vendor == "sqlite" else f' ON "{table}"'
        editor.execute(f'DROP TRIGGER IF EXISTS "{table}_refuses_{event}"{on}')


def canonical(value):
    """As `shared/canonical.py` writes what a record holds. What was changed since it was signed is carried
    over as it is, for the log's look to name."""
    return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False).encode()


def write_lines(apps, editor):
    records = apps.get_model("records", "SignedRecord").across_firms.using(editor.connection.alias)
    let_rows_change(editor, records.model._meta.db_table)
    for row in records.only("sections", "salts").order_by("pk").iterator(chunk_size=AT_ONCE):
        lines = [canonical([name, row.salts.get(name, ""), part]) for name, part in sorted(row.sections.items())]
        records.filter(pk=row.pk).update(section_lines=b"\n".join(lines))


def spread_out(apps, editor):
    records = apps.get_model("records", "SignedRecord").across_firms.using(editor.connection.alias)
    let_rows_change(editor, records.model._meta.db_table)
    for row in records.only("section_lines").order_by("pk").iterator(chunk_size=AT_ONCE):
        lines = bytes(row.section_lines)
        parts = [json.loads(line) for line in lines.split(b"\n")] if lines else []
        records.filter(pk=row.pk).update(
            sections={name: part for name, _salt, part in parts}, salts={name: salt for name, salt, _part in parts}
        )


class Migration(migrations.Migration):

    dependencies = [
        ('records', '0010_audit'),
    ]

    operations = [
        migrations.AddField(
            model_name='signedrecord',
            name='section_lines',
            field=models.BinaryField(default=b'', verbose_name='sections'),
            preserve_default=False,
        ),
        migrations.RunPython(write_lines, spread_out),
    ]

from itertools import groupby

from django.db import migrations

from compliance.stored_form import plain
from compliance.terms import term_of


def note(apps, editor):
    """Until when each treatment is kept, by the checks that are stored."""
    alias = editor.connection.alias
    checks = apps.get_model("compliance", "StoredCheck").across_firms.using(alias)
    treatments = apps.get_model("records", "Treatment").across_firms.using(alias)
    rows = checks.order_by("treatment_id", "at", "pk").values_list("treatment_id", "body")
    for treatment, of_it in groupby(rows.iterator(chunk_size=200), key=lambda row: row[0]):
        if term := term_of([plain(bytes(body)) for _treatment, body in of_it]):
            treatments.filter(pk=treatment).update(keep_until=term.until)


class Migration(migrations.Migration):

    dependencies = [
        ("compliance", "0009_checks_of_a_treatment"),
        ("records", "0008_keeping"),
    ]

    operations = [migrations.RunPython(note, migrations.RunPython.noop)]

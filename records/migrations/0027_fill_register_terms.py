from django.db import migrations

from records.document.reader import read
from records.register.terms import order_key, strongest_wind, terms_of
from shared.orm.quantities import projected

AT_ONCE = 500
COLUMNS = ["site_key", "customer_key", "strongest_wind"]


def fill(apps, editor):
    """Treatments from before are found by what their documents say, too."""
    database = editor.connection.alias
    models = {name: apps.get_model("records", name) for name in ("Treatment", "RegisterTerm", "TreatmentTerm")}
    rows = models["Treatment"].across_firms.using(database).order_by("pk")
    last = None
    while batch := list((rows.filter(pk__gt=last) if last else rows)[:AT_ONCE]):
        last = batch[-1].pk
        _fill(batch, models, database)


def _fill(batch, models, database):
    documents = {row.pk: read(row.document) for row in batch if row.document}
    for row in batch:
        row.site_key, row.customer_key = order_key(row.site_name), order_key(row.customer_name)
        if row.pk in documents:
            row.strongest_wind = projected(strongest_wind(documents[row.pk]))
    models["Treatment"].across_firms.using(database).bulk_update(batch, COLUMNS)
    found = {row.pk: terms_of(documents[row.pk]) for row in batch if row.pk in documents}
    term, link = models["RegisterTerm"], models["TreatmentTerm"]
    terms = term.across_firms.using(database)
    terms.bulk_create(
        (term(firm_id=row.firm_id, **each._asdict()) for row in batch for each in found.get(row.pk, ())),
        ignore_conflicts=True,
    )
    texts = {each.folded for every in found.values() for each in every}
    kept = terms.filter(firm__in={row.firm_id for row in batch}, folded__in=texts)
    ids = {(firm, kind, text): pk for pk, firm, kind, text in kept.values_list("pk", "firm_id", "kind", "folded")}
    link.across_firms.using(database).bulk_create(
        link(firm_id=row.firm_id, treatment_id=row.pk, day=row.day, term_id=ids[row.firm_id, each.kind, each.folded])
        for row in batch
        for each in found.get(row.pk, ())
    )


class Migration(migrations.Migration):

    dependencies = [
        ('records', '0026_register_terms'),
    ]

    operations = [migrations.RunPython(fill, migrations.RunPython.noop, elidable=True)]

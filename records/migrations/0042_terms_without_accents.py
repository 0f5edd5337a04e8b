from django.db import migrations

from records.register.terms import compared, order_key

AT_ONCE = 500
FOLDED_OTHERWISE = r"[^\x01-\x7f]"
"""What was folded before is folded otherwise only where it holds other letters than these."""


def fold(apps, editor):
    """What treatments from before are found and sorted by is found and sorted whatever its accents."""
    database = editor.connection.alias
    models = (apps.get_model("records", name) for name in ("Treatment", "RegisterTerm", "TreatmentTerm"))
    treatments, terms, links = (model.across_firms.using(database) for model in models)
    last = 0
    while batch := list(terms.filter(pk__gt=last, folded__regex=FOLDED_OTHERWISE).order_by("pk")[:AT_ONCE]):
        last = batch[-1].pk
        _fold_terms(batch, terms, links)
    for column in ("customer_key", "site_key"):
        _fold_keys(treatments, column)


def _fold_terms(batch, terms, links):
    """A term that becomes what another one is already is that one: what is found by it is found by the other."""
    there = terms.filter(
        firm__in={term.firm_id for term in batch},
        kind__in={term.kind for term in batch},
        folded__in={compared(term.folded) for term in batch},
    )
    by_name = {(term.firm_id, term.kind, term.folded): term for term in there}
    changed = []
    for term in batch:
        before, term.folded = term.folded, compared(term.folded)
        kept = by_name.setdefault((term.firm_id, term.kind, term.folded), term)
        if kept.pk != term.pk:
            _merge(term, kept, terms, links)
        elif term.folded != before:
            changed.append(term)
    terms.bulk_update(changed, ["folded"])


def _merge(term, kept, terms, links):
    found = links.filter(term=term.pk)
    found.filter(treatment__in=links.filter(term=kept.pk).values("treatment")).delete()
    found.update(term=kept.pk)
    terms.filter(pk=term.pk).delete()


def _fold_keys(treatments, column):
    """Name by name: of each there may be very many treatments."""
    otherwise = treatments.filter(**{f"{column}__regex": FOLDED_OTHERWISE}).order_by()
    for firm, key in list(otherwise.values_list("firm", column).distinct()):
        if (now := order_key(key)) != key:
            treatments.filter(**{"firm": firm, column: key}).update(**{column: now})


class Migration(migrations.Migration):

    dependencies = [
        ('records', '0041_follow_ups_by_arrival'),
    ]

    operations = [migrations.RunPython(fold, migrations.RunPython.noop, elidable=True)]

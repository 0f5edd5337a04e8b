from django.db import migrations
from django.db.models import OuterRef, Subquery

from compliance.stored_form import plain
from compliance.stored_register import open_rules, wind_limit
from records.register.terms import CANT_TELL, NOT_MET, of_rules
from shared.orm.quantities import projected

AT_ONCE = 500


def fill(apps, editor):
    """The register finds records that were checked before by the rules that are open."""
    database = editor.connection.alias
    check = apps.get_model("compliance", "StoredCheck")
    newest = check.across_firms.using(database).filter(treatment=OuterRef("treatment")).order_by("-at", "-pk")
    checks = check.across_firms.using(database).filter(pk=Subquery(newest.values("pk")[:1]))
    for each in checks.select_related("treatment").iterator(AT_ONCE):
        _fill(each, apps, database)


def _fill(check, apps, database):
    term, link = (apps.get_model("records", name) for name in ("RegisterTerm", "TreatmentTerm"))
    treatment, stored = check.treatment, plain(bytes(check.body))
    treatment.wind_limit = projected(wind_limit(stored))
    treatment.save(update_fields=["wind_limit"])
    not_met, cant_tell = open_rules(stored)
    for each in of_rules(NOT_MET, not_met) | of_rules(CANT_TELL, cant_tell):
        about = {"firm_id": treatment.firm_id, "kind": each.kind, "folded": each.folded}
        kept, _made = term.across_firms.using(database).get_or_create(**about, defaults={"written": each.written})
        link.across_firms.using(database).get_or_create(
            term=kept, treatment=treatment, defaults={"firm_id": treatment.firm_id, "day": treatment.day}
        )


class Migration(migrations.Migration):

    dependencies = [
        ('compliance', '0011_notice_words'),
        ('records', '0027_fill_register_terms'),
    ]

    operations = [migrations.RunPython(fill, migrations.RunPython.noop, elidable=True)]

"""Many treatments of one firm with all that a register reads of them, put in by the database itself."""

from django.db import connection

from records.models import Membership, RegisterTerm, Treatment
from records.services.planning import Plan, plan_treatment
from shared import clock
from tests.factories import SiteFactory

DAYS, FIRST = 1826, "2021-01-01"
A_CUSTOMER = 50
"""Treatments of one customer. Every other name is in so many of all as `SHARES` say."""
SHARES = {
    "county": 40, "place": 3, "product": 12, "registration": 12, "ingredient": 5, "applicator": 20,
    "licence": 20,
}  # fmt: skip
TEXTS = {
    "county": "county {}x", "place": "us-{}x", "product": "sample wash {0}x (99999-{0})",
    "registration": "99999-{}", "ingredient": "invented active {}x", "applicator": "osei {}x",
    "licence": "co-{}x", "customer": "customer {}x", "site": "house {}x",
}  # fmt: skip
RULES, EVERY = 10, 40
"""One treatment in forty has one rule of ten not met."""


def fill(member: Membership, many: int) -> None:
    firm = member.firm
    plan = Plan(site=SiteFactory(firm=firm), surfaces=[], planned_at=clock.now())
    template = plan_treatment(firm, member.user, plan)
    customers = max(1, many // A_CUSTOMER)
    _terms(member, "customer", [f"customer {n}x" for n in range(customers)])
    _terms(member, "site", [f"house {n}x" for n in range(customers)])
    _terms(member, "not_met", [f"us-wa/rule-{n}" for n in range(RULES)])
    for kind, share in SHARES.items():
        _terms(member, kind, [TEXTS[kind].format(n) for n in range(share)])
    with connection.cursor() as cursor:
        cursor.execute(_treatments(template, many, customers), [_key(template.pk)])
        for kind, share in (*SHARES.items(), ("customer", customers), ("site", customers)):
            cursor.execute(_links(TEXTS[kind], share, ""), [_key(firm.pk), kind])
        some = f"AND {_NUMBER} % {EVERY} = 0"
        cursor.execute(_links("us-wa/rule-{}", RULES, some), [_key(firm.pk), "not_met"])


_NUMBER = "CAST(substr(t.number, 3) AS INTEGER)"


def _treatments(template: Treatment, many: int, customers: int) -> str:
    """Insert copies of one row, each with a number, day, names and wind of its own."""
    salt = template.firm_id.hex[:12]
    day = f"i * {DAYS} / {many}"
    sqlite = connection.vendor == "sqlite"
    uuid = f"printf('{salt}%020x', (i * 7919) %% {many * 8 + 1})" if sqlite else (
        f"('{salt}' || lpad(to_hex((i * 7919) %% {many * 8 + 1}), 20, '0'))::uuid"
    )  # fmt: skip
    values = {
        "uuid": uuid,
        "number": "'N-' || i",
        "day": f"date('{FIRST}', ({day}) || ' days')" if sqlite else f"date '{FIRST}' + ({day})::integer",
        "site_name": f"'House ' || (i %% {customers}) || 'x'",
        "site_key": f"'house ' || (i %% {customers}) || 'x'",
        "customer_name": f"'Customer ' || (i %% {customers}) || 'x'",
        "customer_key": f"'customer ' || (i %% {customers}) || 'x'",
        "products": "'Sample Wash ' || (i %% 12)",
        "applicators": "'Osei ' || (i %% 20)",
        "strongest_wind": "(i * 31 %% 2300) * 0.0044704",
        "outcome": f"CASE WHEN i %% {EVERY} = 0 THEN 'not_met' ELSE 'met' END",
        "state": "'signed'",
    }
    names = [field.column for field in Treatment._meta.concrete_fields]
    chosen = ", ".join(values.get(name, f"c.{name}") for name in names)
    return (
        f"INSERT INTO records_treatment ({', '.join(names)}) "
        f"WITH RECURSIVE n(i) AS (SELECT CAST(1 AS BIGINT) UNION ALL SELECT i + 1 FROM n WHERE i < {many}) "
        f"SELECT {chosen} FROM n, records_treatment c WHERE c.uuid = %s"
    )


def _links(text: str, share: int, only: str) -> str:
    place = f"({_NUMBER} / 7 + {_NUMBER}) % {share}" if share < 1000 else f"{_NUMBER} % {share}"
    folded = "'" + text.replace("{0}", "{}").replace("{}", f"' || ({place}) || '") + "'"
    statement = (
        "INSERT INTO records_treatmentterm (firm_id, term_id, treatment_id, day) "
        "SELECT t.firm_id, r.id, t.uuid, t.day FROM records_treatment t JOIN records_registerterm r "
        f"ON r.firm_id = t.firm_id AND r.folded = {folded} WHERE t.number LIKE 'N-%' {only} "
    )
    return statement.replace("%", "%%") + "AND t.firm_id = %s AND r.kind = %s"


def _terms(member: Membership, kind: str, texts: list[str]) -> None:
    rows = [RegisterTerm(firm=member.firm, kind=kind, folded=text, written=text) for text in texts]
    RegisterTerm.objects.bulk_create(rows, batch_size=5000)


def _key(uuid: object) -> object:
    return uuid if connection.features.has_native_uuid_field else getattr(uuid, "hex", uuid)

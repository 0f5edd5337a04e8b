"""Pages of the register in a firm of many treatments, set against SQL written by hand for the same rows and the
same count, and against the same page in a firm of few; a program.

`DATABASE_URL=… python -m benchmarks.register 1000000` fills an empty database, or asks the one that it filled
before, and prints a table: milliseconds of the clock. A page is what a browser is sent, with its rights, its
audit entry and its template. Both firms are in one database.
"""

import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from statistics import median
from time import perf_counter
from typing import Any

import django

django.setup()

from django.core.management import call_command  # noqa: E402
from django.db import connection  # noqa: E402
from django.test import Client  # noqa: E402
from django.urls import reverse  # noqa: E402

from benchmarks.register_rows import fill  # noqa: E402
from records.forms.register_search import search_in  # noqa: E402
from records.models import Firm, Membership, Treatment  # noqa: E402
from records.pages.register import PAGE  # noqa: E402
from records.register_search import COUNTED, LINE, Found, found_in, page_after, treatments_of  # noqa: E402
from tests.factories import MembershipFactory  # noqa: E402

FEW_ROWS, ROUNDS = 10_000, 7
SHOWN = "t.uuid, t.number, t.day, t.state, t.site_name, t.customer_name, t.products, t.applicators, t.outcome"
Statement = tuple[str, Sequence[Any]]


@dataclass(frozen=True)
class Asked:
    """A page by its query, and by hand where its rows are: from, where, order. `{x}` are values of the query,
    `deep` those of the row before."""

    name: str
    query: dict[str, str]
    source: str
    where: str
    order: str
    after: str = ""


T = "records_treatment t"
TERM = (
    "records_treatmentterm l JOIN records_treatment t ON t.uuid = l.treatment_id "
    "JOIN records_registerterm r ON r.id = l.term_id AND r.firm_id = %(firm)s"
)
NEWEST, OF_TERM = "t.day DESC, t.uuid DESC", "l.day DESC, l.treatment_id DESC"
HAS = (
    "EXISTS (SELECT 1 FROM records_treatmentterm x JOIN records_registerterm r2 ON r2.id = x.term_id "
    "WHERE x.treatment_id = t.uuid AND r2.firm_id = %(firm)s AND r2.kind = '{}' AND r2.folded LIKE '%%{}%%')"
)
NUMBER = "r.kind = 'registration' AND r.folded = '99999-3'"
OF_KIND = "r.kind = '{}' AND r.folded LIKE '%%{}%%'"
PAGES = (
    Asked("newest first", {}, T, "", NEWEST),
    Asked("newest first, deep", {}, T, "", NEWEST, "(t.day, t.uuid) < (%(day)s, %(uuid)s)"),
    Asked("by customer, deep", {"order": "customer"}, T, "", "t.customer_key, t.day DESC, t.uuid DESC",
          "t.customer_key >= %(customer_key)s AND (t.customer_key > %(customer_key)s "
          "OR (t.day, t.uuid) < (%(day)s, %(uuid)s))"),
    Asked("by number", {"order": "number"}, T, "", "t.number, t.uuid"),
    Asked("strongest wind first", {"order": "wind"}, T, "t.strongest_wind IS NOT NULL",
          "t.strongest_wind DESC, t.uuid DESC"),
    Asked("one customer's name, part of others'", {"customer": "customer 199x"}, TERM,
          OF_KIND.format("customer", "199x") + " AND r.folded LIKE '%%customer%%'", OF_TERM),
    Asked("one product, deep", {"product": "99999-3"}, TERM, NUMBER, OF_TERM,
          "(l.day, l.treatment_id) < (%(day)s, %(uuid)s)"),
    Asked("one rule", {"finding": "us-wa/rule-3"}, TERM,
          "r.kind = 'not_met' AND r.folded = 'us-wa/rule-3'", OF_TERM),
    Asked("product in a county in May", {"product": "99999-3", "county": "county 7x", "day_from": "2025-05-01",
          "day_to": "2025-05-31"}, TERM, NUMBER
          + " AND l.day BETWEEN '2025-05-01' AND '2025-05-31' AND " + HAS.format("county", "county 7x"),
          OF_TERM),
    Asked("wind at least 20 mph, by site", {"wind_least": "20 mph", "order": "site"}, T,
          "t.strongest_wind >= 8.9408", "t.site_key, t.day DESC, t.uuid DESC"),
    Asked("not met, oldest first", {"outcome": "not_met", "order": "oldest"}, T, "t.outcome = 'not_met'",
          "t.day, t.uuid"),
    Asked("words", {"words": "osei 99999-2"}, TERM,
          OF_KIND.format("product", "99999-2") + " AND " + HAS.format("applicator", "osei"), OF_TERM),
)  # fmt: skip


def by_hand(asked: Asked, firm: Firm, last: Treatment | None) -> Callable[[], None]:
    """The rows and the count up to the bound, as somebody writes them who knows the indexes; of a search whose
    count comes after the page the rows."""
    where = " AND ".join(part for part in ("t.firm_id = %(firm)s", asked.where) if part)
    after = f" AND {asked.after}" if last and asked.after else ""
    rows = f"SELECT {SHOWN} FROM {asked.source} WHERE {where}{after} ORDER BY {asked.order} LIMIT {PAGE + 1}"
    count = f"SELECT count(*) FROM (SELECT 1 FROM {asked.source} WHERE {where} LIMIT {COUNTED + 1}) c"
    values = {"firm": _key(firm.pk)}
    statements = (rows,) if search_of(asked, firm).slow else (rows, count)
    if last:
        values |= {"day": last.day.isoformat(), "uuid": _key(last.pk), "customer_key": last.customer_key}

    def run() -> None:
        with connection.cursor() as cursor:
            for statement in statements:
                cursor.execute(statement, values)
                cursor.fetchall()

    return run


def search_of(asked: Asked, firm: Firm) -> Found:
    search = search_in(firm, asked.query, findings=True)
    return found_in(firm, search.wanted(), order=search.order_of())


def ours(asked: Asked, firm: Firm, last: Treatment | None) -> Callable[[], None]:
    """What our search asks of the database, and nothing else of it."""
    statements: list[Statement] = []

    def keep(execute: Any, sql: str, params: Any, many: bool, context: Any) -> Any:
        statements.append((sql, params))
        return execute(sql, params, many, context)

    with connection.execute_wrapper(keep):
        search = search_in(firm, asked.query, findings=True)
        found = found_in(firm, search.wanted(), order=search.order_of())
        list(page_after(found.treatments, last, search.order_of()).only(*LINE)[: PAGE + 1])
        if not found.slow:
            found.count()

    def run() -> None:
        with connection.cursor() as cursor:
            for statement in statements:
                cursor.execute(*statement)
                cursor.fetchall()

    return run


def page_of(asked: Asked, member: Membership, last: Treatment | None) -> Callable[[], None]:
    client = Client(headers={"host": "localhost"})
    client.force_login(member.user)
    query = {**asked.query, **({"after": str(last.pk)} if last else {})}

    def run() -> None:
        if client.get(reverse("register"), query).status_code != 200:
            raise AssertionError(asked.name)

    return run


def deep_in(asked: Asked, firm: Firm) -> Treatment | None:
    """A row far down the page's order, for a page that is deep."""
    if not asked.after:
        return None
    search = search_in(firm, asked.query, findings=True)
    found = treatments_of(firm, search.wanted(), order=search.order_of())
    return found[found.order_by().count() * 2 // 3]


def milliseconds(*functions: Callable[[], None]) -> list[float]:
    """The medians of rounds that take turns, after one that warms up."""
    took: list[list[float]] = [[] for _ in functions]
    for _round in range(ROUNDS + 1):
        for each, function in zip(took, functions, strict=True):
            start = perf_counter()
            function()
            each.append((perf_counter() - start) * 1000)
    return [median(each[1:]) for each in took]


def filled(count: int) -> Membership:
    """The manager of a firm of so many, which may be there from an earlier run."""
    name = f"Firm of {count}"
    if there := Membership.across_firms.filter(firm__name=name).first():
        return there
    member = MembershipFactory(role="manager", firm__name=name)
    fill(member, count)
    with connection.cursor() as cursor:
        cursor.execute("ANALYZE")
    return member


def main() -> None:
    many = int(sys.argv[1])
    call_command("migrate", verbosity=0)
    members = [filled(count) for count in (FEW_ROWS, many)]
    print(f"| page of {PAGE} | its SQL | by hand | ratio | whole page | in {FEW_ROWS:,} | ratio |")
    print("| --- | ---: | ---: | ---: | ---: | ---: | ---: |")
    for asked in PAGES:
        few, large = (deep_in(asked, member.firm) for member in members)
        firm = members[1].firm
        sql, hand = milliseconds(ours(asked, firm, large), by_hand(asked, firm, large))
        whole, small = milliseconds(page_of(asked, members[1], large), page_of(asked, members[0], few))
        print(
            f"| {asked.name} | {sql:.1f} ms | {hand:.1f} ms | {sql / hand:.2f} "
            f"| {whole:.0f} ms | {small:.0f} ms | {whole / small:.2f} |",
            flush=True,
        )


def _key(uuid: Any) -> Any:
    return uuid if connection.features.has_native_uuid_field else uuid.hex


if __name__ == "__main__":
    main()

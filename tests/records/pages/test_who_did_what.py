"""Who did what, as a manager finds it: order, search, pages by key, the file."""

import csv
from datetime import UTC, datetime, timedelta
from io import StringIO

import pytest
from django.urls import get_resolver, reverse

from records.auditing.page_words import said_page
from records.document.edits import Edit
from records.models import AuditEntry
from records.pages.who_did_what import PAGE
from records.services.audit import Kind, Thing, change, note
from records.services.drafts import edit_draft
from shared import clock

NOON = datetime(2026, 9, 14, 19, 0, tzinfo=UTC)
MOST_QUERIES = 7


@pytest.fixture(autouse=True)
def signed_in(client, colleague) -> None:
    client.force_login(colleague.user)


@pytest.fixture
def noted(firm, member):
    """Adds entries about things of this name, an hour after one another."""

    def add(*names: str, **more) -> list[AuditEntry]:
        made = []
        for hours, name in enumerate(names):
            with clock.at(NOON + timedelta(hours=hours)):
                values = {"firm": firm, "by": member.user, "kind": Kind.CHANGED} | more
                made.append(note(values.pop("kind"), Thing("records.site", f"id-{name}", name), **values))
        return made

    return add


def names(client, **query) -> list[str]:
    page = client.get(reverse("audit"), query)
    assert page.status_code == 200
    return [each.entry.thing_name for each in page.context["entries"] if each.entry.thing == "records.site"]


def test_the_newest_stands_first_also_where_it_was_entered_before(client, noted):
    noted("evening", kind=Kind.REMOVED)
    with clock.at(NOON):
        noted("one", "two", "three")
    assert names(client, kind="changed") == ["three", "two", "one"]


def test_pages_go_on_where_the_last_one_ended_and_show_each_entry_once(client, noted):
    all_ = [f"n{number}" for number in range(PAGE + 3)]
    noted(*all_)
    noted(all_[-1])
    found, after = [], {}
    for _ in range(2):
        page = client.get(reverse("audit"), {"thing": "records.site"} | after)
        found += [each.entry.thing_name for each in page.context["entries"]]
        after = {"after": page.context["after"]}
    assert after == {"after": None}
    backwards = all_[::-1]
    earliest = all_[0]
    assert sorted(found) == sorted([*all_, all_[-1]])
    assert (found[0], found[-2:].count(earliest)) == (backwards[0], 1)


@pytest.mark.parametrize(
    "query",
    [
        {"about": "heron"},
        {"about": "id-House, 4 Heron Row"},
        {"person": "r. osei", "kind": "changed"},
        {"words": "señal"},
        {"words": 'the "old" one'},
        {"words": "moved away"},
        {"words": "?customer=lark"},
        {"thing": "records.site", "day_from": "2026-09-14", "day_to": "2026-09-14"},
    ],
)
def test_a_search_finds_what_fits_and_nothing_else(client, noted, colleague, query):
    noted(
        "House, 4 Heron Row",
        changes=[change("city", 'the "old" one', "Señal Bay")],
        reason="moved away",
        page="treatments/?customer=lark",
    )
    with clock.at(NOON):
        noted()
    late = NOON + timedelta(hours=12)
    with clock.at(late):
        note(Kind.REMOVED, Thing("records.site", "x", "Shop"), firm=colleague.firm, by=colleague.user)
    assert names(client, **query) == ["House, 4 Heron Row"]


def test_a_day_is_one_of_the_firm_s_clock(client, firm, noted):
    """Noon in Greenwich plus twelve hours is still the afternoon of the 14th in Seattle."""
    noted(*[f"{hours}" for hours in range(13)])
    assert names(client, day_from="2026-09-15") == ["12"]
    assert names(client, day_to="2026-09-14", about="1") == ["11", "10", "1"]


def test_a_search_that_can_t_be_read_is_said_and_kept(client, noted):
    page = client.get(reverse("audit"), {"day_from": "yesterday"})
    assert "There is a problem" in page.content.decode()
    assert 'value="yesterday"' in page.content.decode()
    for after in ("x", "9" * 30, "-1"):
        assert client.get(reverse("audit"), {"after": after}).status_code == 200


def test_a_page_tells_both_times_old_and_new_and_why_in_both_languages(client, draft, member):
    with clock.at(NOON):
        edit_draft(draft, [Edit("1", "record.result", "treated", draft.revision)], member.user)
    where = reverse("audit") + f"?about={draft.number}&kind=changed"
    english = client.get(where).content.decode()
    for words in ("2026, 12:00", "2026, 19:00 UTC", "R. Osei", "Result", "nothing", "treated"):
        assert words in english
    spanish = client.get(where, headers={"Accept-Language": "es"}).content.decode()
    for words in ("Quién hizo qué", "Valores cambiados", "Resultado", "nada", "tratado"):
        assert words in spanish


def test_another_firms_entries_are_not_found(client, noted, stranger):
    noted("Ours")
    client.force_login(stranger.user)
    assert names(client, about="Ours") == []
    ours = AuditEntry.objects.for_firm(noted("Ours")[0].firm).first()
    assert names(client, after=ours.pk) == []


def rows(answer) -> list[dict[str, str]]:
    text = b"".join(answer.streaming_content).decode("utf-8-sig")
    return list(csv.DictReader(StringIO(text, newline="")))


def test_the_file_holds_what_the_search_finds_and_is_noted(client, firm, noted, colleague):
    noted("House, 4 Heron Row", "Shop", changes=[change("city", None, "Señal\nBay")], reason="=1+1")
    answer = client.get(reverse("audit_file"), {"about": "heron"})
    (row,) = rows(answer)
    assert row["when (UTC)"] == "2026-09-14T19:00:00+00:00"
    assert row["when (local)"] == "2026-09-14T12:00:00-07:00"
    assert row["who"] == "R. Osei"
    assert row["old and new"] == '{"city": [{"member": "city", "new": "Señal\\nBay", "old": null}]}'
    assert row["reason"] == "'=1+1"
    taken = AuditEntry.objects.for_firm(firm).get(kind="exported")
    assert (taken.by, taken.page) == (colleague.user, "audit/entries.csv?about=heron")


def test_the_file_of_everything_holds_every_entry_in_the_reader_s_language(client, firm, draft):
    answer = client.get(reverse("audit_file"), headers={"Accept-Language": "es"})
    found = rows(answer)
    assert len(found) == AuditEntry.objects.for_firm(firm).count()
    assert found[0]["qué se hizo"] == "Sacado como archivo"
    assert client.get(reverse("audit_file"), {"day_to": "x"}).status_code == 400


@pytest.mark.parametrize("name", ["audit", "audit_file"])
@pytest.mark.parametrize("role", ["crew", "office", "inspector"])
def test_only_a_manager_sees_who_did_what(client, member, name, role):
    member.role = role
    member.save()
    client.force_login(member.user)
    assert client.get(reverse(name)).status_code == 403


def test_a_manager_finds_the_way_there_and_others_see_no_link(client, draft, member):
    here = reverse("treatment", kwargs={"uuid": draft.pk})
    link = f"{reverse('audit')}?about={draft.number}"
    assert link in client.get(here).content.decode()
    assert reverse("audit") in client.get(reverse("account")).content.decode()
    client.force_login(member.user)
    assert reverse("audit") not in client.get(here).content.decode()


def test_a_long_list_costs_no_more_queries_than_a_short_one(client, noted, django_assert_max_num_queries):
    noted(*[f"n{number}" for number in range(PAGE + 3)])
    with django_assert_max_num_queries(MOST_QUERIES):
        names(client)


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("left;=1+1", "left;'=1+1"),
        ('left; "=1+1"', "left; \"'=1+1\""),
        ("left\t@SUM(A1)", "left\t'@SUM(A1)"),
        ("left\n-1", "left\n'-1"),
        (" +1", " '+1"),
        ("\tx", "'\tx"),
        ("a=b; c-d", "a=b; c-d"),
    ],
)
def test_no_cell_of_the_file_is_a_formula_wherever_a_spreadsheet_divides_it(client, noted, typed, kept):
    noted("House", reason=typed)
    (row,) = rows(client.get(reverse("audit_file"), {"about": "House"}))
    assert row["reason"] == kept


def test_the_page_that_was_seen_is_said_in_words_and_what_a_phone_fetched_to_keep_it_as_that(client, draft):
    client.get(reverse("medical", kwargs={"uuid": draft.pk}), headers={"Sec-Fetch-Mode": "cors"})
    client.get(reverse("section", kwargs={"uuid": draft.pk, "section": "mix"}))
    client.get(reverse("register"), {"customer": "heron"})
    english = client.get(reverse("audit")).text
    of_the_form, of_the_register = f"Crew&#x27;s form {draft.number}", "Register, searched for: customer=heron"
    for words in (of_the_form, of_the_register, "kept on a device"):
        assert words in english
    assert "slug:section" not in english
    answer = client.get(reverse("audit_file"), headers={"Accept-Language": "es"})
    found = {row["dirección"]: (row["página"], row["motivo"]) for row in rows(answer)}
    assert found["treatments/<uuid:uuid>/medical/"] == (
        f"Ficha médica {draft.number}",
        "guardado en un dispositivo",
    )
    assert found["treatments/<uuid:uuid>/form/<slug:section>/"] == (
        f"Formulario de la cuadrilla {draft.number}",
        "",
    )


def routes(patterns, before="") -> list[str]:
    found = []
    for each in patterns:
        route = before + str(each.pattern)
        found += routes(each.url_patterns, route) if hasattr(each, "url_patterns") else [route]
    return found


def test_every_page_of_the_service_has_words_of_its_own():
    of_the_phone = ("service-worker.js", "manifest", "no-answer/", "not-kept/")
    not_pages = ("^", "health/", "favicon.ico", "language/", *of_the_phone)
    ours = [route for route in routes(get_resolver().url_patterns) if not route.startswith(not_pages)]
    assert len(ours) > 50
    assert not [route for route in ours if said_page(f"GET {route}", "") == f"GET {route}"]

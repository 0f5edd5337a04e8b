"""That there is none, and that nobody has said: two answers, told apart on form, draft and record."""

import json
import re

import pytest
from django.template.loader import render_to_string
from django.urls import reverse

from records.document.edits import Edit
from records.models import Treatment
from records.services.drafts import edit_draft


@pytest.fixture(autouse=True)
def signed_in(client, member) -> None:
    client.force_login(member.user)


def section_of(draft: Treatment, slug: str) -> str:
    return reverse("section", kwargs={"uuid": draft.pk, "section": slug})


def tick(client, draft: Treatment, slug: str, path: str, ticked: bool) -> None:
    was = "" if ticked else "none"
    data = {"base_revision": str(draft.revision), "form": "page", f"was:{path}": json.dumps([was])}
    client.post(section_of(draft, slug), data | ({f"v:{path}": "none"} if ticked else {}))
    draft.refresh_from_db()


@pytest.mark.parametrize(
    ("slug", "path"),
    [
        ("arrive", "permits"),
        ("protect", "notices"),
        ("protect", "postings"),
        ("protect", "protection"),
        ("after", "incidents"),
    ],
)
def test_a_tick_says_that_there_is_none_and_takes_it_back(client, draft, slug, path):
    assert path not in draft.document
    tick(client, draft, slug, path, ticked=True)
    assert draft.document[path] == []
    tick(client, draft, slug, path, ticked=False)
    assert path not in draft.document


def test_a_list_that_loses_its_last_item_says_nothing_any_more(client, draft, member):
    item = "0b6f3c1e-7a55-4c33-9a53-0a6c1f5d2b11"
    edit_draft(draft, [Edit("add", f"incidents[{item}]", {"kind": "spill"}, draft.revision)], member.user)
    client.post(
        section_of(draft, "after"), {"base_revision": str(draft.revision), "remove": f"incidents[{item}]"}
    )
    draft.refresh_from_db()
    assert "incidents" not in draft.document


def test_a_permits_number_is_entered_with_the_plan(client, draft):
    client.post(section_of(draft, "arrive"), {"base_revision": str(draft.revision), "add": "permits"})
    draft.refresh_from_db()
    fields = {"number": "SAMPLE-12-2", "authority": "de-by"}
    data = {f"v:permits[0].{name}": typed for name, typed in fields.items()}
    data |= {f"was:permits[0].{name}": '[""]' for name in fields}
    client.post(section_of(draft, "arrive"), {"base_revision": str(draft.revision), "form": "p", **data})
    draft.refresh_from_db()
    assert draft.document["permits"] == [fields]


@pytest.mark.parametrize(("value", "says"), [(None, "Not recorded"), ([], "None")])
def test_the_sign_page_tells_none_from_not_recorded(client, draft, member, value, says):
    edit_draft(draft, [Edit("none", "incidents", value, draft.revision)], member.user)
    page = client.get(reverse("sign", kwargs={"uuid": draft.pk})).content.decode()
    assert re.search(rf"Anything that went wrong</h3>\s*<p class=\"quiet\">{says}</p>", page)


@pytest.mark.parametrize(("value", "says"), [(None, "Not recorded"), ([], "None")])
def test_the_record_s_facts_tell_none_from_not_recorded(client, done, member, value, says):
    edit_draft(done, [Edit("none", "incidents", value, done.revision)], member.user)
    page = render_facts(done)
    assert f"<dt>Incidents</dt><dd>{says}</dd>" in page


def render_facts(treatment: Treatment) -> str:
    return render_to_string("records/facts.html", {"document": treatment.document})


def test_the_record_s_facts_tell_pauses_and_what_was_left_over(done, member):
    at = {"started_at": "2026-09-14T09:20:00-07:00", "finished_at": "2026-09-14T09:25:00-07:00"}
    pauses = [{"id": "0a6c1f5d-2b11-4f7e-9a53-0000000000aa", **at, "note": "gust"}]
    left = {"amount": {"value": "2", "unit": "gal"}, "disposition": "none"}
    mix = done.document["mixes"][0]["id"]
    edits = [
        Edit("p", "timing.pauses", pauses, done.revision),
        Edit("l", f"mixes[{mix}].left_over", left, done.revision),
    ]
    edit_draft(done, edits, member.user)
    page = render_facts(done)
    assert re.search(r"<dt>Pauses</dt><dd>[^<]*09:20 – [^<]*09:25: gust", page)
    assert re.search(r"<br>Left over: 2 gal, [^<]+</dd>", page)

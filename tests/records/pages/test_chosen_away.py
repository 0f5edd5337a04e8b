"""Rows that a device chose by itself: the service writes them, once, as they are on the day of the choice."""

import json
from datetime import date

import pytest
import time_machine
from django.urls import reverse

from records.document.edits import Edit
from records.forms.kept_choices import shown_as
from records.models import Treatment
from records.reference import person_part, product_part
from records.services.drafts import edit_draft
from tests.factories import LabelVersionFactory, PersonFactory
from tests.records.services.test_drafts import reread

NOON = "2026-09-14T12:00:00-07:00"
TODAY = date(2026, 9, 14)


@pytest.fixture(autouse=True)
def noon(client, member):
    client.force_login(member.user)
    with time_machine.travel(NOON, tick=False):
        yield


@pytest.fixture
def lichen(firm):
    return LabelVersionFactory(firm=firm, product__name="Sample Lichen Wash").product


def choice(path: str, shown: object = "", on: str = "2026-09-14", id_: str = "one") -> dict[str, str]:
    return {"choose": json.dumps({"path": path, "id": id_, "on": on, "as": shown})}


def send(client, draft: Treatment, slug: str, **fields: str):
    address = reverse("section", kwargs={"uuid": draft.pk, "section": slug})
    page = {"base_revision": str(draft.revision), "form": "f"}
    return client.post(address, {**page, **fields}, headers={"HX-Request": "true"})


def into(draft: Treatment, product) -> str:
    return f"mixes[{draft.document['mixes'][0]['id']}].products[{product.pk}]"


def lines_of(draft: Treatment) -> list[dict]:
    return reread(draft).document["mixes"][0]["products"]


def test_a_product_is_written_as_its_row_says_with_what_was_typed_into_it(client, draft, lichen):
    path = into(draft, lichen)
    answer = send(
        client, draft, "mix",
        **choice(path, shown_as(product_part(lichen, None, TODAY))),
        **{f"was:{path}.lot": '[""]', f"v:{path}.lot": "L-9"},
    )  # fmt: skip
    assert lines_of(draft)[1] == product_part(lichen, None, TODAY) | {"lot": "L-9"}
    assert "data-taken" in answer.text
    assert "reference data were changed" not in answer.text


def test_sent_twice_it_is_written_once_and_not_again_after_it_was_removed(client, draft, lichen, member):
    path = into(draft, lichen)
    for _ in range(2):
        send(client, draft, "mix", **choice(path))
    assert len(lines_of(draft)) == 2
    now = reread(draft)
    edit_draft(now, [Edit("away", path, None, now.revision)], member.user)
    send(client, draft, "mix", **choice(path))
    assert len(lines_of(draft)) == 1
    send(client, now, "mix", **choice(path, id_="chosen once more"))
    assert len(lines_of(draft)) == 2


@pytest.mark.parametrize(("on", "version"), [("2026-09-10", "2025-03"), ("2026-09-14", "2026-09")])
def test_it_is_the_label_of_the_day_on_which_it_was_chosen(client, draft, firm, lichen, on, version):
    LabelVersionFactory(firm=firm, product=lichen, version="2026-09", valid_from=date(2026, 9, 12))
    send(client, draft, "mix", **choice(into(draft, lichen), on=on))
    assert lines_of(draft)[1]["label"]["version"] == version


@pytest.mark.parametrize("on", ["2026-08-30", "2026-09-15", "yesterday"])
def test_a_day_on_which_no_device_can_have_been_away_is_today(client, draft, firm, lichen, on):
    LabelVersionFactory(firm=firm, product=lichen, version="2026-09", valid_from=TODAY)
    send(client, draft, "mix", **choice(into(draft, lichen), on=on))
    assert lines_of(draft)[1]["label"]["version"] == "2026-09"


def test_a_row_that_says_something_else_by_now_is_told_of(client, draft, firm):
    helper = PersonFactory(firm=firm, name="T. Alder")
    kept = shown_as(person_part(helper, TODAY))
    helper.phone = "+1 360 555 0177"
    helper.save()
    answer = send(client, draft, "arrive", **choice(f"people[{helper.pk}]", kept))
    assert "T. Alder: the reference data were changed" in answer.text
    assert reread(draft).document["people"][1]["phone"] == "+1 360 555 0177"


def test_what_is_no_row_of_the_firm_is_not_written_and_said(client, draft, stranger):
    answer = send(client, draft, "arrive", **choice(f"people[{stranger.person.pk}]"))
    assert "was not added" in answer.text
    assert "data-taken" not in answer.text
    assert len(reread(draft).document["people"]) == 1


def test_who_was_taken_out_by_somebody_else_meanwhile_is_not_written_again(client, draft, firm, colleague):
    helper = PersonFactory(firm=firm, name="T. Alder")
    path, before = f"people[{helper.pk}]", reread(draft)
    for value in (person_part(helper, TODAY), None):
        now = reread(draft)
        edit_draft(now, [Edit(f"edit-{now.revision}", path, value, now.revision)], colleague.user)
    answer = send(client, before, "arrive", **choice(path))
    assert "was not added" in answer.text
    assert len(reread(draft).document["people"]) == 1


@pytest.mark.parametrize(
    "told",
    [
        *("", "[]", '{"path": 1}', "{", '{"path": "notes", "id": "", "on": "", "as": ""}'),
        r'{"path": "people[6e1f6d1c-4dc5-4df9-9b86-3f6a0b1b7a10]", "id": "\ud800", "on": "", "as": ""}',
    ],
)
def test_what_is_no_choice_changes_nothing(client, draft, told):
    assert send(client, draft, "mix", choose=told).status_code == 200
    assert reread(draft).revision == draft.revision


def test_an_item_that_is_written_from_a_row_is_not_begun_empty(client, draft):
    path = "people[0b6f3c1e-7a55-4c33-9a53-0a6c1f5d2b11]"
    send(client, draft, "arrive", **{"begin": path, f"was:{path}.name": '[""]', f"v:{path}.tasks": "hose"})
    assert len(reread(draft).document["people"]) == 1


def test_rows_to_choose_from_are_kept_as_long_as_a_treatment_is(client, draft, stranger):
    def kept() -> list[str]:
        return [page["address"] for page in client.get(reverse("to_keep")).json()["pages"]]

    assert reverse("choices") in kept()
    rows = client.get(reverse("choices")).json()
    assert [row["name"] for row in rows["labels"]] == ["Sample Moss Wash"]
    client.force_login(stranger.user)
    assert reverse("choices") not in kept()


def test_what_a_colleague_has_typed_into_the_same_row_meanwhile_stays(client, draft, lichen, colleague):
    path, before = into(draft, lichen), reread(draft)
    theirs = product_part(lichen, None, TODAY) | {"lot": "L-8"}
    edit_draft(reread(draft), [Edit("theirs", path, theirs, before.revision)], colleague.user)
    answer = send(client, before, "mix", **choice(path), **{f"was:{path}.lot": '[""]', f"v:{path}.lot": "L-9"})
    assert lines_of(draft)[1]["lot"] == "L-8"
    assert "Mine: L-9" in answer.text
    assert "data-taken" in answer.text

"""A mix that a device has begun by itself: one mix, whole, whichever of its entries comes in first."""

import json
from dataclasses import replace
from datetime import timedelta
from itertools import permutations

import pytest
import time_machine
from django.urls import reverse

from records.document.edits import Edit
from records.forms.draw import mix_of_left_over
from records.forms.kept_choices import shown_as
from records.models import Membership, Treatment
from records.pages.setting import setting_of
from records.reference import product_part
from records.services.drafts import edit_draft
from records.services.planning import plan_treatment
from records.tanks_at_hand import tanks_at_hand
from tests.factories import BatchFactory, LabelVersionFactory
from tests.records.pages.test_chosen_away import NOON, TODAY, choice, into
from tests.records.services.test_drafts import reread

MIX = "mixes[0b6f3c1e-7a55-4c33-9a53-0a6c1f5d2b11]"
LOAD = f"{MIX}.loads[0b6f3c1e-7a55-4c33-9a53-0a6c1f5d2b12]"


@pytest.fixture(autouse=True)
def noon(client, member):
    client.force_login(member.user)
    with time_machine.travel(NOON, tick=False):
        yield


@pytest.fixture
def kept(firm, member, plan) -> Membership:
    """The day before one gallon was kept. Who kept it."""
    before = plan_treatment(firm, member.user, replace(plan, planned_at=plan.planned_at - timedelta(days=1)))
    left = {"amount": {"value": "1", "unit": "gal"}, "disposition": "kept-labelled-for-next-treatment"}
    path = f"mixes[{before.document['mixes'][0]['id']}].left_over"
    edit_draft(before, [Edit("left", path, left, before.revision)], member.user)
    return member


@pytest.fixture
def lichen(firm):
    return LabelVersionFactory(firm=firm, product__name="Sample Lichen Wash").product


def send(client, draft: Treatment, slug: str, begins: list[str], **fields: str):
    """As a phone sends one entry: on the revision that its page was kept at."""
    address = reverse("section", kwargs={"uuid": draft.pk, "section": slug})
    page = {"base_revision": str(draft.revision), "form": slug, "begin": begins}
    return client.post(address, {**page, **fields}, headers={"HX-Request": "true"})


def amount(path: str, value: str) -> dict[str, str]:
    return {f"was:{path}": '["", "gal"]', f"v:{path}": value, f"u:{path}": "gal"}


def second_mix(draft: Treatment) -> dict:
    (_planned, mix) = reread(draft).document["mixes"]
    return mix


def entries(lichen) -> list[tuple[str, list[str], dict[str, str]]]:
    line = f"{MIX}.products[{lichen.pk}]"
    return [
        ("mix", [MIX], choice(line)),
        ("mix", [MIX], {**choice(line), f"was:{line}.lot": '[""]', f"v:{line}.lot": "L-9"}),
        ("mix", [MIX], amount(f"{MIX}.diluent.amount", "9")),
        ("mix", [MIX, LOAD], amount(f"{LOAD}.volume", "10")),
        ("spray", [MIX], amount(f"{MIX}.applied", "8")),
        ("after", [MIX], amount(f"{MIX}.left_over.amount", "2")),
    ]


@pytest.mark.parametrize("order", list(permutations(range(6)))[::239])
def test_it_is_the_same_mix_whichever_entry_comes_first_and_how_often(client, draft, lichen, order):
    told = entries(lichen)
    for slug, begins, fields in [*(told[at] for at in order), *told]:
        answer = send(client, draft, slug, begins, **fields)
        assert "conflict" not in answer.text
        assert "was not added" not in answer.text
    assert second_mix(draft) == {
        "id": MIX[6:-1],
        "products": [product_part(lichen, None, TODAY) | {"lot": "L-9"}],
        "diluent": {"amount": {"value": "9", "unit": "gal"}},
        "loads": [{"id": LOAD[-37:-1], "volume": {"value": "10", "unit": "gal"}}],
        "applied": {"value": "8", "unit": "gal"},
        "left_over": {"amount": {"value": "2", "unit": "gal"}},
    }


def test_a_tank_is_drawn_from_for_it(client, draft, plan, firm):
    batch = BatchFactory(firm=firm, rig=plan.rig)
    told = {"path": MIX, "key": str(batch.pk), "amount": {"value": "12", "unit": "gal"}, "id": "one"}
    send(client, draft, "mix", [MIX], **{"draw-away": json.dumps(told)})
    mix = second_mix(draft)
    assert mix["loads"] == [{"volume": {"value": "12", "unit": "gal"}, "batch": str(batch.pk)}]
    assert mix["diluent"]["amount"] == {"value": "10.8", "unit": "gal"}


def test_one_into_which_nothing_is_put_is_not_begun(client, draft, lichen):
    send(client, draft, "mix", [MIX], **choice(into(draft, lichen)))
    assert len(reread(draft).document["mixes"]) == 1


def test_one_that_was_removed_since_does_not_come_back(client, draft, lichen, member):
    told = choice(f"{MIX}.products[{lichen.pk}]")
    send(client, draft, "mix", [MIX], **told)
    now = reread(draft)
    edit_draft(now, [Edit("away", MIX, None, now.revision)], member.user)
    send(client, draft, "mix", [MIX], **told)
    assert len(reread(draft).document["mixes"]) == 1


def test_where_the_work_is_written_down_no_person_is_begun(client, draft):
    person = "people[0b6f3c1e-7a55-4c33-9a53-0a6c1f5d2b13]"
    send(client, draft, "after", [person], **amount(f"{person}.positions", "8"))
    assert len(reread(draft).document["people"]) == 1


@pytest.mark.parametrize("order", [("mix", "spray"), ("spray", "mix")])
def test_a_left_over_is_a_mix_of_its_own_from_whichever_screen_it_is_told_first(client, draft, kept, order):
    (tank,) = tanks_at_hand(draft)
    mix = mix_of_left_over(tank.key, setting_of(draft, kept))
    path = f"mixes[{mix['id']}]"
    told = {"path": path, "id": "one", "on": "", "as": shown_as(mix), "key": tank.key}
    fields = {"mix": {}, "spray": amount(f"{path}.applied", "1")}
    for slug in (*order, *order):
        answer = send(client, draft, slug, [], choose=json.dumps(told), **fields[slug])
        assert "data-taken" in answer.text
        assert "conflict" not in answer.text
        assert "<p" not in answer.text.partition('id="rows-told"')[2].partition("</div>")[0]
    assert second_mix(draft) == mix | {"applied": {"value": "1", "unit": "gal"}}


def test_what_is_no_left_over_becomes_no_mix(client, draft):
    told = {"path": MIX, "id": "one", "on": "", "as": "", "key": "none at all"}
    answer = send(client, draft, "mix", [], choose=json.dumps(told))
    assert "was not added" in answer.text
    assert len(reread(draft).document["mixes"]) == 1

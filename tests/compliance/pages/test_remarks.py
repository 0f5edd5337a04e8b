"""Where on the form a finding stands, and how it is told apart."""

import re

import pytest
from django.urls import reverse

from compliance.pages.remarks import remark_of
from records.document.edits import Edit
from records.forms.sections import SECTIONS
from records.pages.remarks import Remark, Source, said_once
from records.services.drafts import edit_draft

READING = "0b6f3c1e-7a55-4c33-9a53-0a6c1f5d2b11"


@pytest.fixture(autouse=True)
def signed_in(client, member) -> None:
    client.force_login(member.user)


def form(client, treatment, section: str) -> str:
    where = reverse("section", kwargs={"uuid": treatment.pk, "section": section})
    return client.get(where).content.decode()


def take_a_reading(draft, member, speed: str) -> None:
    reading = {"at": "2026-09-14T09:05:00-07:00", "wind_speed": {"value": speed, "unit": "mph"}}
    edit = Edit(speed, f"weather.readings[{READING}]", reading, draft.revision)
    edit_draft(draft, [edit], member.user)


@pytest.mark.parametrize("section", ["weather", "spray"])
def test_too_much_wind_is_not_met_beside_the_wind_speed(client, draft, member, section):
    take_a_reading(draft, member, "14")
    page = form(client, draft, section)
    assert (
        'class="remark not_met"' in page.partition(f'id="r-weather-readings-{READING}-wind-speed"')[2][:200]
    )


def test_nothing_is_said_of_the_value_before_beside_an_entry_that_could_not_be_read(client, draft, member):
    take_a_reading(draft, member, "14")
    edit = Edit("odd", f"weather.readings[{READING}].wind_speed", "4-6", draft.revision)
    edit_draft(draft, [edit], member.user)
    page = form(client, draft, "weather").partition(f'id="r-weather-readings-{READING}-wind-speed"')[2]
    assert 'class="remark ' not in page[:200]


def test_wind_within_the_limit_has_no_remark(client, draft, member):
    take_a_reading(draft, member, "4")
    page = form(client, draft, "weather")
    assert "not_met" not in page.partition(f'id="r-weather-readings-{READING}-wind-speed"')[2][:200]


def test_what_is_not_due_yet_is_still_to_do(client, draft):
    page = form(client, draft, "spray")
    assert '<span class="state">Still to do:</span>' in page
    assert '<span class="state">Not met:</span>' not in page


def test_what_is_missing_after_the_work_is_not_met(client, done):
    page = form(client, done, "weather")
    assert '<span class="state">Not met:</span>' in page


@pytest.mark.parametrize("section", [each.slug for each in SECTIONS])
def test_the_limits_in_force_stand_on_every_page_of_the_form(client, draft, section):
    page = form(client, draft, section)
    assert "Limits in force" in page
    assert "at most 10 mph" in page
    assert "label of Sample Moss Wash, 2025-03" in page


@pytest.mark.parametrize(
    ("section", "own"), [("weather", True), ("spray", True), ("mix", False), ("after", False)]
)
def test_a_page_shows_its_own_limits_and_folds_the_others(client, draft, section, own):
    limits = form(client, draft, section).partition('id="limits"')[2].partition("</section>")[0]
    assert ("at most 10 mph" in limits.partition("<details>")[0]) is own


def test_a_limit_that_two_products_set_alike_stands_once(client, draft):
    limits = client.get(reverse("treatment", kwargs={"uuid": draft.pk})).context["limits"]
    assert len(limits) == len(set(limits))


def test_the_page_says_what_the_label_asks_to_wear(client, draft, member):
    mix = draft.document["mixes"][0]
    path = f"mixes[{mix['id']}].products[{mix['products'][0]['id']}].label.ppe"
    edit_draft(draft, [Edit("ppe", path, ["gloves", "goggles"], draft.revision)], member.user)
    assert "The label asks for: chemical-resistant gloves, goggles." in form(client, draft, "arrive")


def test_a_remark_stands_in_one_section_s_count_only(client, draft):
    page = client.get(reverse("treatment", kwargs={"uuid": draft.pk}))
    counted = sum(task.not_met + task.to_do for task in page.context["tasks"])
    shown = "".join(form(client, draft, task.section.slug) for task in page.context["tasks"])
    open_there = len(re.findall(r'class="remark (?:not_met|cant_tell|to_do(?: advised)?)"', shown))
    assert 0 < counted <= open_there


def finding(message: str, bound: object) -> dict[str, object]:
    said = {"en": message, "es": message}
    return {
        "about": ["mixes[0].applied"], "outcome": "cant_tell", "wording": "missing", "blanks": {},
        "message": said, "title": {"en": "Coverage", "es": "Cobertura"}, "doubt": None, "level": "required",
        "cite": "label of Sample Moss Wash, 2025-03", "bound": bound,
    }  # fmt: skip


def test_what_is_asked_for_is_said_with_its_source_where_the_sentence_leaves_it_out():
    bound = {"min": None, "max": {"value": "1.2", "unit": "gal/(100 ft**2)"}}
    (source,) = remark_of(finding("Say how much was applied.", bound), "es").sources
    assert source.cite == "etiqueta de Sample Moss Wash, 2025-03"
    assert str(source.asks).startswith("Cobertura: ")
    said = finding("It was 2; the label allows 1.2 gal/100 ft².", bound)
    assert remark_of(said, "en").sources[0].asks == ""
    assert remark_of(finding("Twice.", {"min": None, "max": "1"}), "en").sources[0].asks == (
        "Coverage: at most 1"
    )


def test_what_several_rules_say_alike_is_said_once_with_all_who_say_it():
    one = Remark(("a",), "to_do", "Still to do:", "The wind speed.", (Source("Act 1(a)", "Is it so?"),))
    other = Remark(("b",), "to_do", "Still to do:", "The wind speed.", (Source("label", advised=True),))
    (said,) = said_once([one, other, one])
    assert said.words == "The wind speed."
    assert [source.cite for source in said.sources] == ["Act 1(a)", "label"]
    assert not said.advised


def test_a_sentence_that_is_said_again_of_a_person_is_said_of_the_person():
    of_all = Remark(("a",), "to_do", "Still to do:", "Say what was done.", (Source("Act 1(a)"),))
    of_one = Remark(("b",), "to_do", "Still to do:", "R. Osei: Say what was done.", (Source("label"),))
    (said,) = said_once([of_all, of_one])
    assert said.words == "R. Osei: Say what was done."
    assert len(said.sources) == 2


@pytest.mark.parametrize("section", [each.slug for each in SECTIONS])
def test_no_sentence_stands_twice_beside_one_question(client, done, section):
    for place in form(client, done, section).split('class="remarks"')[1:]:
        words = re.findall(r'<span class="state">[^<]*</span>([^<]*)', place)
        assert len(words) == len(set(words))


def test_no_screen_with_something_still_to_do_is_called_clear(client, draft):
    tasks = client.get(reverse("treatment", kwargs={"uuid": draft.pk})).context["tasks"]
    still = [each.section.slug for each in tasks if "remark to_do" in form(client, draft, each.section.slug)]
    clear = [each.section.slug for each in tasks if each.status == "clear"]
    assert "protect" in still
    assert not set(still) & set(clear)


def test_in_spanish_what_is_still_to_do_is_not_called_by_the_word_for_a_slope(client, draft):
    client.cookies["django_language"] = "es"
    page = form(client, draft, "spray")
    assert '<span class="state">Por hacer:</span>' in page
    assert "Pendiente" not in page

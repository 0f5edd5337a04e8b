"""What a notice says, and what it leaves out."""

import pytest

from compliance.own_words import NAMES_AN_APPROVAL, PROMISES_SAFETY, TOO_LONG, faults_of
from compliance.papers.notice import Reader, Terms, content_of, email, phone_script
from compliance.papers.notice.label_words import BLANK
from compliance.rulebook.contents import CODES, Content
from shared.wording import Wording
from tests.compliance.papers.notice.made import ALTERNATES, NEIGHBOUR, UNTIL, crowded, planned, to_neighbours


def test_the_customer_is_not_named_to_others() -> None:
    subject, text = email(to_neighbours())
    assert "Marlowe" not in subject + text + phone_script(to_neighbours())


def test_both_languages_stand_in_one_message_with_the_same_lines() -> None:
    content = to_neighbours()
    english, spanish = content.sides
    assert [line.code for line in english.lines] == [line.code for line in spanish.lines]
    text = email(content)[1]
    assert text.index("Notice of a pesticide treatment") < text.index("Aviso de un tratamiento con pesticida")
    assert "14 de septiembre de 2026" in text


def test_a_date_that_must_be_named_and_is_not_is_a_blank() -> None:
    told = content_of(planned(), NEIGHBOUR, Terms(dates=2), UNTIL, ALTERNATES[:1])
    assert f"September 16, 2026\n  {BLANK}" in email(told)[1]


def test_where_a_law_wants_nothing_else_there_is_nothing_else() -> None:
    place = Content("place", Wording("place", "lugar"))
    own = {"en": "Best wishes"}
    bare = email(content_of(planned(), NEIGHBOUR, Terms([place], nothing_else=True, own_words=own)))[1]
    assert bare == "Where: 4 Heron Row, Port Quill, NY 13900\n"


def test_a_licence_of_another_state_or_year_is_not_told_of() -> None:
    document = planned()
    document["firm"]["licences"][0]["authority"] = "us-or"
    document["people"][0]["licences"][0]["valid_to"] = "2026-09-13"
    assert f"License number: {BLANK}" in email(to_neighbours(document))[1]


def test_of_four_products_each_has_its_number() -> None:
    text = email(to_neighbours(crowded()))[1]
    for number in ("99999-12", "99999-31", "99999-44", "99999-52"):
        assert number in text


def test_a_product_whose_number_is_not_known_has_a_blank_beside_it() -> None:
    document = crowded()
    document["mixes"][0]["products"][0]["registration_number"] = None
    assert f"Sample Moss Wash: {BLANK}" in email(to_neighbours(document))[1]


def test_the_longest_time_on_a_label_counts_and_an_unread_label_leaves_a_blank() -> None:
    reentry = Content("reentry", Wording("re-entry", "reingreso"))

    def said(*limits: object) -> str:
        document = crowded()
        labels = [one["label"] for mix in document["mixes"] for one in mix["products"]]
        for label, stated in zip(labels, limits, strict=True):
            label["limits"] = stated
        return email(to_neighbours(document, contents=[reentry]))[1]

    def hours(count: str) -> list[object]:
        return [{"of": "reentry", "min": {"value": count, "unit": "hour"}}]

    assert "Stay out until: 24 h after the work ends" in said(hours("4"), [], hours("24"), hours("12"))
    assert "Stay out until: The label sets no time." in said([], [], [], [])
    assert f"Stay out until: {BLANK}" in said(hours("4"), [], None, [])


def test_a_notice_that_is_called_off_says_so_and_no_more() -> None:
    subject, text = email(to_neighbours(called_off=True))
    assert subject.startswith("The treatment will not take place: September 14, 2026")
    assert "Sample Moss Wash" not in text
    assert "September 14, 2026" in text


@pytest.mark.parametrize("to", ["customer", "occupant", "neighbour", "registered-person", "agency", "school"])
@pytest.mark.parametrize("language", ["en", "es"])
def test_everybody_who_may_be_told_is_spoken_to(to: str, language: str) -> None:
    content = content_of(planned(), Reader(to), Terms(languages=(language,)), UNTIL)
    (side,) = content.sides
    assert side.greeting.endswith(":")
    assert side.greeting in email(content)[1]
    assert "Quillfeather" in phone_script(content)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("We park on the street and keep the walk clear.", ()),
        ("Our product is safe for pets.", (PROMISES_SAFETY,)),
        ("Harmless when used as directed.", (PROMISES_SAFETY,)),
        ("It is non-toxic to humans and pets.", (PROMISES_SAFETY,)),
        ("It isn't poisonous.", (PROMISES_SAFETY,)),
        ("It won't hurt your dog.", (PROMISES_SAFETY,)),
        ("Es seguro para mascotas.", (PROMISES_SAFETY,)),
        ("No es tóxico.", (PROMISES_SAFETY,)),
        ("EPA approved.", (NAMES_AN_APPROVAL,)),
        ("Recommended by the State.", (NAMES_AN_APPROVAL,)),
        ("EPA-registered means safe.", (PROMISES_SAFETY,)),
        ("w" * 401, (TOO_LONG,)),
        ("w" * 400, ()),
    ],
)
def test_own_words_promise_no_safety(text: str, expected: tuple[Wording, ...]) -> None:
    """40 CFR 156.10(a)(5)(v) and (ix): claims of safety and of an agency's endorsement are misbranding."""
    assert faults_of(text) == expected


def test_no_label_is_the_sentence_that_answers_it() -> None:
    asked = tuple(Content(code, Wording(code, code)) for code in CODES)
    for side in content_of(planned(), NEIGHBOUR, Terms(asked, ("en", "es"))).sides:
        assert [line.code for line in side.lines if line.value and line.label == line.value] == []


def test_what_an_english_label_says_is_a_marked_quote_in_the_spanish_notice_alone() -> None:
    document = planned()
    document["mixes"][0]["products"][0]["label"] |= {"statements": ["Keep people off until dry."]}
    warnings = Content("label_warnings", Wording("warnings", "advertencias"))
    content = content_of(document, NEIGHBOUR, Terms([warnings], ("en", "es")), UNTIL)
    english, spanish = (
        [one.value for one in side.lines if one.code == "label_warnings"] for side in content.sides
    )
    assert english[0].endswith("Keep people off until dry.")
    assert spanish[0].endswith("(en inglés, como en la etiqueta) “Keep people off until dry.”")
    assert [line.label for line in content.quotes] == ["Warnings on the label"]
    assert not content_of(document, NEIGHBOUR, Terms([warnings]), UNTIL).quotes

"""Each notice rule of the packs: what its law asks for stands on the notice, element by element, or as a blank.

The lists here were written from the citations beside them, not from the packs.
"""

import pytest

from compliance.pack_reader import registered_packs
from compliance.papers.notice import Reader, Terms, content_of, email
from compliance.papers.notice.label_words import BLANK
from compliance.rulebook.kinds.notice import Notice
from tests.compliance.papers.notice.made import ALTERNATES, planned, rule_of

SHOWN = {
    "place": "4 Heron Row, Port Quill",
    "date": "September 14, 2026",
    "alternates": "September 16, 2026",
    "time": "about 09:00",
    "products": "Sample Moss Wash",
    "registration_numbers": "99999",
    "active_ingredients": "invented active 38 %",
    "purpose": "against moss on: roof",
    "firm": "Quillfeather Exterior Care, 12 Cooper Lane",
    "applicator": "R. Osei",
    "contact": "+1 360 555 0100",
    "licence": "CO-00231",
    "poison_line": "1-800-222-1222",
    "signal": "signal word WARNING",
    "precautions": "Keep people off until dry.",
    "ask_for_dates": "You may ask us for the exact dates.",
    "registry": "The State keeps a list",
    "statement": "National Pesticides Telecommunications Network at 1-800-858-7378",
    "info line": "1-800-458-1158",
    "reentry": "4 h after the work ends",
}
LAWS: tuple[tuple[str, str, str, str, str], ...] = (
    # rule; law; site; what stands there; blanks that are to be filled in
    ("au-nsw/notice/residents", "Pesticides Regulation 2017, cl 46", "new-south-wales",
     "products purpose date place reentry contact", ""),
    ("ca-bc/notice/multi-residence", "IPM Regulation, s. 10", "british-columbia",
     "place purpose registration_numbers active_ingredients date time alternates applicator contact "
     "precautions reentry", ""),
    ("us-ca/notice/operator", "3 CCR 6618(b)", "california", "date products precautions", ""),
    ("us-co/notice/registered-persons", "C.R.S. 35-10-112(1)(c)(I)", "colorado", "date time", ""),
    ("us-ct/notice/label", "C.G.S. 22a-66a(a)", "connecticut",
     "registry products registration_numbers active_ingredients signal precautions reentry",
     "Manufacturer|Emergency telephone|Emergency treatment"),
    ("us-ct/notice/label-resident", "C.G.S. 22a-66a(a)", "connecticut",
     "registry products registration_numbers active_ingredients signal precautions reentry",
     "Manufacturer|Emergency telephone|Emergency treatment"),
    ("us-ct/notice/registered-abutters", "C.G.S. 22a-66a(b)", "connecticut", "time date", ""),
    ("us-ct/notice/asking-abutters", "C.G.S. 22a-66a(b)", "connecticut", "time date", ""),
    ("us-fl/notice/registered-persons", "F.S. 482.2267", "florida", "place products", ""),
    ("us-ma/notice/turf-completion", "333 CMR 13.06(1)(c)", "massachusetts",
     "applicator licence products registration_numbers purpose precautions date time", ""),
    ("us-md/notice/customer", "Md. Code, Agriculture 5-208(a)", "maryland",
     "firm licence contact active_ingredients precautions poison_line", ""),
    ("us-ny/notice/neighbors", "ECL 33-1005*2(3)(a)", "new-york",
     "place applicator contact licence date alternates products registration_numbers statement", ""),
    ("us-ny/notice/owner", "ECL 33-1001(1), (2)", "new-york",
     "date ask_for_dates products active_ingredients signal firm contact licence",
     "Number of applications|Total cost"),
    ("us-wa/notice/registered", "RCW 17.21.430(1)", "september", "date time", ""),
    ("us-wi/notice/landscape-offer", "ATCP 29.56(2)(b)", "wisconsin",
     "products date contact", "Copy of each label (to be enclosed)"),
    ("us-wi/notice/residents", "ATCP 29.55(3)(a)", "wisconsin", "applicator firm contact", ""),
)  # fmt: skip


def written(name: str, place: str, language: str) -> str:
    kind, _ = rule_of(name)
    document, home = planned(place), planned("september")
    document["firm"] |= {name: home["firm"][name] for name in ("name", "address", "phone")}
    document["site"]["address"] |= {"line1": "4 Heron Row", "city": "Port Quill"}
    document["targets"] = ["moss"]
    product = document["mixes"][0]["products"][0]
    product["label"] |= {"statements": ["Keep people off until dry."]}
    product["label"]["limits"] = [{"of": "reentry", "min": {"value": "4", "unit": "hour"}}]
    terms = Terms(kind.contents, (language,), dates=len(ALTERNATES))
    return email(content_of(document, Reader(kind.to[0]), terms, alternates=ALTERNATES))[1]


@pytest.mark.parametrize(
    ("name", "_law", "place", "there", "blanks"), LAWS, ids=[f"{one[0]} {one[1]}" for one in LAWS]
)
def test_what_the_law_asks_for_stands_on_the_notice(
    name: str, _law: str, place: str, there: str, blanks: str
) -> None:
    text = written(name, place, "en")
    missing = [code for code in there.split() if SHOWN[code] not in text]
    assert not missing, text
    unfilled = [one for one in blanks.split("|") if one and f"{one}: {BLANK}" not in text]
    assert not unfilled, text
    assert written(name, place, "es").count(BLANK) == text.count(BLANK)


def test_no_rule_of_the_packs_with_contents_is_left_out_here() -> None:
    asked = {
        rule.id
        for pack in registered_packs()
        for rule in pack.rules
        for duty in rule.all_duties
        if isinstance(duty.kind, Notice) and duty.kind.contents
    }
    assert asked == {one[0] for one in LAWS}


def test_the_new_york_statement_stands_word_for_word_with_both_telephone_numbers() -> None:
    """ECL 33-1005*2(3)(a)(v), as a stored copy of the statute has it."""
    words = (
        "This notice is to inform you of a pending pesticide application to: 1. a neighboring property; or 2. "
        "this premise. You may wish to take precautions to minimize pesticide exposure to yourself, family "
        "members, pets or family possessions. Further information about the product or products being applied, "
        "including any warnings that appear on the labels of such pesticide or pesticides that are pertinent "
        "to the protection of humans, animals or the environment, can be obtained by calling the National "
        "Pesticides Telecommunications Network at 1-800-858-7378 or the New York State Department of Health "
        "Center for Environmental Health Info line at 1-800-458-1158."
    )
    assert words in written("us-ny/notice/neighbors", "new-york", "en")

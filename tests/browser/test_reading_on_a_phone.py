"""What a phone reads, and the bytes that it signs, are those of the service: tables hold both to each other."""

import json

import pytest
from playwright.sync_api import Page

from records.document.canonical import canonical, digest_of
from records.document.reader import read
from records.templatetags.offers import units_of_offers
from tests.health.committed import ROOT

pytestmark = pytest.mark.browser

TYPED = json.loads((ROOT / "fixtures/vectors/typed.json").read_text("utf-8"))
RFC8785 = json.loads((ROOT / "fixtures/vectors/rfc8785/vectors.json").read_text("utf-8"))["vectors"]
OFFERS = json.loads((ROOT / "fixtures/vectors/offers.json").read_text("utf-8"))
SCRIPTS = ("canonical", "reading", "placing", "drawing", "offers_here")
READ = """([cases, language]) => {
  document.documentElement.lang = language;
  return cases.map(({ control, typed, there }) => {
    try { return { value: reading.read(control, typed, there) }; }
    catch (error) { if (error instanceof reading.Unreadable) return { unreadable: true }; throw error; }
  });
}"""


@pytest.fixture
def phone(chromium, live_server) -> Page:
    """A page of the site, which is a secure place, with the scripts on it."""
    page = chromium.new_context(bypass_csp=True, service_workers="block").new_page()
    page.goto(f"{live_server.url}/health/")
    for name in SCRIPTS:
        page.add_script_tag(path=ROOT / f"records/static/records/{name}.js")
    yield page
    page.context.close()


@pytest.mark.parametrize("language", ["en", "es"])
def test_a_phone_reads_what_was_typed_as_the_table_says(phone, language):
    cases = [case for case in TYPED if case["language"] == language]
    expected = [{"unreadable": True} if case.get("unreadable") else {"value": case["value"]} for case in cases]
    assert cases and phone.evaluate(READ, [cases, language]) == expected


def test_a_phone_works_out_what_is_offered_as_the_table_says(phone):
    script = """([cases, units]) =>
        cases.map(({ offer, document, item }) => offersHere.worksOut(offer, document, item, units))"""
    worked_out = phone.evaluate(script, [OFFERS, json.loads(units_of_offers())])
    assert worked_out == [case["value"] for case in OFFERS]


def test_a_phone_writes_the_published_canonical_bytes(phone):
    """Source: RFC 8785 and the test data published beside it by its authors."""
    whole = [vector for vector in RFC8785 if vector["name"] != "values"]
    script = "inputs => inputs.map((text) => canonical.written(JSON.parse(text)))"
    written = phone.evaluate(script, [vector["input"] for vector in whole])
    assert len(whole) >= 5 and written == [vector["canonical"] for vector in whole]


@pytest.mark.parametrize("name", ["example", "full", "metric", "stood-down"])
def test_a_phone_writes_the_bytes_of_a_document_that_the_service_writes(phone, name):
    text = (ROOT / f"fixtures/documents/{name}.json").read_text("utf-8")
    document = read(text)
    script = "async (text) => [canonical.written(JSON.parse(text)), await canonical.digest(JSON.parse(text))]"
    assert phone.evaluate(script, canonical(document).decode()) == [
        canonical(document).decode(),
        digest_of(document),
    ]


def test_a_phone_refuses_what_has_no_canonical_form(phone):
    script = """values => values.map((text) => {
      try { canonical.written(JSON.parse(text)); return "written"; } catch { return "refused"; }
    })"""
    odd = ["0.5", "9007199254740993", '"\\ud800"', '{"\\udc00": 1}']
    assert phone.evaluate(script, odd) == ["refused"] * 4

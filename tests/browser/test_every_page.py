"""Every page, at both widths and in both languages: no axe violation, nothing wider than the screen,
targets large enough for a gloved thumb (48 px: common practice, no source), and a switch of language.

The rules are those of WCAG 2.2 (W3C Recommendation), levels A and AA, as axe-core states them.
"""

from datetime import UTC, date, datetime, timedelta
from uuid import uuid4

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

from compliance.models import Handing, PackVersion
from compliance.reports.content import digest_of
from compliance.reports.periods import Period
from compliance.services import request_matches
from compliance.services.handed_links import make_link
from compliance.services.handings import begin
from compliance.services.reports import Wanted, file_report, make_report
from compliance.services.reports_due import duty_of
from compliance.services.requests import take_request
from compliance.services.signing import prepare, sign_treatment
from records.forms.sections import SECTIONS
from records.models import Lot, Membership, Treatment
from records.outbox.queueing import queue
from records.services import incidents, way_out
from records.services.bringing_in.files import keep_file as keep_spreadsheet
from records.services.bringing_in.turns import begin_look, begin_taking
from records.services.hooks import make_hook, try_hook
from records.services.invitations import account_for, link_of
from records.services.people_files import keep_file
from records.services.planning import plan_treatment
from records.services.to_sign import Signer
from shared import clock
from shared.quantities import Quantity
from tests.browser.conftest import DESK, PHONE, WIDTHS
from tests.compliance.own import CALM, use_own
from tests.factories import (
    PASSWORD,
    MembershipFactory,
    NeighbourFactory,
    OccupantFactory,
    RegisteredPersonFactory,
    StockMoveFactory,
    UserFactory,
)
from tests.records.outbox.pieces import piece
from tests.records.services.test_bringing_in import BAD, LOG

pytestmark = pytest.mark.browser

LEAST_TARGET = 48
OF_TWO_READINGS = LOG.replace("2024-04-03", "03/04/2024").replace("Amount (gal)", "Amount")


@pytest.fixture
def signed(plan, member) -> Treatment:
    treatment = plan_treatment(plan.site.firm, member.user, plan)
    findings = prepare(treatment, Signer(member.user)).open_findings
    answers = [{"rule": each["rule"], "about": each["about"], "reason": "as it was"} for each in findings]
    sign_treatment(treatment, member.user, PASSWORD, answers)
    return treatment


@pytest.fixture
def told(done, member) -> str:
    """A notice that came too late to be sent, so that there is a task, and one on a door card."""
    pieces = [piece(languages=()), piece(means="door", text="On the door.")]
    queue(done, pieces, member.user)
    return f"/told/{done.notices.get(means='email').token}/"


@pytest.fixture
def addresses(done, signed, told, colleague) -> list[str]:
    use_own(done.firm, CALM)
    digest = PackVersion.objects.get(pack="us-wa").digest.removeprefix("sha256:")
    draft, record = f"/treatments/{done.pk}/", f"/treatments/{signed.pk}/"
    forms = [f"{draft}form/{section.slug}/" for section in SECTIONS]
    of_draft = [draft, *forms, f"{draft}sign/", f"{draft}form/stand-down/"]
    of_record = [record, f"{record}signed/", f"{record}correct/", f"{record}void/", f"{record}follow-up/"]
    of_record += [f"{record}hold/", f"{record}lift-hold/"]
    return [
        "/",
        "/treatments/",
        "/treatments/?customer=x",
        "/treatments/?wind_least=much&day_from=x",
        "/treatments/pictures/",
        "/treatments/views/",
        "/treatments/views/new/?county=quill",
        "/treatments/plan/",
        *of_draft,
        *of_record,
        f"/treatments/plan/{done.site_id}/",
        *near(done.site),
        *arriving(colleague),
        left(colleague),
        "/roadside/",
        "/tanks/",
        *on_shelf(done, colleague),
        f"{draft}medical/",
        f"{draft}notices/?day=2026-11-02&time=08:00",
        f"{draft}notices/prepare/",
        "/notices/",
        f"{record}medical/",
        "/mix/",
        "/mix/?area_0=x&area_1=ft**2&dilution=",
        "/rules/",
        "/rules/packs/us-wa/",
        "/rules/packs/us-ny/",
        "/rules/coverage/",
        "/rules/questions/",
        "/rules/questions/us-wa/question/structural-application/",
        f"/proof/{signed.signed_records.get().proof_address.pk}/",
        f"/proof/{'0' * 32}/",
        told,
        f"/told/{'0' * 32}/",
        f"{draft}notices/sent/",
        f"{draft}signs/",
        f"{record}customer/copy/",
        "/rules/own/",
        "/rules/own/versions/1/",
        "/rules/packs/us-wa/versions/",
        f"/rules/packs/us-wa/versions/{digest}/",
        *(f"/rules/own/new/{kind}/" for kind in ("limit", "record", "protection", "interval", "licence")),
        "/account/",
        "/account/notices/",
        "/programs/",
        "/programs/api/",
        *hooked(colleague),
        "/audit/",
        "/hand-over/",
        *asked_for(colleague),
        *gone_wrong(colleague, signed),
        "/desk/",
        *reported(colleague),
        "/log/",
        "/log/new-key/",
        "/audit/?words=no+such+words&day_from=yesterday",
        "/keeping/",
        "/accounts/2fa/",
        "/accounts/password/change/",
        "/accounts/logout/",
        "/no-such-page/",
    ]


def hooked(colleague) -> list[str]:
    """Hooks, and one that has been tried."""
    hook = make_hook(colleague.firm, colleague.user, "Books", "http://127.0.0.1:1/", ["record.signed"])
    try_hook(hook, colleague.user)
    return ["/programs/hooks/", f"/programs/hooks/{hook.pk}/"]


def asked_for(colleague) -> list[str]:
    """Requests for records: the list, a new one, one that is overdue with its answer."""
    given = {"asked_by": "regulator", "name": "M. Reyes", "means": "letter", "asked_for": "All of September."}
    given |= {"received_at": datetime(2026, 9, 15, 9, 0, tzinfo=UTC), "wanted": {"product": "moss"}}
    made = take_request(colleague.firm, colleague.user, given | {"due_at": given["received_at"]}, None)
    one, records = f"/requests/{made.pk}/", request_matches.signed_matches(made).values_list("pk", flat=True)
    wanted = {"to": "M. Reyes", "how": "by post", "language": "en", "withheld": ["notices"]}
    hows = ("by post", "by a link")
    files = [begin(made, colleague.user, list(records), **wanted | {"how": how}).pk for how in hows]
    Handing.across_firms.filter(pk=files[0]).update(state="making", done=1, of_all=2)
    by_link = Handing.across_firms.select_related("firm").get(pk=files[1])
    _link, token, _code = make_link(by_link, colleague.user, clock.now() + timedelta(days=3))
    shown = [*(f"{one}files/{each}/" for each in files), f"/handed/{token}/"]
    return ["/requests/", "/requests/new/?product=moss", one, f"{one}change/", f"{one}hand-over/", *shown]


def on_shelf(done, colleague) -> list[str]:
    """A lot that does not add up, with an entry that was taken back and one in a record; where it went."""
    lot, by = Lot.objects.for_firm(done.firm).get(number="L-0457"), colleague.user
    wrong = StockMoveFactory(lot=lot, amount="9 gal", why="J. Quill", by=by)
    count = StockMoveFactory(lot=lot, amount="3 gal", by=by)
    StockMoveFactory(lot=lot, kind="taken-back", of=wrong, amount=None, why="misread", by=by)
    StockMoveFactory(lot=lot, kind="disposal", amount="1 lb", why="a can leaked", by=by)
    one = f"/stock/{lot.pk}/"
    entry = f"{one}entries/{count.pk}/"
    return ["/stock/", "/stock/delivery/", one, f"{one}recall/", f"{entry}take-back/", f"{entry}explain/"]


def left(colleague) -> str:
    """The way out, with a file that is there."""
    way_out.begin(colleague.firm, colleague.user)
    return "/way-out/"


def gone_wrong(colleague, signed) -> list[str]:
    """Incidents: what to do now, the list, one at a signed treatment with a report to make, a closed one."""
    firm, by = colleague.firm, colleague.user
    open_one = incidents.begin(firm, by, uuid4(), "spill", signed)
    known = {"description": "A hose burst.", "names": "B. Lark", "reached": ["drain"]}
    incidents.write_facts(open_one, by, known)
    over = incidents.begin(firm, by, uuid4(), "complaint")
    incidents.close(over, by, "They are well.")
    one = f"/incidents/{open_one.pk}/"
    pages = [one, f"{one}facts/", f"{one}told/?duty=us:+40+CFR+302.6", f"/incidents/{over.pk}/"]
    return ["/incidents/", f"/incidents/new/?treatment={signed.pk}", *pages]


def reported(colleague) -> list[str]:
    """Use reports: the list, the firm's own with a figure, one that is asked for, and one that was sent."""
    wanted = Wanted(duty_of("us-ca/report/monthly"), Period(2026, 8), "Quill County")
    shown = digest_of(make_report(colleague.firm, wanted))
    sent = {"sent_on": date(2026, 9, 5), "how": "by post"}
    filed = file_report(colleague.firm, wanted, colleague.user, shown=shown, **sent)
    own = "/reports/own:summary/2026/"
    asked = ["/reports/us-ca:report:monthly/2026-07/?county=Quill+County", f"/reports/filed/{filed.pk}/"]
    return ["/reports/?of=last+month", own, f"{own}asked/0/", *asked]


def near(site) -> list[str]:
    """The pages about who lives near, with a list, a register, and a file with faults and one without."""
    firm, here = site.firm, f"/sites/{site.pk}/neighbours/"
    row = NeighbourFactory(firm=firm, site=site, distance=Quantity("20", "ft"), abutting=True)
    occupant = OccupantFactory(firm=firm, site=site, line1=site.line1)
    RegisteredPersonFactory(firm=firm, line1=row.line1)
    said = (date(2026, 9, 1), UserFactory(), firm, site)
    sound = keep_file(b"Name,Street\nB. Lark,6 Heron Row\n", "neighbours", "walk", *said)
    faulty = keep_file(b"Name,Street,Distance\nB. Lark,6 Heron Row,20\n", "neighbours", "walk", *said)
    pages = ["", "new/", "file/", f"{row.pk}/", "occupants/new/", f"occupants/{occupant.pk}/"]
    files = [f"/people-files/{each.pk}/" for each in (sound, faulty)]
    return [*(f"{here}{page}" for page in pages), *files, "/registers/", "/registers/file/"]


def arriving(colleague) -> list[str]:
    """Spreadsheets on their way in: one that asks, one with faults, one that came in; a treatment of it."""
    by = (colleague.user, colleague.firm)
    files = [keep_spreadsheet(text.encode(), "log.csv", *by) for text in (OF_TWO_READINGS, BAD, LOG)]
    for file in files:
        begin_look(file, by[0])
        file.refresh_from_db()
    begin_taking(files[-1], by[0])
    old = Treatment.objects.for_firm(colleague.firm).filter(state="brought-in")[0]
    return ["/bring-in/", *(f"/bring-in/{each.pk}/" for each in files), f"/treatments/{old.pk}/"]


@pytest.mark.parametrize(
    ("width", "language", "look"),
    [(PHONE, "en", "light"), pytest.param(DESK, "es", "dark", marks=pytest.mark.long)],
)
def test_every_page_is_accessible_and_fits(open_page, addresses, colleague, width, language, look):
    page = open_page(colleague, width=width, language=language)
    page.emulate_media(color_scheme=look)
    found = {}
    for address in addresses:
        page.goto(address)
        if complaints := violations(page) + misfits(page, language):
            found[address] = complaints
    assert found == {}


@pytest.fixture
def invitations(firm, colleague) -> list[str]:
    """The address of an invitation to somebody new, to somebody with an account, and one that is over."""
    asked = {"accepted_at": None, "person": None}
    new = MembershipFactory(firm=firm, user=account_for("new@example.net", "N. Ewhire"), **asked)
    known = MembershipFactory(firm=firm, user=UserFactory(), **asked)
    over = [address_of(new).rsplit("/", 2)[0] + "/none-at-all/", address_of(colleague)]
    return [address_of(new), address_of(known), *over]


def address_of(membership: Membership) -> str:
    return "/" + link_of(membership).partition("//")[2].partition("/")[2].removesuffix("/") + "/"


@pytest.mark.parametrize(
    ("width", "language", "signed_in"),
    [
        (PHONE, "es", False),
        (DESK, "en", True),
        pytest.param(DESK, "en", False, marks=pytest.mark.long),
        pytest.param(PHONE, "es", True, marks=pytest.mark.long),
    ],
)
def test_invitations_are_accessible_for_somebody_new_and_for_a_member(
    open_page, invitations, colleague, width, language, signed_in
):
    page = open_page(colleague if signed_in else None, width=width, language=language)
    for address in invitations:
        page.goto(address)
        assert page.locator("h1").text_content()
        assert violations(page) + misfits(page, language) == [], address


@pytest.mark.parametrize("width", WIDTHS)
def test_the_pages_before_sign_in_are_accessible(open_page, db, width):
    page = open_page(width=width)
    for address in ("/accounts/login/", "/accounts/password/reset/"):
        page.goto(address)
        assert violations(page) + misfits(page, "en") == []


@pytest.mark.parametrize("language", ["en", "es"])
def test_a_phone_has_the_name_and_the_other_language_in_one_row(open_page, member, language):
    page = open_page(member, language=language)
    page.goto("/")
    name, other = page.locator(".masthead .name").bounding_box(), page.locator(".languages").bounding_box()
    assert abs(name["y"] - other["y"]) < 1


def test_the_language_is_switched_on_the_page(open_page, member):
    page = open_page(member)
    page.goto("/mix/")
    page.get_by_role("button", name="Español").click()
    assert page.locator("h1").text_content() == "Calculadora de mezcla"
    assert page.url.endswith("/mix/")


def violations(page: Page) -> list[str]:
    levels = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
    results = Axe().run(page, options={"runOnly": levels, "resultTypes": ["violations"]})
    assert results.response["passes"]
    return [f"{each['id']}: {each['nodes'][0]['html'][:160]}" for each in results.response["violations"]]


def misfits(page: Page, language: str) -> list[str]:
    found = [] if page.evaluate("document.documentElement.lang") == language else ["wrong language"]
    if page.evaluate("document.documentElement.scrollWidth > innerWidth"):
        found.append("wider than the screen")
    controls = page.locator(
        "main input:visible, main select:visible, main textarea:visible, main .button:visible"
    )
    sizes = controls.evaluate_all(
        "all => all.map(e => (e.closest('label.choice') || e)).map(e => [e.outerHTML.slice(0, 120), "
        "Math.round(e.getBoundingClientRect().height)])"
    )
    return found + [f"only {height} px high: {html}" for html, height in sizes if height < LEAST_TARGET]

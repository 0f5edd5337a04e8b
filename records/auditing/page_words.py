"""What the page of an entry of who did what is called: a person reads no patterns of addresses."""

import re

from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

_METHOD = re.compile(r"[A-Z]+ ")
"""Stands before the page in an entry of a refusal."""
OF_A_TREATMENT = "treatments/<uuid:uuid>/"
_TREATMENT: dict[str, Promise] = {
    "": gettext_lazy("Treatment"),
    "form/<slug:section>/": gettext_lazy("Crew's form"),
    "photos/": gettext_lazy("Photos"),
    "photos/<slug:sha256>/": gettext_lazy("Photo"),
    "photos/<slug:sha256>/original/": gettext_lazy("Photo as it was taken"),
    "photos/<slug:sha256>/remove/": gettext_lazy("Remove a photo"),
    "changed/": gettext_lazy("Changed reference data"),
    "stand-down/": gettext_lazy("Stand down"),
    "correct/": gettext_lazy("Correct"),
    "void/": gettext_lazy("Make void"),
    "hold/": gettext_lazy("Legal hold"),
    "lift-hold/": gettext_lazy("Lift the legal hold"),
    "follow-up/": gettext_lazy("Follow-up"),
    "hand-over/": gettext_lazy("Hand over"),
    "medical/": gettext_lazy("Medical card"),
    "notices/": gettext_lazy("Who is told"),
    "notices/prepare/": gettext_lazy("Prepare notices"),
    "notices/sent/": gettext_lazy("Notices sent"),
    "customer/copy/": gettext_lazy("The customer's copy"),
    "customer/<slug:when>/<slug:language>/": gettext_lazy("The customer's paper (PDF)"),
    "signs/": gettext_lazy("Signs"),
    "signs/<slug:language>/sign/<path:rule>/": gettext_lazy("Sign (PDF)"),
    "signs/<slug:language>/places/<path:rule>/": gettext_lazy("List of where signs stand (PDF)"),
    "notices/print/": gettext_lazy("Print the papers of notices"),
    "notices/sent/<uuid:notice>/": gettext_lazy("What became of a notice"),
    "notices/sent/<uuid:notice>/files/<int:place>/": gettext_lazy("Paper of a notice"),
    "sheet/": gettext_lazy("Sheet for a phone"),
    "sign/": gettext_lazy("Sign"),
    "seal/": gettext_lazy("Signed on a phone"),
    "signed/": gettext_lazy("Signed record"),
    "comparison/": gettext_lazy("By the rules of another day"),
    "versions/<int:version>/changes/": gettext_lazy("What changed between versions"),
    "versions/<int:version>/record.json": gettext_lazy("Record as a file"),
    "versions/<int:version>/record-sheet-<slug:language>.pdf": gettext_lazy("Record sheet"),
    "versions/<int:version>/check-sheet-<slug:language>.pdf": gettext_lazy("Check sheet"),
}
_OTHERS: dict[str, Promise] = {
    "": gettext_lazy("Today"),
    "to-keep/": gettext_lazy("What a phone keeps"),
    "choices/": gettext_lazy("Choices for a phone"),
    "account/": gettext_lazy("Account"),
    "account/signature/": gettext_lazy("Declaration for signing"),
    "account/devices/": gettext_lazy("Devices that sign"),
    "account/devices/<uuid:uuid>/end/": gettext_lazy("End a device's key"),
    "account/notices/": gettext_lazy("Your own words on notices"),
    "account/firm/": gettext_lazy("Choose a firm"),
    "invitations/<uuid:uuid>/<str:token>/": gettext_lazy("Invitation"),
    "way-out/": gettext_lazy("Take everything out"),
    "way-out/<uuid:file>/": gettext_lazy("Everything of the firm (file)"),
    "bring-in/": gettext_lazy("Bring in past years"),
    "bring-in/<uuid:file>/": gettext_lazy("Spreadsheet that is brought in"),
    "bring-in/<uuid:file>/original/": gettext_lazy("Spreadsheet as it came"),
    "bring-in/<uuid:file>/faults.csv": gettext_lazy("Faults of a spreadsheet as a file"),
    "desk/": gettext_lazy("What needs you"),
    "keeping/": gettext_lazy("Keeping records"),
    "mix/": gettext_lazy("Mix calculator"),
    "notices/": gettext_lazy("Notices of the next two weeks"),
    "notice-tasks/<uuid:uuid>/done/": gettext_lazy("Finish a task from a notice"),
    "programs/": gettext_lazy("Programs that use the API"),
    "programs/api/": gettext_lazy("Description of the API"),
    "programs/hooks/": gettext_lazy("Hooks"),
    "programs/hooks/<uuid:hook>/": gettext_lazy("A hook"),
    "programs/<uuid:uuid>/end/": gettext_lazy("End a program's token"),
    "people-files/<uuid:file>/": gettext_lazy("File of people or parcels"),
    "registers/": gettext_lazy("Registers"),
    "roadside/": gettext_lazy("Roadside"),
    "sites/<uuid:site>/neighbours/": gettext_lazy("Who lives near"),
    "registers/file/": gettext_lazy("Bring in a register"),
    "sites/<uuid:site>/neighbours/file/": gettext_lazy("Bring in a file"),
    "sites/<uuid:site>/neighbours/new/": gettext_lazy("Add a neighbour"),
    "sites/<uuid:site>/neighbours/<uuid:row>/": gettext_lazy("Change a neighbour"),
    "sites/<uuid:site>/neighbours/occupants/new/": gettext_lazy("Add an occupant of the site"),
    "sites/<uuid:site>/neighbours/occupants/<uuid:row>/": gettext_lazy("Change an occupant"),
    "stock/": gettext_lazy("Stock"),
    "stock/delivery/": gettext_lazy("A delivery came"),
    "stock/<uuid:lot>/": gettext_lazy("Lot on the shelf"),
    "stock/<uuid:lot>/ledger.csv": gettext_lazy("Ledger of a lot as a file"),
    "stock/<uuid:lot>/recall/": gettext_lazy("Where a lot went"),
    "stock/<uuid:lot>/recall.csv": gettext_lazy("Where a lot went, as a file"),
    "stock/<uuid:lot>/entries/<uuid:move>/take-back/": gettext_lazy("Take a stock entry back"),
    "stock/<uuid:lot>/entries/<uuid:move>/explain/": gettext_lazy("Explain a difference of stock"),
    "tanks/": gettext_lazy("Tanks"),
    "told/<str:token>/": gettext_lazy("Page of who was told"),
    "treatments/": gettext_lazy("Register"),
    "treatments/register.csv": gettext_lazy("Register as a file"),
    "treatments/register.xlsx": gettext_lazy("Register as a workbook"),
    "treatments/count/": gettext_lazy("How many the register has"),
    "treatments/pictures/": gettext_lazy("Pictures of the register"),
    "treatments/views/": gettext_lazy("Saved views of the register"),
    "treatments/views/new/": gettext_lazy("Save a view of the register"),
    "treatments/views/<uuid:view>/remove/": gettext_lazy("Remove a saved view"),
    "treatments/plan/": gettext_lazy("Plan a treatment: the site"),
    "treatments/plan/<uuid:site>/": gettext_lazy("Plan a treatment"),
    "audit/": gettext_lazy("Who did what"),
    "audit/entries.csv": gettext_lazy("Who did what as a file"),
    "seals/<uuid:uuid>/looked-at/": gettext_lazy("Look at what was signed on a phone"),
    "alerts/<uuid:uuid>/looked-at/": gettext_lazy("Look at an alarm"),
    "log/": gettext_lazy("Log"),
    "log/new-key/": gettext_lazy("New signing key"),
    "log/look/": gettext_lazy("Look at the log"),
    "log/head.json": gettext_lazy("Newest head of the log"),
    "notices/not-wanted/": gettext_lazy("Ways that people do not want"),
    "notices/not-wanted/<uuid:row>/take-out/": gettext_lazy("Tell somebody this way again"),
    "reports/": gettext_lazy("Use reports"),
    "reports/filed/<uuid:filed>/": gettext_lazy("A use report as it was filed"),
    "reports/filed/<uuid:filed>/<slug:table>/<int:line>/": gettext_lazy("Records behind a filed figure"),
    "reports/filed/<uuid:filed>/report-<slug:language>.pdf": gettext_lazy("Filed use report (PDF)"),
    "reports/filed/<uuid:filed>/<slug:table>.csv": gettext_lazy("Filed use report as a file"),
    "reports/<str:duty>/<slug:period>/": gettext_lazy("A use report"),
    "reports/<str:duty>/<slug:period>/<slug:table>/<int:line>/": gettext_lazy("Records behind a figure"),
    "reports/<str:duty>/<slug:period>/report-<slug:language>.pdf": gettext_lazy("Use report (PDF)"),
    "reports/<str:duty>/<slug:period>/<slug:table>.csv": gettext_lazy("Use report as a file"),
    "incidents/": gettext_lazy("Incidents"),
    "incidents/new/": gettext_lazy("Something went wrong"),
    "incidents/take/": gettext_lazy("Open an incident of a record"),
    "incidents/<uuid:incident>/": gettext_lazy("Incident"),
    "incidents/<uuid:incident>/facts/": gettext_lazy("What is known of an incident"),
    "incidents/<uuid:incident>/told/": gettext_lazy("Who was told of an incident"),
    "incidents/<uuid:incident>/report-<slug:language>.pdf": gettext_lazy("Report of an incident (PDF)"),
    "requests/": gettext_lazy("Requests for records"),
    "requests/new/": gettext_lazy("A new request for records"),
    "requests/<uuid:asked>/": gettext_lazy("A request for records"),
    "requests/<uuid:asked>/before/": gettext_lazy("Look at these before you answer"),
    "requests/<uuid:asked>/change/": gettext_lazy("Change this request"),
    "requests/<uuid:asked>/hand-over/": gettext_lazy("Answer a request for records"),
    "requests/<uuid:asked>/form/<slug:form>/<str:language>/": gettext_lazy("Records on an authority's form"),
    "requests/<uuid:asked>/files/<uuid:handing>/": gettext_lazy("File for a request"),
    "requests/<uuid:asked>/files/<uuid:handing>/look/<path:name>": gettext_lazy("Look at a file for a request"),
    "requests/<uuid:asked>/files/<uuid:handing>/link/": gettext_lazy("Link to the file"),
    "handed/<str:token>/": gettext_lazy("Records for you"),
    "hand-over/": gettext_lazy("Hand over"),
    "proof/<str:token>/": gettext_lazy("Proof page"),
    "proof/<str:token>/proof.json": gettext_lazy("Proof as a file"),
    "records/<uuid:uuid>/": gettext_lazy("Treatment"),
}
_BEGINNINGS: dict[str, Promise] = {
    "api/": gettext_lazy("Data for other programs (API)"),
    "admin/": gettext_lazy("Admin"),
    "accounts/": gettext_lazy("Sign-in and account"),
    "rules/": gettext_lazy("Rules"),
}


def said_page(page: str, name: str) -> str:
    """`page` as an entry keeps it, a pattern with the search in it; of the thing that is called `name`.

    An address that is no longer known stays as it was kept.
    """
    pattern, _mark, search = page.partition("?")
    pattern = _METHOD.sub("", pattern, count=1)
    of_treatment = pattern.startswith(OF_A_TREATMENT)
    words = _TREATMENT.get(pattern.removeprefix(OF_A_TREATMENT)) if of_treatment else _OTHERS.get(pattern)
    if words is None:
        words = next((said for begin, said in _BEGINNINGS.items() if pattern.startswith(begin)), None)
    if words is None:
        return page
    said = f"{words} {name}" if of_treatment and name else str(words)
    return _("%(page)s, searched for: %(search)s") % {"page": said, "search": search} if search else said

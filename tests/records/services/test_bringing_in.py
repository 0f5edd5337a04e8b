"""Spreadsheets are looked at, brought in whole or by their good rows, and taken back."""

from datetime import date

import pytest
from django.core.exceptions import PermissionDenied
from django.db import connection

from records.imports.faults import FileError
from records.models import (
    ArrivalFile,
    ArrivedRow,
    AuditEntry,
    Customer,
    LabelVersion,
    Licence,
    LogEntry,
    Lot,
    Person,
    Product,
    RegisterTerm,
    SignedRecord,
    Site,
    Surface,
    Treatment,
    TreatmentProduct,
    TreatmentTerm,
)
from records.register.wanted import RegisterFilter
from records.register_search import treatments_of
from records.services.bringing_in import looking, taking
from records.services.bringing_in.files import NotNowError, keep_file, say
from records.services.bringing_in.turns import begin_look, begin_taking, begin_undo, drop, go_on
from shared.folded import folded
from tests.factories import CustomerFactory, SiteFactory, UserFactory
from tests.records.arriving.books import book, with_part

State = ArrivalFile.State
LOG = """Date,Client,Address,Product,EPA Reg No,Amount (gal),Area (sq ft),Wind (mph),Applied by
2024-04-03,A. Marlowe,4 Heron Row,Sample Moss Wash,99999-12,1.5,1200,SW 4,R. Osei
2024-05-07,A. Marlowe,4 Heron Row,Sample Moss Wash,99999-12,2,1200,calm,R. Osei
2024-05-08,B. Lark,6 Heron Row,Sample Moss Wash,99999-12,1,800,3,R. Osei
"""
BAD = LOG + "31/02/2025,C. Wren,8 Heron Row,Sample Moss Wash,99999-12,5 gallons per nothing,800,3,R. Osei\n"


@pytest.fixture
def manager(colleague):
    return colleague


@pytest.fixture
def send(manager):
    def send(text: str | bytes, name: str = "log.csv", **said) -> ArrivalFile:
        data = text.encode() if isinstance(text, str) else text
        file = keep_file(data, name, manager.user, manager.firm)
        if said:
            say(file, said)
        begin_look(file, manager.user)
        return fresh(file)

    return send


def fresh(file: ArrivalFile) -> ArrivalFile:
    return ArrivalFile.objects.for_firm(file.firm).select_related("firm").get(pk=file.pk)


def treatments(firm) -> list[Treatment]:
    return list(Treatment.objects.for_firm(firm).filter(state="brought-in").order_by("day"))


def counts(firm, *models) -> list[int]:
    return [model.objects.for_firm(firm).count() for model in models]


def test_a_look_tells_what_would_be_made_and_makes_none_of_it(send, firm):
    file = send(LOG)
    assert (file.state, file.total, file.good, file.faulty) == (State.LOOKED, 3, 3, 0)
    assert file.makes == {"customer": 2, "site": 2, "treatment": 3, "treatmentproduct": 3}
    assert counts(firm, Customer, Site, Treatment) == [0, 0, 0]


def test_treatments_come_in_as_brought_in_and_never_as_signed(send, manager, firm):
    begin_taking(file := send(LOG), manager.user)
    assert fresh(file).state == State.TAKEN
    first, *_others = found = treatments(firm)
    assert [(each.day, each.customer_name, each.site_name) for each in found] == [
        (date(2024, 4, 3), "A. Marlowe", "4 Heron Row"),
        (date(2024, 5, 7), "A. Marlowe", "4 Heron Row"),
        (date(2024, 5, 8), "B. Lark", "6 Heron Row"),
    ]
    assert first.products == "Sample Moss Wash (99999-12)"
    assert first.document["notes"] == "Brought in from the file log.csv, row 2."
    assert [each.number for each in found] == ["2024-0001", "2024-0002", "2024-0003"]
    assert first.document["record"]["number"] == "2024-0001"
    assert not first.is_open
    assert counts(firm, SignedRecord, LogEntry, TreatmentProduct) == [0, 0, 3]
    assert found[0].site.customer.name == "A. Marlowe" and found[0].site_id == found[1].site_id


def test_rows_that_were_made_have_a_history_and_an_entry_of_who_did_what(send, manager, firm):
    begin_taking(file := send(LOG), manager.user)
    customer = Customer.objects.for_firm(firm).get(name="B. Lark")
    (past,) = customer.history.all()
    assert (past.history_type, past.history_user, past.history_change_reason) == (
        "+",
        manager.user,
        "brought in: log.csv",
    )
    entry = AuditEntry.objects.for_firm(firm).get(thing="records.customer", thing_id=str(customer.pk))
    assert (entry.kind, entry.by) == ("created", manager.user)
    kept = AuditEntry.objects.for_firm(firm).filter(thing_id=str(file.pk)).order_by("at")
    assert [(each.kind, each.reason) for each in kept] == [("created", ""), ("changed", "brought-in")]


def test_with_one_fault_nothing_comes_in_unless_the_good_rows_alone_are_wanted(send, manager, firm):
    file = send(BAD)
    assert (file.good, file.faulty) == (3, 1)
    (row,) = ArrivedRow.objects.for_firm(firm).filter(file=file).exclude(faults=[])
    assert [(each["row"], each["column"], each["got"]) for each in row.faults] == [
        (5, "A5 · Date", "31/02/2025"),
        (5, "F5 · Amount (gal)", "5 gallons per nothing"),
    ]
    with pytest.raises(NotNowError):
        begin_taking(file, manager.user)
    assert treatments(firm) == []
    begin_taking(fresh(file), manager.user, good_alone=True)
    assert len(treatments(firm)) == 3
    assert not Customer.objects.for_firm(firm).filter(name="C. Wren").exists()


def test_what_breaks_half_way_leaves_nothing(send, manager, firm, monkeypatch):
    monkeypatch.setattr(taking, "STEP", 1)
    file = send(LOG)
    Treatment.objects.create(
        firm=firm,
        site=SiteFactory(firm=firm),
        number="2024-0099",
        planned_by=manager.user,
        planned_at="2024-05-08T10:00:00Z",
        day="2024-05-08",
    )
    rows = list(ArrivedRow.objects.for_firm(firm).filter(file=file))
    rows[-1].waits[2]["values"]["number"] = "2024-0099"
    rows[-1].save()
    before = counts(firm, Customer, Site, Treatment, TreatmentTerm)
    begin_taking(file, manager.user)
    assert counts(firm, Customer, Site, Treatment, TreatmentTerm) == before
    file = fresh(file)
    assert file.state == State.SENT and "have changed" in file.faults[0]["en"]


def test_a_second_file_uses_what_is_there_and_changes_nothing_of_it(send, manager, firm):
    site = SiteFactory(firm=firm, line1="4 Heron Row", customer__name="A. Marlowe", county="Quill County")
    begin_taking(send(LOG), manager.user)
    assert [each.site_id == site.pk for each in treatments(firm)] == [True, True, False]
    again = send(LOG + "2024-06-01,B. Lark,6 Heron Row,Sample Moss Wash,99999-12,1,800,3,R. Osei\n")
    assert (again.good, again.known) == (1, 3)
    begin_taking(again, manager.user)
    assert counts(firm, Customer, Site, Treatment) == [2, 2, 4]
    assert site.history.count() == 1


def test_a_file_that_can_t_tell_its_days_is_asked_and_then_read_as_was_said(send, manager, firm):
    file = send(LOG.replace("2024-04-03", "03/04/2024").replace("2024-05-07", "07/05/2024"))
    assert (file.state, [each["about"] for each in file.doubts]) == (State.ASKS, ["date_order"])
    assert file.doubts[0]["examples"] == ["03/04/2024", "07/05/2024"]
    say(file, {"date_order": "dmy"})
    begin_look(fresh(file), manager.user)
    begin_taking(fresh(file), manager.user)
    assert [each.day for each in treatments(firm)] == [
        date(2024, 4, 3),
        date(2024, 5, 7),
        date(2024, 5, 8),
    ]


def test_columns_that_are_not_recognised_are_chosen_by_hand(send, manager, firm):
    text = "When it was,Whose,What\n2024-04-03,A. Marlowe,Sample Moss Wash\n"
    file = send(text)
    assert file.state == State.SENT and "Choose it" in file.faults[0]["en"]
    say(file, {"kind": "treatments", "columns": ["day", "customer", "product"]})
    begin_look(fresh(file), manager.user)
    begin_taking(fresh(file), manager.user)
    assert [each.products for each in treatments(firm)] == ["Sample Moss Wash"]


def test_numbers_of_the_old_log_are_kept_and_one_that_is_taken_is_told(send, manager, firm):
    log = "Job No,Date,Client\nA-17,2024-04-03,A. Marlowe\nA-18,2024-04-04,A. Marlowe\n"
    begin_taking(send(log), manager.user)
    assert [each.number for each in treatments(firm)] == ["A-17", "A-18"]
    other = send("Job No,Date,Client\nA-18,2024-04-09,B. Lark\n")
    assert (other.faulty, other.good) == (1, 0)


def test_numbers_that_are_given_pass_over_those_that_are_there(send, manager, firm):
    begin_taking(send("Job No,Date,Client\n2024-0002,2024-04-03,A. Marlowe\n"), manager.user)
    begin_taking(send("Date,Client\n2024-04-04,B. Lark\n2024-04-05,B. Lark\n"), manager.user)
    assert sorted(each.number for each in treatments(firm)) == ["2024-0001", "2024-0002", "2024-0003"]


def test_taking_back_leaves_the_firm_as_it_was(send, manager, firm):
    CustomerFactory(firm=firm, name="A. Marlowe")
    before = counts(firm, Customer, Site, Treatment, TreatmentProduct)
    begin_taking(file := send(LOG), manager.user)
    begin_undo(fresh(file), manager.user)
    file = fresh(file)
    assert (file.state, file.stayed) == (State.UNDONE, [])
    assert counts(firm, Customer, Site, Treatment, TreatmentProduct) == before
    assert bytes(file.content) == LOG.encode()


def test_what_was_used_or_changed_since_stays_and_is_told(send, manager, firm):
    begin_taking(file := send(LOG), manager.user)
    used = Site.objects.for_firm(firm).get(line1="4 Heron Row")
    Surface.objects.create(firm=firm, site=used, name="Main roof")
    changed = Customer.objects.for_firm(firm).get(name="B. Lark")
    changed.phone = "+1 360 555 0111"
    changed.save()
    begin_undo(fresh(file), manager.user)
    assert sorted(fresh(file).stayed) == ["4 Heron Row", "A. Marlowe", "B. Lark"]
    assert treatments(firm) == []
    assert [site.pk for site in Site.objects.for_firm(firm)] == [used.pk]


def test_a_file_is_taken_and_taken_back_once(send, manager):
    file = send(LOG)
    begin_taking(file, manager.user)
    with pytest.raises(NotNowError):
        begin_taking(file, manager.user)
    for begin in (begin_taking, begin_look, drop):
        with pytest.raises(NotNowError):
            begin(fresh(file), manager.user)
    with pytest.raises(NotNowError):
        say(fresh(file), {"kind": "customers"})
    begin_undo(fresh(file), manager.user)
    with pytest.raises(NotNowError):
        begin_undo(fresh(file), manager.user)
    drop(fresh(file), manager.user)
    assert counts(manager.firm, ArrivalFile, ArrivedRow) == [0, 0]


def test_nobody_but_a_manager_of_the_firm_brings_anything_in(send, manager, stranger):
    file = send(LOG)
    manager.role = "office"
    manager.save()
    office = type(manager.user).objects.get(pk=manager.user.pk)
    for begin in (begin_look, begin_taking, begin_undo, drop):
        for user in (office, stranger.user, UserFactory()):
            with pytest.raises(PermissionDenied):
                begin(fresh(file), user)


def test_customers_with_their_addresses(send, manager, firm):
    CustomerFactory(firm=firm, name="A. Marlowe", line1="4 Heron Row")
    text = (
        "Name,Address,City,Email\n"
        "A. Marlowe,4 HERON ROW,Port Quill,\n"
        "A. Marlowe,9 Cooper Lane,Port Quill,a@example.net\n"
    )
    file = send(text)
    assert (file.asked["kind"], file.good, file.known) == ("customers", 1, 1)
    begin_taking(file, manager.user)
    new = Customer.objects.for_firm(firm).get(line1="9 Cooper Lane")
    assert (new.name, new.email, new.city) == ("A. Marlowe", "a@example.net", "Port Quill")


def test_sites_with_their_surfaces(send, manager, firm):
    text = (
        "Client,Site,Address,State,County,Surface,Surface type,Footprint (sq ft)\n"
        "A. Marlowe,House,4 Heron Row,WA,Quill County,North slope,roof,1200\n"
        "A. Marlowe,House,4 Heron Row,WA,Quill County,Front walk,sidewalk,200\n"
        "B. Lark,Shop,1 Quay St,OR,,,,\n"
    )
    begin_taking(send(text), manager.user)
    house, shop = Site.objects.for_firm(firm).order_by("name")
    assert [(each.name, each.kind, str(each.plan_area.value)) for each in house.surfaces.order_by("name")] == [
        ("Front walk", "walk", "200"),
        ("North slope", "roof", "1200"),
    ]
    assert (house.county, house.jurisdictions, house.time_zone) == (
        "Quill County",
        ["us", "us-wa"],
        firm.time_zone,
    )
    assert shop.jurisdictions == ["us", "us-or"]


def test_products_with_label_and_lot(send, manager, firm):
    text = (
        "Product,EPA Reg No,Signal word,Active ingredient,AI percent,Lot,Amount,Date received\n"
        "Sample Moss Wash,99999-12,Warning,invented active,38%,L-0457,5 gal,2024-03-01\n"
        "Sample Moss Wash,99999-12,Warning,invented active,38%,L-0458,5 gal,2024-04-01\n"
        "Sample Spreader,,,,,,,\n"
    )
    begin_taking(send(text), manager.user)
    assert counts(firm, Product, LabelVersion, Lot) == [2, 1, 2]
    label = LabelVersion.objects.for_firm(firm).get()
    assert (label.registration_number, label.signal_word) == ("99999-12", "warning")
    assert label.active_ingredients == [{"name": "invented active", "percent": "38"}]
    assert {lot.number for lot in label.lots.all()} == {"L-0457", "L-0458"}
    assert send(text + " \n").known == 3


def test_licences_of_people_and_of_the_firm(send, manager, firm):
    text = (
        "Name,State,License type,License number,Categories,Expires\n"
        'R. Osei,WA,commercial operator,CO-00231,"turf, roofs",2025-12-31\n'
        ",Washington,commercial applicator,CA-00017,,12/31/2025\n"
    )
    begin_taking(send(text), manager.user)
    own, person = sorted(Licence.objects.for_firm(firm), key=lambda each: each.number)
    assert (own.person, own.authority, own.valid_to) == (None, "us-wa", date(2025, 12, 31))
    assert (person.person.name, person.categories) == ("R. Osei", ["turf", "roofs"])
    assert Person.objects.for_firm(firm).filter(name="R. Osei").count() == 1


def test_what_is_longer_than_its_column_is_told(send, firm):
    file = send(f"Product,EPA Reg No\nSample Moss Wash,{'9' * 61}\n")
    (row,) = ArrivedRow.objects.for_firm(firm).filter(file=file)
    assert "registration number" in row.faults[0]["en"] and row.faults[0]["en"] != row.faults[0]["es"]


def test_the_register_finds_a_row_of_two_people_by_the_licence_that_the_firm_knows(send, manager, firm):
    person = Person.objects.create(firm=firm, name="R. Osei")
    Licence.objects.create(firm=firm, person=person, authority="us-wa", kind="operator", number="CO-00231")
    text = LOG.replace("Applied by", "Applied by,License No").replace("R. Osei", "M. Pell & R. Osei,co-00231")
    begin_taking(send(text), manager.user)
    found = treatments_of(firm, RegisterFilter(licence="CO-00231"))
    assert found.count() == 3


def test_the_register_finds_what_was_brought_in(send, manager, firm):
    begin_taking(file := send(LOG), manager.user)
    wanted = RegisterFilter(product="99999-12", customer="lark")
    assert [each.customer_name for each in treatments_of(firm, wanted)] == ["B. Lark"]
    begin_undo(fresh(file), manager.user)
    assert counts(firm, RegisterTerm, TreatmentTerm) == [0, 0]


def test_terms_that_waited_since_they_were_folded_otherwise_are_folded_as_they_are_now(send, manager, firm):
    file, then = send(LOG.replace("B. Lark", "B. Lárk")), 0
    for row in file.rows.all():
        for made in (each for each in row.waits if each["model"] == "terms"):
            names = [(kind, name) for kind, _folded, name in made["values"]]
            names += [(kind, name.replace("á", "à")) for kind, name in names if "á" in name]
            made["values"] = [[kind, folded(name), name] for kind, name in names]
            then += str(made).count("b. lárk")
        row.save()
    assert then == 1
    begin_taking(fresh(file), manager.user)
    wanted = RegisterFilter(customer="lark")
    assert [each.customer_name for each in treatments_of(firm, wanted)] == ["B. Lárk"]


def test_a_turn_that_died_goes_on_where_it_was(send, manager, firm, monkeypatch):
    monkeypatch.setattr(taking, "STEP", 1)
    file = send(LOG)
    steps = iter((1, 2))
    whole = taking._step

    def dies(*given):
        if next(steps, None) is None:
            raise KeyboardInterrupt
        return whole(*given)

    with monkeypatch.context() as patched:
        patched.setattr(taking, "_step", dies)
        with pytest.raises(KeyboardInterrupt):
            begin_taking(file, manager.user)
    file = fresh(file)
    assert (file.state, file.done, len(treatments(firm))) == (State.TAKING, 2, 2)
    go_on(file)
    assert len(treatments(firm)) == 2
    ArrivalFile.objects.for_firm(firm).update(noted_at=file.noted_at - 2 * ArrivalFile.SILENCE)
    go_on(fresh(file))
    assert (fresh(file).state, len(treatments(firm))) == (State.TAKEN, 3)


def test_a_file_that_can_t_be_read_to_its_end_is_told_and_waits_for_a_person(send, monkeypatch):
    def breaks(*_given):
        raise MemoryError

    monkeypatch.setattr(looking, "Entries", breaks)
    file = send(LOG)
    assert file.state == State.SENT and "nobody knows why" in file.faults[0]["en"]


@pytest.mark.parametrize("row", ["9" * 30, "9" * 5_000, "2000000"])
def test_a_row_number_beyond_all_sheets_is_refused(colleague, row):
    sheet = f'<worksheet><sheetData><row r="{row}"><c r="A1"><v>1</v></c></row></sheetData></worksheet>'
    data = with_part(book(["Date"], [1]), "xl/worksheets/sheet1.xml", sheet.encode())
    with pytest.raises(FileError):
        keep_file(data, "log.xlsx", colleague.user, colleague.firm)


def test_a_long_note_comes_in_whole_and_a_name_of_a_file_in_one_line(send, manager, firm):
    note = "steep " * 400
    file = send(f"Date,Client,Notes\n2024-04-03,A. Marlowe,{note}\n", name="log\n of\x07 2024.csv")
    begin_taking(file, manager.user)
    (old,) = treatments(firm)
    assert old.document["notes"] == f"{note.strip()}\nBrought in from the file log of 2024.csv, row 2."


def test_rows_are_put_in_together(send, manager, django_assert_max_num_queries):
    rows = "".join(f"2024-04-{1 + n % 28:02},Customer {n},{n} Heron Row\n" for n in range(200))
    file = send("Date,Client,Address\n" + rows)
    with django_assert_max_num_queries(100, connection=connection):
        begin_taking(file, manager.user)

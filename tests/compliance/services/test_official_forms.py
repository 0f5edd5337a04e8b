"""Signed records are drawn on the form of the authority of their place."""

import io
from datetime import date

from django.core.management import call_command
from pypdf import PdfReader

from compliance.services.official_forms import form_files, form_named, forms_for
from records.models import Treatment
from records.services.signing import void
from records.services.to_sign import Signer
from tests.project.test_addresses import signed  # noqa: F401 - a fixture

DAY = date(2026, 9, 16)


def text_of(pdf: bytes) -> str:
    return "".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages)


def test_a_firm_in_washington_has_the_states_form_and_no_other(firm):
    assert [each.name for each in forms_for(firm, DAY)] == ["us-wa-application-record"]
    assert form_named("us-wa-application-record") == forms_for(firm, DAY)[0]
    assert form_named("us-wa-nothing") is None


def test_the_papers_go_along_by_place_in_each_language_and_without_what_is_withheld(signed, draft, firm):  # noqa: F811
    wanted = [signed.pk, draft.pk]
    files = dict(form_files(firm, wanted, ("en", "es"), DAY, withheld=["customer"], authority="M. Reyes"))
    assert sorted(files) == [f"forms/us-wa-application-record-0001-{one}.pdf" for one in ("en", "es")]
    for pdf in files.values():
        assert signed.number in text_of(pdf)
        assert draft.number not in text_of(pdf)
        assert signed.site.customer.name not in text_of(pdf)
    assert not dict(form_files(firm, [draft.pk], ("en",), DAY))


def test_a_record_of_another_state_goes_on_no_washington_form(signed, firm):  # noqa: F811
    form = form_named("us-wa-application-record")
    signed.found_by.filter(term__kind="place").delete()
    assert not form.holds_for(Treatment.objects.for_firm(firm), firm)


def test_a_void_record_is_named_beside_the_form_and_not_filled_in(signed, colleague, firm):  # noqa: F811
    void(signed, "entered twice", Signer(colleague.user))
    ((_name, pdf),) = form_files(firm, [signed.pk], ("en",), DAY)
    assert f"{signed.number}: the record is void." in text_of(pdf)
    assert "Sample Moss Wash" not in text_of(pdf)


def test_the_command_writes_the_paper_and_refuses_what_it_can_t_fill_in(signed, draft, firm, tmp_path, capsys):  # noqa: F811
    out = tmp_path / "form.pdf"
    call_command("print_form", str(firm.pk), "us-wa-application-record", record=[signed.number], output=out)
    assert signed.number in text_of(out.read_bytes())
    for form, number in (("us-wa-application-record", draft.number), ("us-wa-none", signed.number)):
        try:
            call_command("print_form", str(firm.pk), form, record=[number], output=tmp_path / "no.pdf")
        except SystemExit as refused:
            assert refused.code == 2
    assert capsys.readouterr().err.count(".\n") == 2
    assert not (tmp_path / "no.pdf").exists()

"""Who signs for the first time declares it on the page of the signature; a manager sees tries that failed."""

import pytest

from compliance.services.password import TRIES, WrongPasswordError, confirm_password
from records.models import SignedRecord
from records.services.declaring import declaration_of
from tests.browser.conftest import DESK, PHONE
from tests.browser.test_every_page import misfits, violations
from tests.factories import PASSWORD, MembershipFactory

pytestmark = pytest.mark.browser


@pytest.mark.parametrize(
    ("width", "language"), [(PHONE, "es"), pytest.param(DESK, "en", marks=pytest.mark.long)]
)
def test_a_first_signature_and_an_alert_fit_any_width(open_page, firm, done, member, width, language):
    for _ in range(TRIES):
        with pytest.raises(WrongPasswordError):
            confirm_password(member.user, "not the password at all")
    new = MembershipFactory(firm=firm, role="manager", declared=False)
    page = open_page(new, width=width, language=language)
    for address in ("/", "/account/signature/", "/account/devices/", f"/treatments/{done.pk}/sign/"):
        page.goto(address)
        assert violations(page) + misfits(page, language) == [], address
    for reason in page.locator("textarea").all():
        reason.fill("so")
    page.get_by_label("password" if language == "en" else "contraseña").last.fill(PASSWORD)
    sign = page.get_by_role("button", name="Sign and lock this record" if language == "en" else "Firmar")
    sign.first.click()
    page.locator("#declares-fault").wait_for()
    assert not SignedRecord.objects.for_firm(firm).exists()
    page.locator("#declares").check()
    page.locator("#password").fill(PASSWORD)
    sign.first.click()
    page.wait_for_url("**/signed/")
    assert declaration_of(firm, new.user)

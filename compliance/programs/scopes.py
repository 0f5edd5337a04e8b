"""What a program may be let do, in words, and the permission that its person must have for it."""

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from records.models import Firm, User

SCOPES: dict[str, tuple[Promise, str]] = {
    "read-records": (_("Read treatments, signed records and the register"), "records.view_treatment"),
    "write-records": (_("Plan treatments and write into drafts"), "records.edit_draft"),
    "sign-records": (_("Sign, with the person's password each time"), "records.sign_treatment"),
    "read-findings": (_("Read what the rules say"), "compliance.view_checks"),
    "read-notices": (_("Read what became of notices, without names"), "records.send_notices"),
    "read-requests": (_("Read requests for records and what was handed over"), "records.hand_over"),
    "write-requests": (_("Take requests for records in, hand over, and close them"), "records.hand_over"),
    "read-stock": (_("Read what is on the shelf"), "records.keep_stock"),
    "write-stock": (_("Write down what came, went or was counted"), "records.keep_stock"),
}


def scopes_for(firm: Firm, user: User) -> list[tuple[str, Promise]]:
    """Those that this member can give a program: nobody gives more than they may themselves."""
    return [(scope, words) for scope, (words, permission) in SCOPES.items() if user.has_perm(permission, firm)]


def said(scopes: list[str]) -> list[str]:
    return [str(SCOPES[each][0]) if each in SCOPES else each for each in scopes]

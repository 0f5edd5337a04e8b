"""What a person's signature means: accepted once, and shown from then on."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext_lazy as _

from records.pages.firm_page import FirmPage
from records.services.declaring import DECLARATION, declaration_of, declare

UNDECLARED = _("Say first that your signature binds you.")


class DeclarationPage(FirmPage):
    permission = "records.sign_treatment"
    template_name = "records/declaration.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        return self.page(
            declaration=declaration_of(self.firm, request.user), words=DECLARATION.say(self.language)
        )

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        declare(self.firm, request.user, self.language)
        return redirect("declaration")


class Declaring(FirmPage):
    """A page that ends in a signature: who has not declared yet is asked on it."""

    def words_to_accept(self) -> str:
        """What is asked; nothing of who has declared."""
        return "" if declaration_of(self.firm, self.request.user) else DECLARATION.say(self.language)

    def accepted(self) -> bool:
        """Whether the person has declared, now or before."""
        return bool(self.request.POST.get("declares")) or not self.words_to_accept()

    def keep_declaration(self) -> None:
        declare(self.firm, self.request.user, self.language)

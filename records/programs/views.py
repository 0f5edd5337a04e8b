"""What every call of the API has in common: a firm, a scope, and a tag by which an answer is known again."""

from hashlib import sha256
from typing import Any, ClassVar
from uuid import UUID

from django.core.exceptions import PermissionDenied
from drf_spectacular.utils import OpenApiParameter
from rest_framework import status
from rest_framework.request import Request
from rest_framework.views import APIView

from records.current_firm import current_membership
from records.models import Firm, ProgramToken, Treatment
from records.pages.seen import SAFE, note_seen
from records.permissions import demand
from records.programs.problems import Changed, NotInScope
from records.selectors import treatment_of

ANY = "*"


class FirmView(APIView):
    """A call within the member's firm; another firm's rows answer 404.

    `scope` is what a token must be for to read, `write_scope` to do more.
    """

    scope: ClassVar[str] = "read-records"
    write_scope: ClassVar[str] = "write-records"
    takes_if_match: ClassVar[bool] = False

    def initial(self, request: Request, *args: Any, **kwargs: Any) -> None:
        super().initial(request, *args, **kwargs)
        wanted = self.scope if request.method in SAFE else self.write_scope
        demand_scope(request, wanted)

    @classmethod
    def key_parameters(cls) -> list[OpenApiParameter]:
        return []

    def firm(self) -> Firm:
        membership = current_membership(self.request)
        if membership is None:
            raise PermissionDenied("no membership")
        return membership.firm

    def demand(self, permission: str) -> Firm:
        """The firm, in which the caller must have this permission."""
        firm = self.firm()
        demand(self.request.user, permission, firm)
        return firm

    def may(self, permission: str) -> bool:
        return bool(self.request.user.has_perm(permission, self.firm()))

    def treatment(self, uuid: UUID) -> Treatment:
        firm = self.demand("records.view_treatment")
        treatment = treatment_of(firm, uuid, drafts=self.may("records.view_draft"))
        if self.request.method in SAFE:
            note_seen(self.request, firm, treatment)
        return treatment

    def finalize_response(self, request: Request, response: Any, *args: Any, **kwargs: Any) -> Any:
        """What is read has a tag; whoever has it already gets no body again (RFC 9110, 13.1.2)."""
        response = super().finalize_response(request, response, *args, **kwargs)
        if request.method not in SAFE or response.status_code != status.HTTP_200_OK:
            return response
        tag = tag_of(response.render().content)
        response["ETag"] = tag
        if _names(request.headers.get("If-None-Match", ""), tag):
            response.status_code, response.content = status.HTTP_304_NOT_MODIFIED, b""
            response.headers.pop("Content-Type", None)
        return response

    def only_if_unchanged(self, shown: Any) -> None:
        """Raise Changed where `If-Match` names another state than the one that reading would show now."""
        asked = self.request.headers.get("If-Match")
        if asked and not _names(asked, tag_of(self._rendered(shown))):
            raise Changed("Read it again, and send your change for what it is now.")

    def _rendered(self, shown: Any) -> bytes:
        return bytes(self.request.accepted_renderer.render(shown, "application/json", {}))


def in_scope(request: Request, scope: str) -> bool:
    """Whether the token is for this, too; a session is for all that its person may."""
    return not isinstance(request.auth, ProgramToken) or scope in request.auth.scopes


def demand_scope(request: Request, scope: str) -> None:
    if not in_scope(request, scope):
        raise NotInScope(f"This wants a token with the scope {scope}.", scope=scope)


def tag_of(content: bytes) -> str:
    return f'"{sha256(content).hexdigest()[:32]}"'


def _names(header: str, tag: str) -> bool:
    """Whether the header lists this tag. One that compression has marked weak on the way still names it."""
    listed = [each.strip().removeprefix("W/") for each in header.split(",")]
    return ANY in listed or tag in listed

"""What every page of a firm needs: a signed-in member, the firm, and the permission."""

from typing import Any, ClassVar

from django.contrib.auth.mixins import LoginRequiredMixin
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import render
from django.utils.functional import cached_property
from django.utils.translation import get_language
from django.views import View

from records.current_firm import current_membership
from records.log_looks import LogAlarm, alarm_of
from records.models import Firm, Membership, Treatment
from records.pages.seen import SAFE, note_seen
from records.permissions import demand
from records.selectors import treatment_of


class FirmPage(LoginRequiredMixin, View):
    """A page for members. The firm is that of the membership; the permission is asked for first."""

    permission: ClassVar[str] = "records.view_treatment"
    template_name: ClassVar[str]
    _treatment: Treatment | None = None

    def dispatch(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        if request.user.is_authenticated:
            demand(request.user, self.permission, self.firm)
        elif request.htmx:
            return HttpResponse(status=401)
        return super().dispatch(request, *args, **kwargs)

    @cached_property
    def membership(self) -> Membership:
        """Raises PermissionDenied for a user who is in no firm."""
        membership = current_membership(self.request)
        if membership is None:
            raise PermissionDenied("no membership")
        return membership

    @property
    def firm(self) -> Firm:
        return self.membership.firm

    @property
    def language(self) -> str:
        return (get_language() or "en")[:2]

    def treatment(self) -> Treatment:
        """The treatment in the address; Http404 where the firm has none of that id that the user may see.

        That it is shown is noted.
        """
        treatment = treatment_of(self.firm, self.kwargs["uuid"], drafts=self.may("records.view_draft"))
        self._treatment = treatment
        if self.request.method in SAFE:
            note_seen(self.request, self.firm, treatment)
        return treatment

    def may(self, permission: str) -> bool:
        return self.request.user.has_perm(permission, self.firm)

    def log_alarm(self) -> LogAlarm | None:
        """What a manager is to be told of the firm's log."""
        return alarm_of(self.firm) if self.may("records.view_log") else None

    def page(self, status: int = 200, **context: Any) -> HttpResponse:
        """What is shown in answer to a form is noted here; a look was noted before."""
        if self.request.method not in SAFE:
            note_seen(self.request, self.firm, self._treatment)
        shared = {"membership": self.membership, "firm": self.firm}
        return render(self.request, self.template_name, shared | context, status=status)

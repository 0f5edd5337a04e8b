"""The firm's log, for managers: what looks at it came to, its newest head to keep elsewhere, and its keys."""

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _

from records.daily_look import queue_look_at
from records.log_looks import alarm_of, keys_of, looks_at
from records.models import AuditEntry, HeadTimeStamp, TreeHead
from records.pages.firm_page import FirmPage
from records.pages.seen import note_seen, note_taken
from records.services.audit import Thing
from records.services.certificates import certificates_of

MOST_LOOKS = 30


class LogPage(FirmPage):
    permission = "records.view_log"
    template_name = "records/log.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm)
        return self.page(
            looks=looks_at(self.firm, MOST_LOOKS),
            alarm=alarm_of(self.firm),
            head=_newest_head(self),
            certificates=certificates_of(self.firm),
            time_stamp=HeadTimeStamp.objects.for_firm(self.firm).select_related("head").first(),
            keys=keys_of(self.firm),
            may_change_key=self.may("records.change_key"),
            zone=self.firm.time_zone,
        )


class LookAtLog(FirmPage):
    permission = "records.view_log"
    http_method_names = ["post"]

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        """The worker does it: a long log takes longer than a person waits for a page."""
        queue_look_at(self.firm, request.user)
        messages.success(request, _("The log is being looked at. Load this page again to see what it came to."))
        return redirect("log")


class LogHead(FirmPage):
    """The newest signed head, to be kept where nobody who keeps this machine can change it."""

    permission = "records.view_head"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        head = _newest_head(self)
        if head is None:
            raise Http404("nothing is signed")
        note_taken(request, self.firm, Thing("page", "log_head"), AuditEntry.Kind.EXPORTED)
        answer = JsonResponse(head.head, json_dumps_params={"indent": 1})
        answer["Content-Disposition"] = f'attachment; filename="log-head-{head.size}.json"'
        return answer


def _newest_head(page: FirmPage) -> TreeHead | None:
    return TreeHead.objects.for_firm(page.firm).order_by("-size").first()

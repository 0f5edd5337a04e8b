"""Pages that belong to no room: the account and the health answer."""

from django.contrib.auth.decorators import login_required
from django.db import connection
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.templatetags.static import static

from records.current_firm import current_membership, managed_firm


@login_required
def account(request: HttpRequest) -> HttpResponse:
    membership = current_membership(request)
    context = {
        "membership": membership,
        "keeps_reference_data": managed_firm(request),
        "may_bring_in": membership and request.user.has_perm("records.bring_in", membership.firm),
        "may_take_out": membership and request.user.has_perm("records.take_out", membership.firm),
        "may_erase": membership and request.user.has_perm("records.erase_treatment", membership.firm),
        "may_see_head": membership and request.user.has_perm("records.view_head", membership.firm),
        "may_see_log": membership and request.user.has_perm("records.view_log", membership.firm),
        "sees_to_notices": membership
        and request.user.has_perm("records.see_to_notices", membership.firm),
        "may_sign": membership and request.user.has_perm("records.sign_treatment", membership.firm),
    }
    return render(request, "project/account.html", context)


def favicon(request: HttpRequest) -> HttpResponse:
    """Where browsers look for the icon of a page that names none."""
    return redirect(static("project/favicon.svg"))


def no_other_addresses(request: HttpRequest) -> HttpResponse:
    """An account signs in by the one address at which it was invited; the machine's owner changes it."""
    raise Http404("an account has one address")


def health(request: HttpRequest) -> JsonResponse:
    with connection.cursor() as cursor:
        cursor.execute("SELECT 1")
    return JsonResponse({"database": "answers"})

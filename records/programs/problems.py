"""What goes wrong over the API, said as problem details (RFC 9457, Problem Details for HTTP APIs)."""

from collections.abc import Callable, Iterator, Mapping
from http import HTTPStatus
from typing import Any

from django.http import HttpRequest, JsonResponse
from django.http.response import HttpResponseBase
from django.urls import reverse
from django.utils.translation import gettext_lazy as _
from rest_framework import status
from rest_framework.exceptions import APIException, ValidationError
from rest_framework.response import Response
from rest_framework.views import exception_handler

PROBLEM = "application/problem+json"
API = "/api/"
Answer = Callable[[HttpRequest], HttpResponseBase]

TITLES = {
    "invalid": _("What was sent can't be taken."),
    "not-signed-in": _("No valid token or session."),
    "not-allowed": _("This is not allowed."),
    "not-in-scope": _("The token may not do this."),
    "not-there": _("There is no such thing here."),
    "no-such-method": _("This address does not take this method."),
    "not-acceptable": _("It can't be given in a form that was asked for."),
    "conflict": _("The state of things does not allow it."),
    "changed": _("It has changed since you read it."),
    "too-large": _("This is larger than what is taken."),
    "not-json": _("Send JSON."),
    "key-used": _("This key was sent with another call."),
    "too-often": _("This was asked too often."),
    "no-signing-key": _("The signing key can't be used."),
    "fault": _("A fault of the service. Nothing was changed."),
}
"""Each kind of problem; its `type` leads to it in the description of the API."""
_BY_STATUS = {
    400: "invalid", 401: "not-signed-in", 403: "not-allowed", 404: "not-there", 405: "no-such-method",
    406: "not-acceptable", 409: "conflict", 412: "changed", 413: "too-large", 415: "not-json", 422: "key-used",
    429: "too-often",
}  # fmt: skip


class Problem(APIException):
    """A problem of one of these kinds."""

    kind: str = "conflict"

    def __init__(self, detail: Any = None, **more: Any) -> None:
        super().__init__(detail or TITLES[self.kind])
        self.more = more


class Conflicted(Problem):
    """The state of the treatment does not allow it."""

    status_code = status.HTTP_409_CONFLICT


class NotInScope(Problem):
    """The token is for other things."""

    status_code, kind = status.HTTP_403_FORBIDDEN, "not-in-scope"


class Changed(Problem):
    """It is no longer what the caller read."""

    status_code, kind = status.HTTP_412_PRECONDITION_FAILED, "changed"


class KeyUsed(Problem):
    """The key of this call came with another one."""

    status_code, kind = status.HTTP_422_UNPROCESSABLE_ENTITY, "key-used"


def problem(code: int, kind: str = "", detail: str = "", **more: Any) -> dict[str, Any]:
    kind = kind or _BY_STATUS.get(code, "fault" if code >= HTTPStatus.INTERNAL_SERVER_ERROR else "invalid")
    said = {
        "type": f"{reverse('described_api')}#{kind}",
        "title": str(TITLES[kind]),
        "status": code,
        "detail": detail,
    }
    return {name: value for name, value in said.items() if value} | more


def answer_problem(error: Exception, context: Mapping[str, Any]) -> Response | None:
    """The framework's answer to an error of a view, as problem details; None for a fault of ours."""
    response = exception_handler(error, dict(context))
    if response is None:
        return None
    kind, more = getattr(error, "kind", ""), getattr(error, "more", {})
    detail = response.data.get("detail", "") if isinstance(response.data, dict) else ""
    if isinstance(error, ValidationError):
        detail, more = "", {"errors": list(_pointed(response.data))}
    response.data = problem(response.status_code, kind, str(detail), **more)
    response.content_type = PROBLEM
    return response


def _pointed(errors: Any, at: str = "#") -> Iterator[dict[str, str]]:
    """Each sentence with the place that it is about, as a JSON pointer (RFC 6901)."""
    if isinstance(errors, Mapping):
        for name, each in errors.items():
            here = at if name == "non_field_errors" else f"{at}/{name}"
            yield from _pointed(each, here)
    elif isinstance(errors, list):
        for index, each in enumerate(errors):
            if isinstance(each, Mapping | list):
                yield from _pointed(each, f"{at}/{index}")
            else:
                yield {"pointer": at, "detail": str(each)}
    else:
        yield {"pointer": at, "detail": str(errors)}


def problems_told(answer: Answer) -> Answer:
    """A middleware: what is refused under the API's addresses around its views, and a fault of ours, is a
    problem as well."""

    def middleware(request: HttpRequest) -> HttpResponseBase:
        response = answer(request)
        refused = request.path.startswith(API) and response.status_code >= HTTPStatus.BAD_REQUEST
        if not refused or response.get("Content-Type", "") == PROBLEM:
            return response
        told = JsonResponse(problem(response.status_code), status=response.status_code, content_type=PROBLEM)
        for name, value in response.headers.items():
            if not name.lower().startswith("content-"):
                told.headers.setdefault(name, value)
        return told

    return middleware

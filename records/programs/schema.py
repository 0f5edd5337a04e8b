"""The description of the API (OpenAPI 3.1): what all calls have in common is said for each."""

from typing import Any

from drf_spectacular.openapi import AutoSchema
from drf_spectacular.utils import OpenApiParameter

from records.models import Hook
from records.programs.problems import PROBLEM
from records.programs.views import FirmView

Json = dict[str, Any]
READS = "GET"
_TAG = OpenApiParameter(
    "If-None-Match", str, OpenApiParameter.HEADER, description="A tag that you have: 304 where it still holds."
)
_STILL = OpenApiParameter(
    "If-Match", str, OpenApiParameter.HEADER, description="The tag of what you read: 412 where it has changed."
)
PROBLEM_SHAPE: Json = {
    "type": "object",
    "description": "What went wrong (RFC 9457).",
    "required": ["type", "title", "status"],
    "properties": {
        "type": {"type": "string", "description": "The kind of problem, as an address that explains it."},
        "title": {"type": "string"},
        "status": {"type": "integer"},
        "detail": {"type": "string"},
        "scope": {"type": "string", "description": "What the token would have to be for."},
        "errors": {
            "type": "array",
            "description": "Each fault of what was sent, with the place that it is about.",
            "items": {
                "type": "object",
                "required": ["pointer", "detail"],
                "properties": {
                    "pointer": {"type": "string", "description": "A JSON pointer (RFC 6901)."},
                    "detail": {"type": "string"},
                },
            },
        },
    },
}


MESSAGE_SHAPE: Json = {
    "type": "object",
    "required": ["id", "event", "at", "about"],
    "properties": {
        "id": {"type": "string", "format": "uuid", "description": "The same when it is told again."},
        "event": {"type": "string"},
        "at": {"type": "string", "format": "date-time"},
        "about": {"type": "object", "description": "The ids of what it is about, and what happened to it."},
    },
}


class CallSchema(AutoSchema):
    """One call of the API, with its scope as `x-scope`."""

    def get_tags(self) -> list[str]:
        parts = [part for part in self.path.removeprefix("/api/v1/").split("/") if part]
        return parts[:1]

    def get_operation_id(self) -> str:
        parts = [part.strip("{}") for part in self.path.removeprefix("/api/v1/").split("/") if part]
        return "_".join(["read" if self.method == READS else "send", *parts])

    def get_description(self) -> str:
        """What was written for those who call; docstrings are for those who mend."""
        return ""

    def get_override_parameters(self) -> list[OpenApiParameter]:
        given = list(super().get_override_parameters())
        if not isinstance(self.view, FirmView):
            return given
        if self.method == READS:
            return [*given, _TAG]
        return given + ([_STILL] if self.view.takes_if_match else []) + self.view.key_parameters()

    def get_operation(self, *args: Any, **kwargs: Any) -> Json | None:
        operation: Json | None = super().get_operation(*args, **kwargs)
        if operation is not None and isinstance(self.view, FirmView):
            operation["x-scope"] = self.view.scope if self.method == READS else self.view.write_scope
        return operation


def with_problems(result: Json, **_kwargs: Any) -> Json:
    """A postprocessing hook: every call may be refused, and reading may answer that nothing changed."""
    result["components"]["schemas"]["Problem"] = PROBLEM_SHAPE
    content = {PROBLEM: {"schema": {"$ref": "#/components/schemas/Problem"}}}
    for calls in result["paths"].values():
        for method, call in calls.items():
            call["responses"]["4XX"] = {"description": "Refused.", "content": content}
            call["responses"]["5XX"] = {"description": "A fault of the service.", "content": content}
            if method == READS.lower() and "x-scope" in call:
                call["responses"]["304"] = {"description": "It is what you have."}
    result["webhooks"] = {each.value: _hook(str(each.label)) for each in Hook.Event}
    return result


def _hook(about: str) -> Json:
    content = {"application/json": {"schema": MESSAGE_SHAPE}}
    body = {"required": True, "content": content}
    return {"post": {"summary": about, "requestBody": body, "responses": {"2XX": {"description": "Taken."}}}}

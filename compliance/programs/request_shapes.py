"""How requests for records look over the API."""

from typing import Any

from rest_framework import serializers

from compliance.models import RecordsRequest
from compliance.services import request_matches
from records.document.time_kinds import YEARS
from records.register_search import counted
from shared import clock


class RequestSerializer(serializers.Serializer):
    """A request for records. `wanted` is what the register is asked for, by the names of its parameters."""

    id = serializers.UUIDField(source="uuid")
    asked_by = serializers.ChoiceField(RecordsRequest.Asker.choices)
    name = serializers.CharField()
    reference = serializers.CharField()
    means = serializers.ChoiceField(RecordsRequest.Means.choices)
    received_at = serializers.DateTimeField()
    asked_for = serializers.CharField()
    wanted = serializers.DictField(child=serializers.CharField())
    duty = serializers.CharField()
    due_at = serializers.DateTimeField(allow_null=True)
    due_from = serializers.CharField(
        help_text="Whose word it is: rule, typed, assumed (the soonest we know, for who treats) or nobody's."
    )
    made_at = serializers.DateTimeField()
    closed_at = serializers.DateTimeField(allow_null=True)
    closed_why = serializers.CharField()


class OneRequestSerializer(RequestSerializer):
    """With how many records meet it; null is more than 10,000."""

    signed = serializers.SerializerMethodField()
    unsigned = serializers.SerializerMethodField()
    void = serializers.SerializerMethodField()

    def get_signed(self, row: RecordsRequest) -> int | None:
        return counted(request_matches.signed_matches(row))

    def get_unsigned(self, row: RecordsRequest) -> int | None:
        return counted(request_matches.unsigned_matches(row))

    def get_void(self, row: RecordsRequest) -> int | None:
        return counted(request_matches.void_matches(row))


class NewRequestSerializer(serializers.Serializer):
    """`duty` is one of those that the page offers: the pack, a colon, and the paragraph."""

    asked_by = serializers.ChoiceField(RecordsRequest.Asker.choices)
    name = serializers.CharField(max_length=200)
    contact = serializers.CharField(max_length=300, default="", allow_blank=True)
    reference = serializers.CharField(max_length=100, default="", allow_blank=True)
    means = serializers.ChoiceField(RecordsRequest.Means.choices)
    received_at = serializers.DateTimeField()
    asked_for = serializers.CharField(max_length=2000)
    wanted = serializers.DictField(child=serializers.CharField(max_length=300), default=dict)
    duty = serializers.CharField(max_length=300, default="", allow_blank=True)
    due_at = serializers.DateTimeField(required=False)

    def validate(self, given: dict[str, Any]) -> dict[str, Any]:
        received, due = given["received_at"], given.get("due_at")
        _refuse(received.year not in YEARS or received > clock.now(), "received_at", "It can't have come then.")
        _refuse(due is not None and due.year not in YEARS, "due_at", "There is no such time.")
        _refuse(due is not None and due < received, "due_at", "This is before the request came.")
        return given


class TakenSerializer(serializers.Serializer):
    id = serializers.UUIDField()
    due_at = serializers.DateTimeField(allow_null=True)
    due_from = serializers.CharField()
    address = serializers.CharField()


class CloseSerializer(serializers.Serializer):
    why = serializers.CharField(max_length=500)


class ClosedSerializer(serializers.Serializer):
    id = serializers.UUIDField()
    closed_at = serializers.DateTimeField()


def _refuse(wrong: bool, name: str, words: str) -> None:
    if wrong:
        raise serializers.ValidationError({name: [words]})

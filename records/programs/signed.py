"""Signed records over the API: each version as the file that carries its own proof."""

from typing import Any
from uuid import UUID

from django.utils.translation import gettext_lazy as _
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from records.models import AuditEntry, SignedRecord
from records.pages.seen import note_taken
from records.programs.views import FirmView
from records.record_files import record_file
from records.selectors import signed_record_of, signed_versions


class VersionSerializer(serializers.Serializer):
    version = serializers.IntegerField()
    kind = serializers.ChoiceField(SignedRecord.Kind.choices)
    digest = serializers.CharField()
    received_at = serializers.DateTimeField()
    holds = serializers.SerializerMethodField(help_text="Whether no later version replaces it.")

    def get_holds(self, record: SignedRecord) -> bool:
        return bool(record.version == self.context["newest"])


class VersionsSerializer(serializers.Serializer):
    items = VersionSerializer(many=True)


class VersionsView(FirmView):
    @extend_schema(responses=VersionsSerializer, summary=_("The signed versions of a treatment"))
    def get(self, request: Request, uuid: UUID) -> Response:
        """The newest first; of a draft there is none."""
        rows = list(signed_versions(self.treatment(uuid)))
        newest = rows[0].version if rows else 0
        return Response({"items": VersionSerializer(rows, many=True, context={"newest": newest}).data})


class VersionView(FirmView):
    """`check` is what the rules said, where the caller may see it."""

    def check(self, _record: SignedRecord) -> dict[str, Any] | None:
        return None

    @extend_schema(responses={200: dict}, summary=_("A signed record with its proof"))
    def get(self, request: Request, uuid: UUID, version: int) -> Response:
        """The record as `record-file/1`: document, signature, follow-ups, and its place in the log."""
        firm = self.demand("records.view_treatment")
        record = signed_record_of(firm, uuid, version)
        note_taken(request, firm, record, AuditEntry.Kind.EXPORTED)
        return Response(record_file(record, self.check(record)))

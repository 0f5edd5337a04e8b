"""The treatment document over HTTP: read it, edit it by path."""

from typing import Any
from uuid import UUID

from django.utils.translation import gettext_lazy as _
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from records.api_json import said
from records.document.edits import LONGEST_PATH, MOST_EDITS, Edit
from records.document.faults import DocumentFaults
from records.models import Treatment
from records.programs.calls import sent
from records.programs.problems import Conflicted
from records.programs.repeats import Repeatable
from records.programs.views import FirmView
from records.services.drafts import NotADraftError, WrittenFromRowsError, edit_draft

HIGHEST_REVISION = 2**31 - 1


class EditSerializer(serializers.Serializer):
    id = serializers.CharField(
        max_length=64, help_text="Made where the edit is made; a repeat changes nothing."
    )
    path = serializers.CharField(
        max_length=LONGEST_PATH, help_text="By ids: weather.readings[<uuid>].wind_speed"
    )
    value = serializers.JSONField(
        allow_null=True, help_text="As typed, or as JSON; null takes the member out."
    )
    base_revision = serializers.IntegerField(
        min_value=0, max_value=HIGHEST_REVISION, help_text="The revision that the edit was made on."
    )


class EditsSerializer(serializers.Serializer):
    edits = EditSerializer(many=True, max_length=MOST_EDITS)


class TreatmentSerializer(serializers.Serializer):
    """A treatment's working document, with what was typed and not understood."""

    id = serializers.UUIDField(source="uuid")
    number = serializers.CharField()
    state = serializers.CharField()
    revision = serializers.IntegerField()
    document = serializers.JSONField()
    unread = serializers.JSONField()


class ConflictSerializer(serializers.Serializer):
    """An edit that was not applied, since the member was changed in `changed_in`; it now holds `current`."""

    path = serializers.CharField(source="edit.path")
    value = serializers.JSONField(source="edit.value")
    current = serializers.JSONField()
    changed_in = serializers.IntegerField()


class OutcomeSerializer(serializers.Serializer):
    revision = serializers.IntegerField()
    document = serializers.JSONField()
    unread = serializers.JSONField()
    conflicts = ConflictSerializer(many=True)


class TreatmentView(FirmView):
    @extend_schema(responses=TreatmentSerializer, summary=_("Read a treatment"))
    def get(self, request: Request, uuid: UUID) -> Response:
        """The treatment and its document."""
        return Response(TreatmentSerializer(self.treatment(uuid)).data)


class EditsView(Repeatable, FirmView):
    takes_if_match = True

    def do(self, request: Request, uuid: UUID) -> Response:
        """Apply edits; what conflicts or cannot be read is told and kept, the rest is applied."""
        treatment = self.treatment(uuid)
        self.only_if_unchanged(TreatmentSerializer(treatment).data)
        edits = [Edit(**edit) for edit in sent(EditsSerializer, request.data)["edits"]]
        return Response(OutcomeSerializer(self._apply(treatment, edits)).data)

    def _apply(self, treatment: Treatment, edits: list[Edit]) -> Any:
        try:
            return edit_draft(treatment, edits, self.request.user)
        except NotADraftError as error:
            raise Conflicted("The treatment is signed.") from error
        except DocumentFaults as error:
            raise serializers.ValidationError({"edits": said(error)}) from error
        except WrittenFromRowsError as error:
            raise Conflicted(f"{error}: this member is written from reference data.") from error

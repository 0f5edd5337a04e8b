"""The check of a treatment, and its signature, over HTTP."""

import logging
from datetime import datetime
from uuid import UUID

from drf_spectacular.utils import extend_schema
from rest_framework import serializers, status
from rest_framework.exceptions import APIException
from rest_framework.request import Request
from rest_framework.response import Response

from compliance.services.check import check_treatment
from compliance.services.password import TooManyTriesError, WrongPasswordError
from compliance.services.sealed_later import fit_later
from compliance.services.signing import (
    LONGEST_REASON,
    OtherThanShownError,
    UnansweredError,
    prepare,
    sign_treatment,
)
from records.api import Conflicted, EditsSerializer, EditsView, FirmView, OutcomeSerializer
from records.document.canonical import as_json
from records.document.time_kinds import YEARS
from records.models import SignedRecord, Treatment
from records.permissions import demand
from records.services.declaring import declaration_of, declare
from records.services.drafts import NotADraftError
from records.services.keys import SigningKeyError
from records.services.signing import DraftChangedError, UnreadEntriesError
from records.services.to_sign import ImplausibleTimeError, Signer

logger = logging.getLogger(__name__)


class CannotSign(APIException):
    """The firm's signing key can't be used."""

    status_code = status.HTTP_503_SERVICE_UNAVAILABLE
    default_detail = "The firm's signing key is missing or damaged on this machine; nothing was signed."
    default_code = "no_key"


class AnswerSerializer(serializers.Serializer):
    """Why an open required finding is as it is; `rule` and `about` name the finding."""

    rule = serializers.CharField(max_length=200)
    about = serializers.ListField(child=serializers.CharField(max_length=400))
    reason = serializers.CharField(max_length=LONGEST_REASON)


class MomentsSerializer(serializers.Serializer):
    """When the record was made, as the signer claims, and what the device's clock said; a device without
    signal sends both later. Without a claim the device's clock stands for it."""

    claimed_at = serializers.DateTimeField(required=False, default=None)
    device_at = serializers.DateTimeField(required=False, default=None)

    def validate_claimed_at(self, value: datetime | None) -> datetime | None:
        if value and value.year not in YEARS:
            raise serializers.ValidationError(f"Give a time of the years {YEARS.start} to {YEARS.stop - 1}.")
        return value

    validate_device_at = validate_claimed_at


class SignatureSerializer(MomentsSerializer):
    revision = serializers.IntegerField(min_value=0, help_text="The revision that the signer looked at.")
    shown = serializers.CharField(max_length=80, help_text="The digest of what the signer was shown.")
    password = serializers.CharField(trim_whitespace=False, write_only=True)
    declares = serializers.BooleanField(
        default=False,
        help_text="Wanted once, with a person's first signature in the firm: the words of /account/signature/.",
    )
    answers = AnswerSerializer(many=True, required=False, default=list)


class ToSignSerializer(serializers.Serializer):
    """What would be signed now. `shown` is sent back with the signature and says that the signer saw this."""

    revision = serializers.IntegerField()
    document = serializers.JSONField()
    shown = serializers.CharField()
    open_findings = serializers.JSONField(help_text="Each wants an answer.")


class SignedSerializer(serializers.Serializer):
    number = serializers.CharField(source="treatment.number")
    version = serializers.IntegerField()
    kind = serializers.CharField()
    digest = serializers.CharField()
    received_at = serializers.DateTimeField()


class CheckView(FirmView):
    @extend_schema(responses={200: dict})
    def get(self, request: Request, uuid: UUID) -> Response:
        """What the rules say of the working document now, as `stored-check/1`."""
        treatment = self.treatment(uuid)
        demand(request.user, "compliance.view_checks", treatment)
        return Response(check_treatment(treatment).stored())


class SealedAgainSerializer(OutcomeSerializer):
    """`sealed`: these edits make the draft what its person had sealed on a device; it is signed with that."""

    sealed = SignedSerializer(allow_null=True)


class EditsThenSealsView(EditsView):
    @extend_schema(request=EditsSerializer, responses=SealedAgainSerializer)
    def post(self, request: Request, uuid: UUID) -> Response:
        """Apply edits; what conflicts or cannot be read is told and kept, the rest is applied."""
        answer = super().post(request, uuid)
        fits = fit_later(self.treatment(uuid), request.user)
        record = fits and fits.later_fit.signed_record
        answer.data["sealed"] = SignedSerializer(record).data if record else None
        return answer


class SignView(FirmView):
    @extend_schema(parameters=[MomentsSerializer], responses=ToSignSerializer)
    def get(self, request: Request, uuid: UUID) -> Response:
        """What would be signed: the document, its digest, and the findings that want an answer."""
        treatment = self.treatment(uuid)
        demand(request.user, "records.sign_treatment", treatment)
        if not treatment.is_open:
            raise Conflicted("The treatment is signed.")
        moments = MomentsSerializer(data=request.query_params)
        moments.is_valid(raise_exception=True)
        prepared = prepare(treatment, Signer.who_states(request.user, **moments.validated_data))
        shown = {
            "revision": treatment.revision,
            "document": as_json(prepared.document),
            "shown": prepared.shown,
            "open_findings": prepared.open_findings,
        }
        return Response(ToSignSerializer(shown).data)

    @extend_schema(request=SignatureSerializer, responses={201: SignedSerializer})
    def post(self, request: Request, uuid: UUID) -> Response:
        """Sign the draft; the same request sent again answers with the first record."""
        treatment = self.treatment(uuid)
        given = SignatureSerializer(data=request.data)
        given.is_valid(raise_exception=True)
        try:
            record = self._sign(treatment, given.validated_data)
        except UnansweredError as error:
            return Response({"answers": error.findings}, status=status.HTTP_400_BAD_REQUEST)
        return Response(SignedSerializer(record).data, status=status.HTTP_201_CREATED)

    def _sign(self, treatment: Treatment, given: dict) -> SignedRecord:
        user, declares = self.request.user, given.pop("declares")
        if not declares and declaration_of(treatment.firm, user) is None:
            raise Conflicted("Say first, with `declares`, that your signature binds you.")
        record = self._signed(treatment, given)
        declare(treatment.firm, user, "en")
        return record

    def _signed(self, treatment: Treatment, given: dict) -> SignedRecord:
        try:
            return sign_treatment(treatment, self.request.user, **given)
        except WrongPasswordError as error:
            raise serializers.ValidationError({"password": ["This is not your password."]}) from error
        except TooManyTriesError as error:
            raise serializers.ValidationError({"password": ["Wrong too often; wait."]}) from error
        except ImplausibleTimeError as error:
            raise serializers.ValidationError({"claimed_at": [f"{error}."]}) from error
        except SigningKeyError as error:
            logger.error("%s", error)
            raise CannotSign from error
        except OtherThanShownError as error:
            raise Conflicted("Reference data changed: this is not what the signer was shown.") from error
        except DraftChangedError as error:
            raise Conflicted("The draft was changed meanwhile.") from error
        except UnreadEntriesError as error:
            raise Conflicted("Some entries could not be read.") from error
        except NotADraftError as error:
            raise Conflicted("The treatment is signed.") from error

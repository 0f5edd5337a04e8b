"""The check of a treatment, and its signature, over HTTP."""

from uuid import UUID

from drf_spectacular.utils import extend_schema
from rest_framework import serializers, status
from rest_framework.request import Request
from rest_framework.response import Response

from compliance.services.check import check_treatment
from compliance.services.password import TooManyTriesError, WrongPasswordError
from compliance.services.signing import UnansweredError, sign_treatment
from records.api import Conflicted, FirmView
from records.models import SignedRecord, Treatment
from records.services.drafts import NotADraftError
from records.services.signing import DraftChangedError, UnreadEntriesError


class AnswerSerializer(serializers.Serializer):
    """Why an open required finding is as it is; `rule` and `about` name the finding."""

    rule = serializers.CharField(max_length=200)
    about = serializers.ListField(child=serializers.CharField(max_length=400))
    reason = serializers.CharField(max_length=2000)


class SignatureSerializer(serializers.Serializer):
    revision = serializers.IntegerField(min_value=0, help_text="The revision that the signer looked at.")
    password = serializers.CharField(trim_whitespace=False, write_only=True)
    answers = AnswerSerializer(many=True, required=False, default=list)
    claimed_at = serializers.DateTimeField(required=False, default=None)
    device_at = serializers.DateTimeField(required=False, default=None)


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
        return Response(check_treatment(self.treatment(uuid)).stored())


class SignView(FirmView):
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
        try:
            return sign_treatment(treatment, self.request.user, **given)
        except WrongPasswordError as error:
            raise serializers.ValidationError({"password": ["This is not your password."]}) from error
        except TooManyTriesError as error:
            raise serializers.ValidationError({"password": ["Wrong too often; wait."]}) from error
        except DraftChangedError as error:
            raise Conflicted("The draft was changed meanwhile.") from error
        except UnreadEntriesError as error:
            raise Conflicted("Some entries could not be read.") from error
        except NotADraftError as error:
            raise Conflicted("The treatment is signed.") from error

"""The check of a treatment, and its signature, over HTTP."""

import logging
from uuid import UUID

from django.utils.translation import gettext_lazy as _
from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import serializers, status
from rest_framework.request import Request
from rest_framework.response import Response

from compliance.programs.shapes import (
    MomentsSerializer,
    SignatureSerializer,
    SignedSerializer,
    ToSignSerializer,
)
from compliance.services.check import check_treatment
from compliance.services.password import TooManyTriesError, WrongPasswordError
from compliance.services.sealed_later import fit_later
from compliance.services.signing import (
    OtherThanShownError,
    UnansweredError,
    prepare,
    sign_treatment,
)
from records.api import EditsSerializer, EditsView, OutcomeSerializer
from records.document.canonical import as_json
from records.models import SignedRecord, Treatment
from records.pages.lots_aside_said import lots_aside_of, note_used
from records.permissions import demand
from records.programs.calls import sent
from records.programs.problems import Conflicted, Problem
from records.programs.repeats import Repeatable
from records.programs.views import FirmView
from records.services.declaring import declaration_of, declare
from records.services.drafts import NotADraftError
from records.services.keys import SigningKeyError
from records.services.signing import DraftChangedError, UnreadEntriesError
from records.services.to_sign import ImplausibleTimeError, Signer

logger = logging.getLogger(__name__)


NO_KEY = "The firm's signing key is missing or damaged on this machine; nothing was signed."


class CannotSign(Problem):
    """The firm's signing key can't be used."""

    status_code, kind = status.HTTP_503_SERVICE_UNAVAILABLE, "no-signing-key"


class Unanswered(Problem):
    """Required findings are open; each wants an answer."""

    status_code, kind = status.HTTP_400_BAD_REQUEST, "invalid"


class CheckView(FirmView):
    scope = "read-findings"

    @extend_schema(responses={200: dict}, summary=_("Check a draft by the rules"))
    def get(self, request: Request, uuid: UUID) -> Response:
        """What the rules say of the working document now, as `stored-check/1`."""
        treatment = self.treatment(uuid)
        demand(request.user, "compliance.view_checks", treatment)
        return Response(check_treatment(treatment).stored())


class SealedAgainSerializer(OutcomeSerializer):
    """`sealed`: these edits make the draft what its person had sealed on a device; it is signed with that."""

    sealed = SignedSerializer(allow_null=True)


@extend_schema_view(
    post=extend_schema(
        request=EditsSerializer,
        responses=SealedAgainSerializer,
        summary=_("Write into a draft"),
        description="Apply edits; what conflicts or cannot be read is told and kept, the rest is applied.",
    )
)
class EditsThenSealsView(EditsView):
    def do(self, request: Request, uuid: UUID) -> Response:
        answer = super().do(request, uuid)
        fits = fit_later(self.treatment(uuid), request.user)
        record = fits and fits.later_fit.signed_record
        answer.data["sealed"] = SignedSerializer(record).data if record else None
        return answer


@extend_schema_view(
    post=extend_schema(
        request=SignatureSerializer,
        responses={201: SignedSerializer},
        summary=_("Sign a draft"),
        description="The same request sent again answers with the first record.",
    )
)
class SignView(Repeatable, FirmView):
    scope = write_scope = "sign-records"

    @extend_schema(
        parameters=[MomentsSerializer], responses=ToSignSerializer, summary=_("See what would be signed")
    )
    def get(self, request: Request, uuid: UUID) -> Response:
        """What would be signed: the document, its digest, and the findings that want an answer."""
        treatment = self.treatment(uuid)
        demand(request.user, "records.sign_treatment", treatment)
        if not treatment.is_open:
            raise Conflicted("The treatment is signed.")
        moments = sent(MomentsSerializer, request.query_params)
        prepared = prepare(treatment, Signer.who_states(request.user, **moments))
        shown = {
            "revision": treatment.revision,
            "document": as_json(prepared.document),
            "shown": prepared.shown,
            "open_findings": prepared.open_findings,
            "lots_aside": lots_aside_of(treatment),
        }
        return Response(ToSignSerializer(shown).data)

    def do(self, request: Request, uuid: UUID) -> Response:
        treatment = self.treatment(uuid)
        try:
            record = self._sign(treatment, sent(SignatureSerializer, request.data))
        except UnansweredError as error:
            raise Unanswered("Each open finding wants an answer.", answers=error.findings) from error
        return Response(SignedSerializer(record).data, status=status.HTTP_201_CREATED)

    def _sign(self, treatment: Treatment, given: dict) -> SignedRecord:
        user, declares = self.request.user, given.pop("declares")
        if not declares and declaration_of(treatment.firm, user) is None:
            raise Conflicted("Say first, with `declares`, that your signature binds you.")
        aside, used = lots_aside_of(treatment), given.pop("used_aside")
        if aside and not used:
            named = ", ".join(f"{each.product.name}, {each.number}" for each in aside)
            said = f"Set aside, not to be used: {named}. Say with `used_aside` that it was really used."
            raise Conflicted(said)
        record = self._signed(treatment, given)
        note_used(treatment, aside, user)
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
            raise CannotSign(NO_KEY) from error
        except OtherThanShownError as error:
            raise Conflicted("Reference data changed: this is not what the signer was shown.") from error
        except DraftChangedError as error:
            raise Conflicted("The draft was changed meanwhile.") from error
        except UnreadEntriesError as error:
            raise Conflicted("Some entries could not be read.") from error
        except NotADraftError as error:
            raise Conflicted("The treatment is signed.") from error

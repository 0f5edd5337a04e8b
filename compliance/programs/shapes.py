"""What is sent and answered around a signature over the API."""

from datetime import datetime

from rest_framework import serializers

from compliance.services.signing import LONGEST_REASON
from records.document.time_kinds import YEARS


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
    used_aside = serializers.BooleanField(
        default=False, help_text="Wanted where `lots_aside` names a lot: that it was really used all the same."
    )


class LotAsideSerializer(serializers.Serializer):
    """A lot that the document names and that is set aside, not to be used."""

    lot = serializers.CharField(source="number")
    product = serializers.CharField(source="product.name")
    why = serializers.CharField(source="move.why")


class ToSignSerializer(serializers.Serializer):
    """What would be signed now. `shown` is sent back with the signature and says that the signer saw this."""

    revision = serializers.IntegerField()
    document = serializers.JSONField()
    shown = serializers.CharField()
    open_findings = serializers.JSONField(help_text="Each wants an answer.")
    lots_aside = LotAsideSerializer(many=True)


class SignedSerializer(serializers.Serializer):
    number = serializers.CharField(source="treatment.number")
    version = serializers.IntegerField()
    kind = serializers.CharField()
    digest = serializers.CharField()
    received_at = serializers.DateTimeField()

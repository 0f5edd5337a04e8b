"""How bundles, and what was handed over, look over the API."""

from django.conf import settings
from rest_framework import serializers

from compliance.models import Handing, RequestAnswer
from records.forms.hand_over import SECTIONS


class BundleSerializer(serializers.Serializer):
    """A bundle: `done` of `of_all` versions are in. `digest` is of the very file, once it is there."""

    id = serializers.UUIDField(source="uuid")
    state = serializers.ChoiceField(Handing.State.choices)
    done = serializers.IntegerField()
    of_all = serializers.IntegerField()
    records = serializers.SerializerMethodField()
    to = serializers.CharField()
    how = serializers.CharField()
    withheld = serializers.ListField(child=serializers.CharField())
    photos = serializers.BooleanField()
    findings = serializers.BooleanField()
    at = serializers.DateTimeField()
    ready_at = serializers.DateTimeField(allow_null=True)
    size = serializers.IntegerField()
    digest = serializers.CharField()
    handed_over = serializers.SerializerMethodField(help_text="Whether it was taken out.")

    def get_records(self, row: Handing) -> int:
        return len(row.treatments)

    def get_handed_over(self, row: Handing) -> bool:
        return bool(row.answers.all())


class NewBundleSerializer(serializers.Serializer):
    """What goes in, and to whom it will go. `withheld` is named each time: [] leaves nothing out."""

    to = serializers.CharField(max_length=200)
    how = serializers.CharField(max_length=200)
    language = serializers.ChoiceField(settings.LANGUAGES, default="en")
    withheld = serializers.ListField(child=serializers.ChoiceField(SECTIONS), max_length=len(SECTIONS))
    sheets = serializers.ListField(
        child=serializers.ChoiceField(settings.LANGUAGES), default=list, max_length=len(settings.LANGUAGES)
    )
    photos = serializers.BooleanField(default=False)
    findings = serializers.BooleanField(default=False)


class BegunSerializer(serializers.Serializer):
    id = serializers.UUIDField()
    address = serializers.CharField()


class HandedOverSerializer(serializers.Serializer):
    """A bundle that was handed over, with the digest of the very file."""

    id = serializers.UUIDField(source="uuid")
    at = serializers.DateTimeField()
    to = serializers.CharField()
    how = serializers.CharField()
    records = serializers.SerializerMethodField()
    withheld = serializers.ListField(child=serializers.CharField())
    digest = serializers.CharField()
    size = serializers.IntegerField()

    def get_records(self, row: RequestAnswer) -> int:
        return len(row.treatments)

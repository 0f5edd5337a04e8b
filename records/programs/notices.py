"""What became of notices, over the API: whom they went to stays in the house."""

from django.utils.translation import gettext_lazy as _
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from records.models import Notice
from records.pages.seen import note_seen
from records.programs.pages import PageQuery, asked, newest_first, page, page_shape, row_of
from records.programs.views import FirmView


class NoticeQuery(PageQuery):
    treatment = serializers.UUIDField(required=False)
    state = serializers.ChoiceField(Notice.State.choices, required=False)


class NoticeSerializer(serializers.Serializer):
    """A notice without who was told and what it said; `digest` is over the whole of it."""

    id = serializers.UUIDField(source="uuid")
    treatment = serializers.UUIDField(source="treatment_id")
    to = serializers.CharField(help_text="As what they are told: neighbour, customer, ...")
    means = serializers.CharField()
    rules = serializers.ListField(child=serializers.CharField())
    state = serializers.ChoiceField(Notice.State.choices)
    planned_at = serializers.DateTimeField()
    latest = serializers.DateTimeField(allow_null=True, help_text="Until when it is in time.")
    made_at = serializers.DateTimeField()
    sent_at = serializers.DateTimeField(allow_null=True)
    delivered_at = serializers.DateTimeField(allow_null=True)
    digest = serializers.CharField()


class NoticesView(FirmView):
    scope = "read-notices"

    @extend_schema(
        parameters=[NoticeQuery], responses=page_shape(NoticeSerializer), summary=_("What became of notices")
    )
    def get(self, request: Request) -> Response:
        """The newest first."""
        firm, query = self.demand("records.send_notices"), asked(request, NoticeQuery)
        rows = Notice.objects.for_firm(firm)
        last = row_of(rows, query.get("after"))
        named = {"treatment_id": query.get("treatment"), "state": query.get("state")}
        wanted = rows.filter(**{name: value for name, value in named.items() if value})
        note_seen(request, firm)
        return page(request, newest_first(wanted, "made_at", last), query["limit"], NoticeSerializer)

"""The description of the API as a page, drawn on the server: it needs no network and no script."""

from functools import cache
from typing import Any

from django.http import HttpRequest, HttpResponse
from drf_spectacular.generators import SchemaGenerator

from records.pages.firm_page import FirmPage
from records.programs.described import Described, described
from records.programs.problems import TITLES


@cache
def _described(_language: str) -> Described:
    """In the language of the request; it is the same until the service is started anew."""
    return described(SchemaGenerator().get_schema(public=True))


class ApiDescribed(FirmPage):
    permission = "records.use_programs"
    template_name = "records/api_described.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        address = request.build_absolute_uri("/api/v1/")
        return self.page(said=_described(self.language), problems=TITLES.items(), address=address)

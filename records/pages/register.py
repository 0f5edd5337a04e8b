"""The register: every treatment of the firm, searched, sorted and paged by key."""

from functools import cached_property
from typing import Any
from urllib.parse import urlencode
from uuid import UUID

from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils.formats import number_format

from records.forms.register_search import RegisterSearch, offer_places, search_in
from records.models import SavedView, Treatment
from records.pages.firm_page import FirmPage
from records.pages.seen import note_seen
from records.register_search import COUNTED, LINE, Found, found_in, page_after
from records.services.saved_views import views_for

PAGE, VIEWS = 25, 8
NO_SEARCH = ("after", "count")
"""What an address has beside the search."""


def address_of(view: SavedView) -> str:
    """The register as a saved view asks for it."""
    return f"{reverse('register')}?{urlencode(view.search)}"


def grouped(number: int | None) -> str:
    """A large number as a person reads it."""
    return "" if number is None else number_format(number, force_grouping=True)


class RegisterPage(FirmPage):
    """A page about what a search of the register finds."""

    @cached_property
    def search(self) -> RegisterSearch:
        return search_in(self.firm, self.request.GET, findings=self.may("records.view_draft"))

    @property
    def found(self) -> QuerySet[Treatment]:
        """What the search finds, in its order; nothing where it makes no sense."""
        return self.found_in.treatments

    @cached_property
    def found_in(self) -> Found:
        drafts, order = self.may("records.view_draft"), self.search.order_of()
        if not self.search.is_valid():
            nothing = Treatment.objects.for_firm(self.firm).none()
            return Found(nothing, nothing)
        return found_in(self.firm, self.search.wanted(), drafts=drafts, order=order)

    def count(self) -> dict[str, Any]:
        """How many were found; more than a few are counted when somebody asks for it."""
        exact = self.request.GET.get("count") == "exact"
        count = self.found_in.to_count.order_by().count() if exact else self.found_in.count()
        return {"count": count, "said": grouped(count), "few": grouped(COUNTED)}

    def query(self) -> str:
        """The search as it stands in the address."""
        query = self.request.GET.copy()
        for name in NO_SEARCH:
            query.pop(name, None)
        return str(query.urlencode())


class Register(RegisterPage):
    template_name = "records/register.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm)
        self.offer()
        after = page_after(self.found, self._last(), self.search.order_of())
        rows = list(after.only(*LINE)[: PAGE + 1])
        query = self.query()
        return self.page(
            search=self.search,
            treatments=rows[:PAGE],
            after=rows[PAGE - 1].pk if len(rows) > PAGE else None,
            query=query,
            searching=bool(self.search.wanted().as_json() or self.search.form.errors),
            first="after" not in request.GET,
            alarm=self.log_alarm(),
            may_hand_over=self.may("records.hand_over"),
            views=[(view, address_of(view)) for view in views_for(self.firm, request.user)[:VIEWS]],
            **({"later": True} if self._counts_later() else self.count()),
        )

    def offer(self) -> None:
        """Fill the lists to choose from."""
        offer_places(self.search, self.firm)

    def _counts_later(self) -> bool:
        """The lines are there at once; a count that takes longer than they do comes after them."""
        return self.found_in.slow and "count" not in self.request.GET

    def _last(self) -> Treatment | None:
        try:
            last = UUID(self.request.GET.get("after", ""))
        except ValueError:
            return None
        found = Treatment.objects.for_firm(self.firm).filter(pk=last).first()
        return found if found and self.search.order_of().places(found) else None


class RegisterCount(RegisterPage):
    """How many a search finds, for a page whose lines are there already."""

    template_name = "records/register_count.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm)
        return self.page(query=self.query(), **self.count())

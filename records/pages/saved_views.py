"""Saved views: searches of the register that a person has kept under a name."""

from collections.abc import Iterator
from typing import Any

from django import forms
from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from records.pages.firm_page import FirmPage
from records.pages.register import RegisterPage, address_of
from records.pages.seen import note_seen
from records.services.saved_views import (
    TooManyViewsError,
    may_remove,
    remove_view,
    save_view,
    views_for,
)


class ViewForm(forms.Form):
    name = forms.CharField(label=gettext_lazy("Name of the view"), max_length=80)
    shared = forms.BooleanField(label=gettext_lazy("For all members of the firm"), required=False)


class SavedViews(FirmPage):
    template_name = "records/saved_views.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm)
        views = views_for(self.firm, request.user)
        rows = [(view, address_of(view), may_remove(view, request.user)) for view in views]
        return self.page(rows=rows)


class SaveView(RegisterPage):
    """Keep the search in the address."""

    template_name = "records/save_view.html"

    def get(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        note_seen(request, self.firm)
        return self._show(self._form())

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponse:
        form = self._form(request.POST)
        if not (form.is_valid() and self.search.is_valid()):
            return self._show(form, 422)
        given = form.cleaned_data
        try:
            save_view(
                self.firm, request.user, given["name"], self._asked(), shared=given.get("shared", False)
            )
        except TooManyViewsError:
            form.add_error(None, _("You keep as many views as you may. Remove one first."))
            return self._show(form, 422)
        messages.success(request, _("The view is saved. It stands above the register's search."))
        return HttpResponseRedirect(f"{reverse('register')}?{self.query()}")

    def _form(self, data: Any = None) -> ViewForm:
        form = ViewForm(data)
        if not self.may("records.share_view"):
            form.fields.pop("shared")
        return form

    def _asked(self) -> dict[str, str]:
        """What the address asks for, as it was typed: its days and winds are read anew each time."""
        known = self.search.form.fields
        return {name: value for name, value in self.request.GET.items() if name in known and value}

    def _show(self, form: ViewForm, status: int = 200) -> HttpResponse:
        unread = not self.search.is_valid()
        asked = [] if unread else [*self.search.said(), *self._order()]
        return self.page(form=form, asked=asked, query=self.query(), unread=unread, status=status)

    def _order(self) -> Iterator[tuple[str, str]]:
        if chosen := self._asked().get("order"):
            field: Any = self.search.form.fields["order"]
            yield str(field.label), str(dict(field.choices)[chosen])


class RemoveView(FirmPage):
    def post(self, request: HttpRequest, **kwargs: Any) -> HttpResponse:
        view = get_object_or_404(views_for(self.firm, request.user), pk=kwargs["view"])
        if not may_remove(view, request.user):
            raise Http404("not one's own")
        remove_view(view, request.user)
        messages.success(request, _("The view is removed."))
        return redirect("saved_views")

"""Make the link by which whoever asked fetches a bundle, and end it."""

from datetime import timedelta
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import redirect
from django.urls import reverse

from compliance.pages.handings import OneHanding
from compliance.pages.link_form import LinkForm
from compliance.services.handed_links import end_links, make_link
from compliance.services.handings import NotNowError
from shared import clock


class LinkOfHanding(OneHanding):
    """Address and code are shown once, in answer to the press."""

    http_method_names = ["post", "options"]
    template_name = "compliance/handing_link.html"

    def post(self, request: HttpRequest, **_kwargs: Any) -> HttpResponseBase:
        handing = self.handing
        back = redirect("handing", asked=handing.request_id, handing=handing.pk)
        if "end" in request.POST:
            end_links(handing, request.user)
            return back
        form = LinkForm(request.POST)
        if not form.is_valid():
            return back
        try:
            until = clock.now() + timedelta(days=form.cleaned_data["days"])
            link, token, code = make_link(handing, request.user, until)
        except NotNowError:
            return back
        return self._shown_once(link, token, code)

    def _shown_once(self, link: Any, token: str, code: str) -> HttpResponse:
        where = self.request.build_absolute_uri(reverse("handed", kwargs={"token": token}))
        said = f"{code[:4]} {code[4:]}"
        return self.page(handing=self.handing, asked=self.handing.request, link=link, where=where, code=said)

"""The mixing calculator as a page of its own."""

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from records.forms.mix import MixForm


@login_required
def mix(request: HttpRequest) -> HttpResponse:
    """Plan a mix from the figures in the query, so that a result can be kept as an address."""
    form = MixForm(request.GET if "dilution" in request.GET else None)
    return render(request, "records/mix.html", {"form": form})

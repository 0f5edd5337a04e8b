"""Numbers of treatments, such as 2026-0142: unique in a firm; gaps are allowed."""

from django.db import transaction

from records.models import Firm, NumberSeries


@transaction.atomic
def next_number(firm: Firm, year: int) -> str:
    """The next number of the firm in that year; two at once get two numbers."""
    NumberSeries.objects.for_firm(firm).get_or_create(firm=firm, year=year)
    series = NumberSeries.objects.for_firm(firm).select_for_update().get(year=year)
    series.last += 1
    series.save()
    return f"{year}-{series.last:04}"

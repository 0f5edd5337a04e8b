"""Periods and addresses of reports in templates."""

from collections.abc import Mapping
from datetime import date
from typing import Any

from django import template

from compliance.pages.reports import address_of
from compliance.papers.use_report.content import period_said
from compliance.services.reports import Wanted
from records.templatetags.treatments import language

register = template.Library()


@register.filter
def period_name(period: Any) -> str:
    """`September 2026`, `2026`."""
    return period_said(str(period), language())


@register.filter
def report_address(wanted: Wanted) -> str:
    return address_of(wanted)


@register.filter
def day_of(text: str) -> date:
    return date.fromisoformat(text)


@register.filter
def item(of: Mapping[str, Any], name: str) -> Any:
    return of.get(name) if of else None

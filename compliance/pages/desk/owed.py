"""Reports that are owed, and stock that does not add up."""

from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from compliance.pages.desk.needs import Group, Need, group
from compliance.pages.reports import address_of
from compliance.papers.use_report.content import period_said
from compliance.selectors import today_of
from compliance.services.reports_due import reports_due
from records.models import Firm
from records.stock import differences


def reports(firm: Firm, language: str) -> Group:
    today = today_of(firm)
    needs = []
    for each in reports_due(firm):
        if each.is_owed:
            period, county = period_said(str(each.wanted.period), language), each.wanted.county
            said = each.duty.rule.title.say(language)
            where = ", ".join(part for part in (period, county) if part)
            needs.append(Need(said, where, address_of(each.wanted), each.due, each.due < today))
    return group("reports", gettext_lazy("Use reports"), needs, reverse("reports"))


def stock(firm: Firm, language: str) -> Group:
    needs = []
    for each in differences(firm):
        by = each.by.say(language)
        said = _("%(amount)s too little") if each.is_short else _("%(amount)s too much")
        needs.append(
            Need(
                what=f"{each.shelf.product.name}, {each.shelf.number}",
                about=said % {"amount": by},
                address=reverse("stock_lot", kwargs={"lot": each.shelf.lot.pk}),
                state=gettext_lazy("Does not add up"),
            )
        )
    return group("stock", gettext_lazy("Stock that does not add up"), needs, reverse("stock"))

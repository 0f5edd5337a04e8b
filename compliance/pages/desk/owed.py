"""Reports that are owed, and stock that does not add up."""

from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from compliance.models import FiledReport
from compliance.pages.desk.needs import Group, Need, group
from compliance.pages.reports import address_of
from compliance.papers.use_report.content import period_said
from compliance.selectors import today_of
from compliance.services.reports import Wanted
from compliance.services.reports_differ import wanted_of, wrong_by_now
from compliance.services.reports_due import reports_due
from records.amounts_said import about
from records.models import Firm
from records.stock import differences


def reports(firm: Firm, language: str) -> Group:
    today = today_of(firm)
    needs = []
    for each in reports_due(firm):
        if each.is_owed:
            said, where = each.duty.rule.title.say(language), _where(each.wanted, language)
            needs.append(Need(said, where, address_of(each.wanted), each.due, each.due < today))
    needs += [_amended(filed, language) for filed in wrong_by_now(firm)]
    return group("reports", gettext_lazy("Use reports"), needs, reverse("reports"))


def _amended(filed: FiledReport, language: str) -> Need:
    """One that was sent and is false by now; it stands first, for nobody else tells of it."""
    wanted = wanted_of(filed)
    return Need(
        what=wanted.duty.rule.title.say(language) if wanted.duty else filed.rule,
        about=_where(wanted, language),
        address=reverse("filed_report", kwargs={"filed": filed.pk}),
        state=gettext_lazy("Sent, and the records give other figures by now: to be amended"),
        first=True,
    )


def _where(wanted: Wanted, language: str) -> str:
    return ", ".join(part for part in (period_said(str(wanted.period), language), wanted.county) if part)


def stock(firm: Firm, _language: str) -> Group:
    needs = []
    for each in differences(firm):
        by = about(each.by)
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

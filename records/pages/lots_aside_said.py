"""What is said of a lot that is set aside: beside its field, and before the treatment is signed."""

from collections.abc import Sequence
from dataclasses import replace

from django.utils.translation import gettext as _

from records.lots_aside import LotAside, aside_in
from records.models import AuditEntry, Treatment, User
from records.pages.remarks import Remark, Remarks, Source
from records.services.audit import note
from records.templatetags.treatments import moment


def with_lots_aside(remarks: Remarks, treatment: Treatment) -> Remarks:
    """The remarks, before them that a lot in the draft is not to be used."""
    return replace(remarks, remarks=[*(_remark(*found) for found in aside_in(treatment)), *remarks.remarks])


def lots_aside_of(treatment: Treatment) -> list[LotAside]:
    """Each lot once."""
    return list(dict.fromkeys(lot for _place, lot in aside_in(treatment)))


def note_used(treatment: Treatment, lots: Sequence[LotAside], by: User) -> None:
    """Keep that who signed with these says so."""
    for lot in lots:
        said = {"lot": lot.number, "product": lot.product.name}
        reason = _("Set aside, and signed as really used: %(product)s, lot %(lot)s") % said
        note(AuditEntry.Kind.CHANGED, treatment, firm=treatment.firm, by=by, reason=reason)


def _remark(place: str, lot: LotAside) -> Remark:
    by = {"who": lot.move.by.name, "when": moment(lot.move.at, lot.move.firm.time_zone)}
    said = {"lot": lot.number, "why": lot.move.why}
    return Remark(
        about=(place,),
        state="not_met",
        state_words=_("Don't use it:"),
        words=_("lot %(lot)s is set aside (%(why)s). Take another lot, or another product.") % said,
        sources=(Source(cite=_("Set aside by %(who)s, %(when)s") % by),),
    )

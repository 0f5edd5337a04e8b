"""Whom to call when somebody was exposed, by country. Pure.

Read on 2026-11-29: US poisonhelp.hrsa.gov (the line, and 911 for who is unconscious or can't breathe); Canada's
line as Health Canada announced it in March 2023 (ctvnews.ca), Quebec's own nexreg.com; Australia
poisonsinfo.health.qld.gov.au and knowinjury.org.au (000); Great Britain npis.org (111) and the advice of the
health service (999); Ireland npis.org and irishhealth.com; Switzerland swissinfo.ch. From memory: 911 in
Canada, 112 in Switzerland, in the European Union and in many other places.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from shared.wording import Wording


@dataclass(frozen=True)
class PoisonLine:
    """The number of a country's poison line ('' where none was found), an ambulance's, and a word to it."""

    number: str
    emergency: str
    note: Wording | None = None

    @property
    def dial(self) -> str:
        return _digits(self.number)

    @property
    def dial_emergency(self) -> str:
        return _digits(self.emergency)


_QUEBEC = Wording("In Quebec: 1-800-463-5060.", "En Quebec: 1-800-463-5060.")
_NOT_NORTHERN_IRELAND = Wording(
    "In England, Wales and Scotland. In Northern Ireland ask a doctor or pharmacist.",
    "En Inglaterra, Gales y Escocia. En Irlanda del Norte pregunte a un médico o farmacéutico.",
)

_LINES: Mapping[str, PoisonLine] = {
    "US": PoisonLine("1-800-222-1222", "911"),
    "CA": PoisonLine("1-844-764-7669", "911", _QUEBEC),
    "AU": PoisonLine("13 11 26", "000"),
    "GB": PoisonLine("111", "999", _NOT_NORTHERN_IRELAND),
    "IE": PoisonLine("01 809 2166", "112"),
    "CH": PoisonLine("145", "112"),
}
_ELSEWHERE = PoisonLine("", "112")


def poison_line(document: Mapping[str, Any]) -> PoisonLine:
    """The line of the country in which the site lies, by its address, else by its jurisdictions."""
    site = document.get("site") or {}
    return line_of((site.get("address") or {}).get("country") or "", site.get("jurisdictions") or ())


def line_of(country: str, jurisdictions: Sequence[str]) -> PoisonLine:
    """The line of a country, else of the one that the widest of these places is in."""
    widest = next(iter(jurisdictions), "")
    return _LINES.get(country or widest[:2].upper(), _ELSEWHERE)


def _digits(number: str) -> str:
    return "".join(each for each in number if each.isdigit())

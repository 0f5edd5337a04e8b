"""What a document holds as written, for who reads another language: places, licences, diluents."""

from django.utils.translation import gettext_lazy as _

from shared.us_places import STATES

_STATE_NAMES = {code: name for name, code in STATES.items() if name != "washington dc"}
_SMALL = ("of",)
_PLACES = {
    "us": _("United States"),
    "ca-bc": _("British Columbia"),
    "au-nsw": _("New South Wales"),
    "gb": _("Great Britain"),
    "de": _("Germany"),
    "ch": _("Switzerland"),
}
_KINDS = {
    "commercial operator": _("commercial operator"),
    "commercial applicator": _("commercial applicator"),
    "applicator": _("applicator"),
}
_DILUENTS = {"water": _("water")}


def place_name(code: str) -> str:
    """The place of a code (`us-wa`), as its people call it; the code where it is not known here."""
    if code in _PLACES:
        return str(_PLACES[code])
    name = _STATE_NAMES.get(code.removeprefix("us-")) if code.startswith("us-") else None
    return " ".join(part if part in _SMALL else part.capitalize() for part in name.split()) if name else code


def kind_of_licence(written: str) -> str:
    """As it is printed on the licence, after its words in the reader's language where they are others."""
    known = str(_KINDS.get(written.casefold(), written))
    return known if known.casefold() == written.casefold() else f"{known} ({written})"


def diluent_name(written: str) -> str:
    return str(_DILUENTS.get(written.casefold(), written))

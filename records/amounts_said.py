"""An amount that was worked out, rounded for the eye. Where it is reckoned with or kept it stays as it is."""

from dataclasses import replace
from decimal import Decimal

from django.utils.translation import get_language
from django.utils.translation import gettext as _

from shared.quantities import Quantity


def about(amount: Quantity | None) -> str:
    """To hundredths of its unit or three figures, whichever is finer; it says where it was rounded."""
    if amount is None:
        return ""
    language = (get_language() or "en")[:2]
    value = Decimal(amount.value)
    short = round(value, max(2, 2 - value.adjusted())) if value else value
    if short == value:
        return amount.say(language)
    rounded = replace(amount, value=f"{short.normalize():f}")
    return _("about %(amount)s") % {"amount": rounded.say(language)}

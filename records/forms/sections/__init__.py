"""The crew's form as a table: screens in the order of the work, and what each asks."""

from records.forms.sections.after import AFTER
from records.forms.sections.arrive import ARRIVE
from records.forms.sections.mix import MIX
from records.forms.sections.protect import PROTECT
from records.forms.sections.spray import SPRAY
from records.forms.sections.stand_down import STAND_DOWN
from records.forms.sections.weather import WEATHER

SECTIONS = (ARRIVE, PROTECT, WEATHER, MIX, SPRAY, AFTER)
ASIDE = (STAND_DOWN,)
"""Screens that are no step of the work."""
BY_SLUG = {section.slug: section for section in (*SECTIONS, *ASIDE)}
MOVED = {"site": ARRIVE, "before": PROTECT, "during": SPRAY}
"""Screens by the names that they had: a phone may still hold pages with them."""

"""The crew's form as a table: sections in the order of the work, and what each asks."""

from records.forms.sections.after import AFTER
from records.forms.sections.before import BEFORE
from records.forms.sections.during import DURING
from records.forms.sections.mix import MIX
from records.forms.sections.site import SITE

SECTIONS = (SITE, BEFORE, MIX, DURING, AFTER)
BY_SLUG = {section.slug: section for section in SECTIONS}

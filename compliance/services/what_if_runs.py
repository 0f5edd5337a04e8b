"""Begin to ask what a version of the firm's rules would have changed, here or in the worker."""

from compliance.models import OwnRules, WhatIf
from compliance.selectors import today_of
from compliance.services.what_if import go_through, treatments_since
from compliance.tasks import ask_what_if
from shared.days import years_after

YEARS = 2
AT_ONCE = 60
"""So many records are asked while the page waits; more are the worker's."""


def begin(version: OwnRules) -> WhatIf:
    """A run over the last two years; the worker's, with more than AT_ONCE records."""
    firm = version.firm
    since = years_after(today_of(firm), -YEARS)
    total = treatments_since(firm, since).count()
    run = WhatIf.objects.create(firm=firm, version=version, since=since, total=total)
    if run.total <= AT_ONCE:
        go_through(run)
    else:
        ask_what_if.enqueue(str(run.pk), str(firm.pk))
    return run


def newest_run(version: OwnRules) -> WhatIf | None:
    """The run that was begun last for a version."""
    return WhatIf.objects.for_firm(version.firm).filter(version=version).first()

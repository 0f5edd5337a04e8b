"""`treatment_signed`: something was signed. Sent on commit, with `record`, for what may be late.
`firm_looked_at`: a `firm`'s log is looked at; who keeps more that is signed answers what is broken of it.
`notice_worded`: what a notice of a `treatment` would state to these `codes` is asked for, as a digest."""

from django.dispatch import Signal

treatment_signed = Signal()
firm_looked_at = Signal()
notice_worded = Signal()

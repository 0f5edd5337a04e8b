"""The one signal: something was signed. Sent on commit, with `record`, for what may be late."""

from django.dispatch import Signal

treatment_signed = Signal()

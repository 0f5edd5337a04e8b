"""Which tables hold something of a firm, and so leave with it.

Every table of a firm's rows leaves by itself. A model says of itself what is otherwise: `stays_here`, why its
rows don't leave; `of_every_firm`, for rows that are the same for every firm, the columns by which the new
service knows those that it has already.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from django.apps import apps
from django.db import models

from records.models import Firm, User
from shared.tenancy import FirmManager

OURS = ("records", "compliance")
"""The rooms whose tables leave."""
AT_A_TIME = 500
OF_AN_ACCOUNT = ("uuid", "email", "name", "language", "is_active", "created_at")
"""Neither password nor second step: an account may be in other firms, too, and both are its person's own."""


@dataclass(frozen=True)
class Table:
    """One table, with the columns of it that leave."""

    model: type[models.Model]

    @property
    def label(self) -> str:
        return self.model._meta.label_lower

    @cached_property
    def fields(self) -> list[Any]:
        fields = list(self.model._meta.concrete_fields)
        return [each for each in fields if each.name in OF_AN_ACCOUNT] if self.model is User else fields

    @property
    def columns(self) -> list[str]:
        return [field.attname for field in self.fields]

    @property
    def of_every_firm(self) -> tuple[str, ...]:
        return getattr(self.model, "of_every_firm", ())

    def rows(self, firm: Firm) -> models.QuerySet[Any]:
        """In the order of their keys."""
        manager: Any = self.model.objects  # type: ignore[attr-defined]
        return (manager.all() if self.of_every_firm else manager.for_firm(firm)).order_by("pk")

    @property
    def at_a_time(self) -> int:
        """How many are held at once: a row may hold a whole file."""
        return 1 if any(field.name == "content" for field in self.fields) else AT_A_TIME

    @cached_property
    def of_accounts(self) -> list[int]:
        """The places of the columns that name an account."""
        return [place for place, field in enumerate(self.fields) if field.related_model is User]


ACCOUNTS = Table(User)


def tables() -> list[Table]:
    """All that leave but the accounts, by name."""
    return sorted((Table(model) for model in _leaving()), key=lambda table: table.label)


def _leaving() -> Iterator[type[models.Model]]:
    for model in apps.get_models():
        of_a_firm = isinstance(getattr(model, "objects", None), FirmManager)
        if (of_a_firm or hasattr(model, "of_every_firm")) and not hasattr(model, "stays_here"):
            yield model

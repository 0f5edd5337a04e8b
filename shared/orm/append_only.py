"""Rows that may be added and never changed or removed. The database refuses; see `triggers`."""

from typing import Any, ClassVar

from django.db import models

from shared.orm.shrinking import Shrinking


class AppendOnlyError(TypeError):
    """Code tried to change or remove a row that may only be added."""


class AppendOnly(models.Model):
    """The triggers of `shared.orm.triggers` stand on the table of every model that inherits from this.

    `holds` names the foreign keys to rows that are not removed while a row of the model points to them, `keeps`
    by such a key the columns of those rows that stay as they are meanwhile;
    `shrinks` is the one change that a row may take, if any.
    """

    append_only = True
    shrinks: ClassVar[Shrinking | None] = None
    holds: ClassVar[tuple[str, ...]] = ()
    keeps: ClassVar[dict[str, tuple[str, ...]]] = {}

    class Meta:
        abstract = True

    def save(self, *args: Any, **kwargs: Any) -> None:
        if not self._state.adding:
            raise AppendOnlyError(f"a {self._meta.verbose_name} is never changed")
        super().save(*args, **kwargs)

    def delete(self, *args: Any, **kwargs: Any) -> Any:
        raise AppendOnlyError(f"a {self._meta.verbose_name} is never removed")

"""Firms are apart: the only ordinary way to a row leads through `Model.objects.for_firm(firm)`."""

from contextlib import nullcontext
from typing import Any

from django.core.exceptions import ValidationError
from django.db import models, transaction
from django.utils.translation import gettext_lazy as _


class UnscopedQueryError(RuntimeError):
    """A query was made through `objects` without naming the firm."""


class FirmQuerySet(models.QuerySet):
    def bulk_create(self, objs: Any, *args: Any, **kwargs: Any) -> list[Any]:
        """Insert rows of which each belongs to the firm of its parents.

        Raises ValidationError for the first row that does not.
        """
        rows = list(objs)
        for row in rows:
            row.keep_within_one_firm()
        return super().bulk_create(rows, *args, **kwargs)


class FirmManager(models.Manager.from_queryset(FirmQuerySet)):  # type: ignore[misc]
    """Answers for one firm at a time; `lookup` is the path from the model to its firm."""

    def __init__(self, lookup: str = "firm") -> None:
        super().__init__()
        self.lookup = lookup

    def for_firm(self, firm: models.Model) -> FirmQuerySet:
        """The rows of `firm` and no other's."""
        return super().get_queryset().filter(**{self.lookup: firm.pk})

    def get_queryset(self) -> FirmQuerySet:
        name = self.model.__name__
        raise UnscopedQueryError(f"{name}.objects: name the firm with .for_firm(firm)")

    def none(self) -> FirmQuerySet:
        return super().get_queryset().none()

    def create(self, **values: Any) -> Any:
        return super().get_queryset().create(**values)

    def bulk_create(self, objs: Any, *args: Any, **kwargs: Any) -> list[Any]:
        return super().get_queryset().bulk_create(objs, *args, **kwargs)


class FirmOwned(models.Model):
    """A row that belongs to one firm, which is also the firm of every row that it points to.

    `across_firms` is the unscoped manager. Django's own machinery (uniqueness, related managers) uses it;
    our code may only where the health tests' allow-list says so.
    """

    firm = models.ForeignKey(
        "records.Firm", models.PROTECT, editable=False, verbose_name=_("firm"), related_name="+"
    )

    across_firms = models.Manager.from_queryset(FirmQuerySet)()
    objects = FirmManager()

    class Meta:
        abstract = True

    def keep_within_one_firm(self) -> None:
        """Take the firm of the first parent when none is set; raise ValidationError if another's differs."""
        for field in self._meta.fields:
            if not self._points_to_firm_owned(field) or getattr(self, field.attname) is None:
                continue
            parent = getattr(self, field.name)
            if self.firm_id is None:
                self.firm_id = parent.firm_id
            elif parent.firm_id != self.firm_id:
                raise ValidationError({field.name: _("This belongs to another firm.")}, code="other_firm")

    @staticmethod
    def _points_to_firm_owned(field: Any) -> bool:
        return bool(
            field.is_relation
            and isinstance(field.related_model, type)
            and issubclass(field.related_model, FirmOwned)
        )

    def clean(self) -> None:
        super().clean()
        self.keep_within_one_firm()

    def save(self, *args: Any, **kwargs: Any) -> None:
        """A row with a history is saved with it in one transaction."""
        self.keep_within_one_firm()
        keeps_history = hasattr(self._meta, "simple_history_manager_attribute")
        with transaction.atomic(savepoint=False) if keeps_history else nullcontext():
            super().save(*args, **kwargs)

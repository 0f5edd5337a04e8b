"""Columns of a row that stay as they are while an append-only row points to it, on SQLite and PostgreSQL."""

from dataclasses import dataclass
from typing import Any

from django.db import models


@dataclass(frozen=True)
class KeptColumns:
    """By which trigger `columns` of `table` are kept, and the condition that a row of `child` points there."""

    name: str
    table: str
    columns: tuple[str, ...]
    held: str

    def condition(self, differs: str) -> str:
        changed = " OR ".join(f'NEW."{column}" {differs} OLD."{column}"' for column in self.columns)
        return f"({changed}) AND {self.held}"

    def on_postgresql(self, refusal: str) -> list[str]:
        """The function names the columns, and not the trigger, which would keep a migration from them."""
        return [
            f'CREATE OR REPLACE FUNCTION "{self.name}"() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN '
            f"IF {self.condition('IS DISTINCT FROM')} THEN "
            f"RAISE EXCEPTION '{refusal}' USING ERRCODE = '23001'; END IF; RETURN NEW; END $$",
            f'CREATE TRIGGER "{self.name}" BEFORE UPDATE ON "{self.table}" '
            f'FOR EACH ROW EXECUTE FUNCTION "{self.name}"()',
        ]


def kept_columns(model: type[models.Model]) -> list[KeptColumns]:
    """What the `keeps` of an append-only model asks for."""
    keeps: dict[str, tuple[str, ...]] = model.keeps  # type: ignore[attr-defined]
    return [_kept(model, model._meta.get_field(name), columns) for name, columns in keeps.items()]


def _kept(model: type[models.Model], key: Any, names: tuple[str, ...]) -> KeptColumns:
    table, parent = model._meta.db_table, key.related_model._meta
    child = f'SELECT 1 FROM "{table}" AS child WHERE child."{key.column}" = OLD."{parent.pk.column}"'  # noqa: S608
    columns = tuple(parent.get_field(name).column for name in names)
    return KeptColumns(f"{table}_keeps_{key.column}", parent.db_table, columns, f"EXISTS ({child})")

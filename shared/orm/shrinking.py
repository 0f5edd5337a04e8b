"""The one change that an append-only row may take: parts of it go, which another row names."""

from dataclasses import dataclass
from typing import Any

from django.apps import apps
from django.db import models


@dataclass(frozen=True)
class Shrinking:
    """`members` are columns of JSON objects, which lose no members but those in the list `sections` of the
    `witness`; `lines` are columns of bytes, a canonical JSON list on each line, which lose just the lines whose
    first item is in that list; `emptied` are columns of bytes, which lose all or nothing. The witness is a row
    of that model with the same `by` (a foreign key of both), and of its two days in `after` the first is the
    later; it is append-only itself, and comes in first.
    """

    witness: str
    by: str
    members: tuple[str, ...] = ()
    lines: tuple[str, ...] = ()
    emptied: tuple[str, ...] = ()
    after: tuple[str, str] | None = None

    def condition(self, model: type[models.Model], vendor: str) -> str:
        """An SQL condition on OLD and NEW: this and nothing else changes."""
        column = {field.name: field.column for field in model._meta.concrete_fields}
        dialect = _SQLITE if vendor == "sqlite" else _POSTGRESQL
        witnessed = self._witnessed(column[self.by])
        parts = [f"EXISTS (SELECT 1 FROM {witnessed})"]  # noqa: S608 - our names
        shrink = {*self.members, *self.lines, *self.emptied}
        parts += [dialect["same"].format(column=column[name]) for name in column if name not in shrink]
        parts += [dialect["less"].format(column=column[name], witnessed=witnessed) for name in self.members]
        parts += [dialect["fewer"].format(column=column[name], witnessed=witnessed) for name in self.lines]
        parts += [dialect["emptied"].format(column=column[name]) for name in self.emptied]
        return " AND ".join(f"({part})" for part in parts)

    def _witnessed(self, column: str) -> str:
        witness: Any = apps.get_model(self.witness)
        table, own = witness._meta.db_table, witness._meta.get_field(self.by).column
        later = ""
        if self.after:
            first, second = (witness._meta.get_field(name).column for name in self.after)
            later = f' AND "{first}" > "{second}"'
        where = f'"{own}" = OLD."{column}"{later}'
        return f'(SELECT * FROM "{table}" WHERE {where}) AS witness'  # noqa: S608 - our names


_SQLITE = {
    "same": 'NEW."{column}" IS OLD."{column}"',
    "less": """json_type(NEW."{column}") = 'object'
        AND NOT EXISTS (SELECT 1 FROM json_each(NEW."{column}") AS still WHERE NOT EXISTS (
            SELECT 1 FROM json_each(OLD."{column}") AS was WHERE was.key = still.key
            AND was.type = still.type AND was.value IS still.value))
        AND NOT EXISTS (SELECT 1 FROM json_each(OLD."{column}") AS was
            WHERE NOT EXISTS (SELECT 1 FROM json_each(NEW."{column}") AS still WHERE still.key = was.key)
            AND NOT EXISTS (SELECT 1 FROM {witnessed}, json_each(witness.sections) AS named
                WHERE named.value = was.key))""",
    "fewer": """typeof(NEW."{column}") = 'blob' AND CAST(NEW."{column}" AS TEXT) IS (
        SELECT coalesce(group_concat(was.value, char(10)), '')
        FROM json_each('[' || replace(CAST(OLD."{column}" AS TEXT), char(10), ',') || ']') AS was
        WHERE NOT EXISTS (SELECT 1 FROM {witnessed}, json_each(witness.sections) AS named
            WHERE named.value = json_extract(was.value, '$[0]')))""",
    "emptied": 'NEW."{column}" IS OLD."{column}" OR length(NEW."{column}") = 0',
}
_POSTGRESQL = {
    "same": 'NEW."{column}" IS NOT DISTINCT FROM OLD."{column}"',
    "less": """jsonb_typeof(NEW."{column}") = 'object'
        AND NOT EXISTS (SELECT 1 FROM jsonb_each(NEW."{column}") AS still
            WHERE OLD."{column}" -> still.key IS DISTINCT FROM still.value)
        AND NOT EXISTS (SELECT 1 FROM jsonb_each(OLD."{column}") AS was
            WHERE NOT NEW."{column}" ? was.key
            AND NOT EXISTS (SELECT 1 FROM {witnessed} WHERE witness.sections ? was.key))""",
    "fewer": """NEW."{column}" = (
        SELECT coalesce(convert_to(string_agg(was.line, E'\\n' ORDER BY was.place), 'UTF8'), '')
        FROM unnest(string_to_array(convert_from(OLD."{column}", 'UTF8'), E'\\n'))
            WITH ORDINALITY AS was(line, place)
        WHERE NOT EXISTS (SELECT 1 FROM {witnessed} WHERE witness.sections ? split_part(was.line, '"', 2)))""",
    "emptied": 'NEW."{column}" IS NOT DISTINCT FROM OLD."{column}" OR length(NEW."{column}") = 0',
}


def unless_it_shrinks(model: Any) -> str:
    """When SQLite refuses an update. A condition that can't be told is none that lets a change through."""
    return f"({model.shrinks.condition(model, 'sqlite')}) IS NOT TRUE" if model.shrinks else "TRUE"


def let_shrink(function: str, model: Any, refusal: str) -> str:
    """The function by which PostgreSQL refuses all but that."""
    return f"""
CREATE OR REPLACE FUNCTION "{function}"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
IF TG_OP = 'UPDATE' THEN IF {model.shrinks.condition(model, "postgresql")} THEN RETURN NEW; END IF; END IF;
RAISE EXCEPTION '{refusal}' USING ERRCODE = '23001'; END $$
"""

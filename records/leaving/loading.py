"""Put the rows of a firm that left into the tables of an empty service, as the program was that wrote them."""

from collections.abc import Iterator
from typing import Any
from zipfile import ZipFile

from django.apps import apps as today
from django.apps.registry import Apps
from django.contrib.auth.hashers import make_password
from django.core.management.color import no_style
from django.db import DatabaseError, connection
from django.db.models import AutoField, Model

from records.backup.wordings import BackupError
from records.leaving.tables import ACCOUNTS, AT_A_TIME, OF_AN_ACCOUNT, OURS, tables
from records.leaving.values import read_line

MOST_OF_A_ROW = 200_000_000

Json = dict[str, Any]


def load(packed: ZipFile, manifest: Json, apps: Apps) -> None:
    """Call it in a transaction. Raises BackupError for what no such file holds, or does not fit together."""
    loaded = []
    for label, stated in manifest["tables"].items():
        try:
            _refuse_what_never_leaves(label, stated)
            loaded.append(_Loading(apps.get_model(label), label, stated, manifest["firm"]["uuid"]))
        except (LookupError, ValueError, TypeError) as error:
            raise BackupError("restore/unknown_table", name=label) from error
    try:
        for each in loaded:
            each.all(packed)
        connection.check_constraints()
    except DatabaseError as error:
        raise BackupError("restore/does_not_fit", why=str(error).strip().splitlines()[0]) from error
    models = [model for each in loaded if (model := today.all_models[each.app].get(each.name))]
    with connection.cursor() as cursor:
        for statement in connection.ops.sequence_reset_sql(no_style(), models):
            cursor.execute(statement)


def _refuse_what_never_leaves(label: str, stated: Json) -> None:
    """Whoever wrote the file may have put anything in: sign-ins, tokens, tasks of the worker. A table that
    today's program does not know is one of an older version, if it is of our own rooms."""
    leaves = {table.label: table for table in (ACCOUNTS, *tables())}
    app, _, name = label.partition(".")
    if label in leaves:
        refused = bool(leaves[label].of_every_firm) != bool(stated["of_every_firm"])
    else:
        refused = app not in OURS or name.lower() in today.all_models[app]
    if refused:
        raise BackupError("restore/unknown_table", name=label)


class _Loading:
    def __init__(self, model: type[Model], label: str, stated: Json, firm: str) -> None:
        self.app, self.name = label.split(".")
        self._model, self._label, self._firm = model, label, firm
        fields = {field.attname: field for field in model._meta.concrete_fields}
        whole = label != ACCOUNTS.label
        self._fields = {name: field for name, field in fields.items() if whole or name in OF_AN_ACCOUNT}
        self._of_every_firm = tuple(stated["of_every_firm"])
        self._own = {"password": make_password(None)} if label == ACCOUNTS.label else {}

    def all(self, packed: ZipFile) -> None:
        rows: Any = self._model._base_manager
        known = {self._key(row) for row in rows.all()} if self._of_every_firm else set()
        some: list[Model] = []
        for row in self._rows(packed):
            if not self._of_every_firm or self._key(row) not in known:
                some.append(row)
            if len(some) == AT_A_TIME:
                rows.bulk_create(some)
                some = []
        rows.bulk_create(some)

    def _rows(self, packed: ZipFile) -> Iterator[Model]:
        name = f"rows/{self._label}.jsonl"
        with packed.open(name) as lines:
            while line := lines.readline(MOST_OF_A_ROW):
                values = read_line(line, self._fields, name)
                self._refuse_another_firm(values, name)
                if self._of_every_firm and isinstance(self._model._meta.pk, AutoField):
                    values.pop(self._model._meta.pk.attname)
                yield self._model(**values, **self._own)

    def _refuse_another_firm(self, values: Json, name: str) -> None:
        column = "uuid" if self._label in ("records.firm", "records.historicalfirm") else "firm_id"
        if not self._of_every_firm and column in self._fields and str(values.get(column)) != self._firm:
            raise BackupError("restore/another_firm", name=name, firm=self._firm)

    def _key(self, row: Model) -> tuple[str, ...]:
        return tuple(str(getattr(row, name)) for name in self._of_every_firm)

"""What one row makes: the new rows that it needs, none where all of it is there already."""

from collections.abc import Callable, Iterable
from typing import Any
from uuid import UUID, uuid5

from django.core.exceptions import ValidationError
from django.utils.translation import override

from records.arriving.entries import Entry
from records.imports.faults import FileError, FileFault
from records.models import (
    ArrivalFile,
    LabelVersion,
    Licence,
    Lot,
    Person,
    Product,
    Surface,
)
from records.services.bringing_in.places import Places
from shared.folded import folded
from shared.tenancy import FirmOwned
from shared.wording import LANGUAGES, Wording

Rows = list[FirmOwned]
UNTOLD = "–"
"""The version of a label or the kind of a licence that a file does not tell."""


class Makers:
    """Makes rows of one file; `learn` them when they are sure to be made. Raises FileError with all faults."""

    def __init__(self, file: ArrivalFile, kind: str) -> None:
        self.file, self.firm, self.kind = file, file.firm, kind
        self.places = Places(file.firm, file)
        self._known: dict[tuple[str, ...], UUID] = {}
        for row in _rows_of(kind, file):
            self._learn_key(row)

    def make(self, entry: Entry) -> Rows:
        makes: dict[str, Callable[[Entry], Rows]] = {
            "customers": self._customer,
            "sites": self._site,
            "products": self._product,
            "licences": self._licence,
        }
        rows = makes[self.kind](entry)
        refuse_unfit(rows)
        return rows

    def learn(self, rows: Iterable[FirmOwned]) -> None:
        for row in rows:
            self.places.learn(row)
            self._learn_key(row)

    def _customer(self, entry: Entry) -> Rows:
        _pk, customer = self.places.customer(entry, by_address=True)
        return [customer] if customer else []

    def _site(self, entry: Entry) -> Rows:
        pk, customer = self.places.customer(entry)
        part, site = self.places.site(pk, entry)
        return [row for row in (customer, site, self._surface(entry, UUID(part["id"]))) if row]

    def _surface(self, entry: Entry, site: UUID) -> Surface | None:
        kind = entry.get("surface_kind", "roof")
        name = entry.get("surface") or (kind if {"surface_kind", "area"} & set(entry) else "")
        if not name or self._find("surface", site, name):
            return None
        values = {"site_id": site, "name": name, "kind": kind, "plan_area": entry.get("area")}
        return Surface(uuid=self._id("surface", site, name), firm=self.firm, **values)

    def _product(self, entry: Entry) -> Rows:
        rows: Rows = []
        if not (product := self._find("product", entry["product"])):
            product = self._id("product", entry["product"])
            values = _given(entry, kind="product_kind", supplier="supplier")
            rows.append(Product(uuid=product, firm=self.firm, name=entry["product"], **values))
        says = ("registration", "signal_word", "restricted", "ingredient", "density", "label_version", "lot")
        if not any(name in entry for name in says):
            return rows
        version = entry.get("label_version", UNTOLD)
        if not (label := self._find("labelversion", product, version)):
            label = self._id("labelversion", product, version)
            rows.append(self._label(entry, label, product, version))
        if (lot := entry.get("lot")) and not self._find("lot", label, lot):
            values = _given(entry, amount="lot_amount", received_on="received_on")
            pk = self._id("lot", label, lot)
            rows.append(Lot(uuid=pk, firm=self.firm, label_id=label, number=lot, **values))
        return rows

    def _label(self, entry: Entry, pk: UUID, product: UUID, version: str) -> LabelVersion:
        values = _given(
            entry,
            registration_number="registration",
            signal_word="signal_word",
            restricted_use="restricted",
            density="density",
        )
        if ingredient := entry.get("ingredient"):
            values["active_ingredients"] = [{"name": ingredient, **_given(entry, percent="percent")}]
        return LabelVersion(uuid=pk, firm=self.firm, product_id=product, version=version, **values)

    def _licence(self, entry: Entry) -> Rows:
        rows: Rows = []
        person = None
        if name := entry.get("person"):
            person = self._find("person", name)
            if person is None:
                person = self._id("person", name)
                values = _given(entry, role="role")
                rows.append(Person(uuid=person, firm=self.firm, name=name, country=self.firm.country, **values))
        key = (person or "", entry["authority"], entry["licence"], entry.get("valid_to") or "")
        if not self._find("licence", *key):
            columns = ("holder", "valid_from", "valid_to")
            values = {
                "kind": entry.get("licence_kind", UNTOLD),
                **_given(entry, **dict(zip(columns, columns, strict=True))),
            }
            values["categories"] = [
                each.strip() for each in entry.get("categories", "").split(",") if each.strip()
            ]
            licence = Licence(uuid=self._id("licence", *key), firm=self.firm, person_id=person, **values)
            licence.authority, licence.number = entry["authority"], entry["licence"]
            rows.append(licence)
        return rows

    def _find(self, *key: Any) -> UUID | None:
        return self._known.get(tuple(folded(str(part)) for part in key))

    def _learn_key(self, row: FirmOwned) -> None:
        if key := _key_of(row):
            self._known.setdefault(tuple(folded(str(part)) for part in key), row.pk)

    def _id(self, *parts: Any) -> UUID:
        return uuid5(self.file.uuid, "\0".join(folded(str(part)) for part in parts))


def refuse_unfit(rows: Iterable[FirmOwned]) -> None:
    """Raise FileError where a column of a row can't hold its value."""
    for row in rows:
        relations = [field.name for field in row._meta.concrete_fields if field.is_relation]
        try:
            row.clean_fields(exclude=relations)
        except ValidationError as error:
            said = zip(*(_said(row, error, language) for language in LANGUAGES), strict=True)
            raise FileError(*(FileFault("document", {"why": Wording(*each)}) for each in said)) from error


def _said(row: FirmOwned, error: ValidationError, language: str) -> list[str]:
    with override(language):
        told = error.message_dict.items()
        return [f"{row._meta.get_field(name).verbose_name}: {each}" for name, words in told for each in words]


def _rows_of(kind: str, file: ArrivalFile) -> Iterable[FirmOwned]:
    models: dict[str, tuple[type[FirmOwned], ...]] = {
        "sites": (Surface,),
        "products": (Product, LabelVersion, Lot),
        "licences": (Person, Licence),
    }
    for model in models.get(kind, ()):
        yield from model.objects.for_firm(file.firm).iterator()


def _key_of(row: FirmOwned) -> tuple[Any, ...]:
    match row:
        case Surface():
            return ("surface", row.site_id, row.name)
        case Product() | Person():
            return (row._meta.model_name, row.name)
        case LabelVersion():
            return ("labelversion", row.product_id, row.version)
        case Lot():
            return ("lot", row.label_id, row.number)
        case Licence():
            return ("licence", row.person_id or "", row.authority, row.number, row.valid_to or "")
    return ()


def _given(entry: Entry, **columns: str) -> dict[str, Any]:
    return {column: entry[name] for column, name in columns.items() if name in entry}

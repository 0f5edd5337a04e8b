"""Customers and sites of the firm as a file's rows name them: found where they are there, else made.

Nothing that is there is changed. A new row's id follows from the file and the name, so that two looks at a
file come to the same rows.
"""

from typing import Any
from uuid import UUID, uuid5

from records import reference
from records.arriving.entries import Entry
from records.models import ArrivalFile, Customer, Firm, Site
from shared.folded import folded
from shared.streets import folded_street
from shared.tenancy import FirmOwned
from shared.us_places import state_code

Json = dict[str, Any]
ADDRESS = ("line1", "line2", "city", "region", "postcode", "country")
OF_SITES = ("county", "use", "latitude", "longitude")
REACHED_BY = ("phone", "email", "language")


class Places:
    """What is known while the rows are gone through; `learn` what a row makes once it is sure to be made."""

    def __init__(self, firm: Firm, file: ArrivalFile) -> None:
        self.firm, self.file = firm, file
        self._customers: dict[str, dict[str, UUID]] = {}
        self._sites: dict[tuple[UUID, str], Json] = {}
        self._of_customer: dict[UUID, Json] = {}
        for customer in Customer.objects.for_firm(firm).only("name", "line1").iterator():
            self._learn_customer(customer)
        for site in Site.objects.for_firm(firm).iterator():
            self._learn_site(site)

    def learn(self, row: FirmOwned) -> None:
        if isinstance(row, Customer):
            self._learn_customer(row)
        elif isinstance(row, Site):
            self._learn_site(row)

    def customer(self, entry: Entry, by_address: bool = False) -> tuple[UUID, Customer | None]:
        """By name; of several of one name the one at the address. `by_address`: at another one is another."""
        streets = self._customers.get(folded(entry["customer"]), {})
        street = folded_street(entry.get("line1", ""))
        if street in streets:
            return streets[street], None
        if streets and not (by_address and street):
            return next(iter(streets.values())), None
        values = {"country": self.firm.country}
        values |= {name: entry[name] for name in REACHED_BY if name in entry}
        if by_address:
            values |= {name: entry[name] for name in ADDRESS if name in entry}
        name = self._id("customer", entry["customer"], street if by_address else "")
        customer = Customer(uuid=name, firm=self.firm, name=entry["customer"], **values)
        return customer.pk, customer

    def site(self, customer: UUID, entry: Entry) -> tuple[Json, Site | None]:
        """The site as the document holds it. Where a row names none it is the customer's first."""
        key = folded_street(entry.get("line1", "")) or folded(entry.get("site", ""))
        found = self._sites.get((customer, key)) if key else self._of_customer.get(customer)
        if found is not None:
            return found, None
        given = {name: entry[name] for name in (*ADDRESS, *OF_SITES) if name in entry}
        site = Site(
            uuid=self._id("site", str(customer), key),
            firm=self.firm,
            customer_id=customer,
            name=(entry.get("site") or entry.get("line1") or entry["customer"])[:200],
            jurisdictions=self._jurisdictions(entry.get("region", "")),
            time_zone=self.firm.time_zone,
            **{"country": self.firm.country, **given},
        )
        return _part(site, self.firm), site

    def _jurisdictions(self, region: str) -> list[str]:
        """Those of the state that the row names; the firm's where it names none, or the firm's own."""
        state = state_code(region) if region else None
        own = self.firm.jurisdictions
        return ["us", f"us-{state}"] if state and f"us-{state}" not in own else own

    def _learn_customer(self, customer: Customer) -> None:
        streets = self._customers.setdefault(folded(customer.name), {})
        streets.setdefault(folded_street(customer.line1), customer.pk)

    def _learn_site(self, site: Site) -> None:
        part = _part(site, self.firm)
        for key in (folded_street(site.line1), folded(site.name)):
            if key:
                self._sites.setdefault((site.customer_id, key), part)
        self._of_customer.setdefault(site.customer_id, part)

    def _id(self, *names: str) -> UUID:
        return uuid5(self.file.uuid, "\0".join(folded(name) for name in names))


def _part(site: Site, firm: Firm) -> Json:
    return reference.filled(
        id=str(site.pk),
        name=site.name,
        address=reference.address_part(site),
        county=site.county,
        jurisdictions=site.jurisdictions or None,
        time_zone=site.time_zone or firm.time_zone,
    )

"""Rows for tests: an invented firm in an invented town, with invented products.

`firm` is passed down: `SiteFactory(firm=firm)` makes a customer of the same firm.
"""

from datetime import UTC, date, datetime

import factory
from factory.django import DjangoModelFactory

from records import models
from shared import clock
from shared.quantities import Quantity

PASSWORD = "a long enough password"
FAR = 10_000
"""Numbers that rows count up start here: in no order of the tests one is a number that a test writes out."""


class FirmFactory(DjangoModelFactory):
    class Meta:
        model = models.Firm

    name = factory.Sequence(lambda n: f"Quillfeather Exterior Care {n}")
    line1 = "12 Cooper Lane"
    city = "Port Quill"
    region = "WA"
    postcode = "98000"
    phone = "+1 360 555 0100"
    insurer = "Sample Mutual"
    insurance_policy = "SM-2026-01"
    insurance_cover = "1000000"
    jurisdictions = ["us", "us-wa"]


class UserFactory(DjangoModelFactory):
    class Meta:
        model = models.User

    email = factory.Sequence(lambda n: f"person{n}@example.net")
    name = factory.Sequence(lambda n: f"R. Osei {n}")
    password = factory.django.Password(PASSWORD)


class OwnedFactory(DjangoModelFactory):
    class Meta:
        abstract = True

    firm = factory.SubFactory(FirmFactory)


class PersonFactory(OwnedFactory):
    class Meta:
        model = models.Person

    name = factory.Sequence(lambda n: f"T. Rowan {n}")


class MembershipFactory(OwnedFactory):
    class Meta:
        model = models.Membership
        skip_postgeneration_save = True

    user = factory.SubFactory(UserFactory)
    role = models.Membership.Role.CREW
    accepted_at = factory.LazyFunction(clock.now)
    person = factory.SubFactory(
        PersonFactory, firm=factory.SelfAttribute("..firm"), name=factory.SelfAttribute("..user.name")
    )

    @factory.post_generation
    def declared(self, create, extracted, **_kwargs):
        """Whether the member has said that their signature binds them; most have."""
        if create and extracted is not False:
            made = models.SignatureDeclaration.objects.for_firm(self.firm)
            made.get_or_create(by=self.user, defaults={"firm": self.firm, "words": "It binds me."})


class LicenceFactory(OwnedFactory):
    class Meta:
        model = models.Licence

    person = factory.SubFactory(PersonFactory, firm=factory.SelfAttribute("..firm"))
    authority = "us-wa"
    kind = "commercial operator"
    number = factory.Sequence(lambda n: f"CO-{n + FAR}")
    categories = ["ornamental-turf"]
    valid_from = date(2026, 1, 1)
    valid_to = date(2026, 12, 31)


class CustomerFactory(OwnedFactory):
    class Meta:
        model = models.Customer

    name = factory.Sequence(lambda n: f"A. Marlowe {n}")
    line1 = "4 Heron Row"
    city = "Port Quill"
    region = "WA"
    postcode = "98000"
    email = "marlowe@example.net"


class SiteFactory(OwnedFactory):
    class Meta:
        model = models.Site

    customer = factory.SubFactory(CustomerFactory, firm=factory.SelfAttribute("..firm"))
    name = factory.Sequence(lambda n: f"House, {n} Heron Row")
    line1 = "4 Heron Row"
    city = "Port Quill"
    region = "WA"
    postcode = "98000"
    county = "Quill County"
    jurisdictions = ["us", "us-wa"]
    time_zone = "America/Los_Angeles"


class SurfaceFactory(OwnedFactory):
    class Meta:
        model = models.Surface

    site = factory.SubFactory(SiteFactory, firm=factory.SelfAttribute("..firm"))
    name = factory.Sequence(lambda n: f"Main roof, slope {n}")
    material = "asphalt shingle"
    plan_area = Quantity("1200", "ft**2")
    rise = "6"
    run = "12"


class FeatureFactory(OwnedFactory):
    class Meta:
        model = models.Feature

    site = factory.SubFactory(SiteFactory, firm=factory.SelfAttribute("..firm"))
    name = factory.Sequence(lambda n: f"downspout {n}")
    distance = Quantity("0", "ft")
    discharges_to = "splash-block"


class ProductFactory(OwnedFactory):
    class Meta:
        model = models.Product

    name = factory.Sequence(lambda n: f"Sample Moss Wash {n}")
    supplier = "Sample Supply"


LABEL = {
    "kind": "main",
    "targets": ["moss", "algae"],
    "not_on": ["copper"],
    "sites": ["roof", "walk", "drive", "wall"],
    "limits": [
        {"of": "wind_speed", "max": {"value": "10", "unit": "mph"}},
        {"of": "coverage", "max": {"value": "1.2", "unit": "gal/(100 ft**2)"}},
        {"of": "dilution", "max": {"value": "12", "unit": "percent"}},
        {"of": "hours_dry_after", "min": {"value": "4", "unit": "hour"}},
        {"of": "days_between", "min": {"value": "30", "unit": "day"}},
    ],
    "ppe": ["gloves", "goggles"],
    "protection": [],
    "statements": [],
}


class LabelVersionFactory(OwnedFactory):
    class Meta:
        model = models.LabelVersion

    product = factory.SubFactory(ProductFactory, firm=factory.SelfAttribute("..firm"))
    version = "2025-03"
    registration_number = factory.Sequence(lambda n: f"99999-{n + FAR}")
    signal_word = "warning"
    restricted_use = False
    active_ingredients = [{"name": "invented active", "percent": "38", "basis": "w/w"}]
    density = Quantity("8.9", "lb/gal")
    label = LABEL
    valid_from = date(2025, 3, 1)


class LotFactory(OwnedFactory):
    class Meta:
        model = models.Lot

    label = factory.SubFactory(LabelVersionFactory, firm=factory.SelfAttribute("..firm"))
    number = factory.Sequence(lambda n: f"L-{n + FAR}")
    received_on = date(2026, 3, 1)
    amount = Quantity("5", "gal")


class RigFactory(OwnedFactory):
    class Meta:
        model = models.Rig

    name = factory.Sequence(lambda n: f"Rig {n + FAR}")
    identification = "plate 555-QFX"
    tank = Quantity("35", "gal")
    pressure = Quantity("60", "psi")
    tip = "65 degree flat fan"
    backflow = "air-gap"


class CalibrationFactory(OwnedFactory):
    class Meta:
        model = models.Calibration

    rig = factory.SubFactory(RigFactory, firm=factory.SelfAttribute("..firm"))
    on = date(2026, 9, 1)
    flow = Quantity("2.2", "gal/min")


class BatchFactory(OwnedFactory):
    class Meta:
        model = models.Batch

    rig = factory.SubFactory(RigFactory, firm=factory.SelfAttribute("..firm"))
    mixed_at = datetime(2026, 9, 14, 15, 30, tzinfo=UTC)
    mixed_at_place = "at the yard"
    products = [{"name": "Sample Moss Wash", "lot": "L-0457", "amount": {"value": "3", "unit": "gal"}}]
    diluent = {"name": "water", "amount": {"value": "27", "unit": "gal"}}
    volume = Quantity("30", "gal")


class StockMoveFactory(OwnedFactory):
    class Meta:
        model = models.StockMove

    firm = factory.SelfAttribute("lot.firm")
    lot = factory.SubFactory(LotFactory)
    kind = "count"
    amount = Quantity("5", "gal")
    on = date(2026, 9, 14)


class OccupantFactory(OwnedFactory):
    class Meta:
        model = models.Occupant

    site = factory.SubFactory(SiteFactory, firm=factory.SelfAttribute("..firm"))
    name = factory.Sequence(lambda n: f"O. Ccupant {n}")


class ParcelFactory(OwnedFactory):
    class Meta:
        model = models.Parcel

    site = factory.SubFactory(SiteFactory, firm=factory.SelfAttribute("..firm"))
    number = factory.Sequence(lambda n: f"P-{n + FAR}")
    shape = '{"type": "Point", "coordinates": [-122.9, 47.1]}'


class NeighbourFactory(OwnedFactory):
    class Meta:
        model = models.Neighbour

    site = factory.SubFactory(SiteFactory, firm=factory.SelfAttribute("..firm"))
    name = factory.Sequence(lambda n: f"B. Lark {n}")
    line1 = factory.Sequence(lambda n: f"{n + FAR} Heron Row")
    city = "Port Quill"
    region = "WA"
    postcode = "98000"


class RegisterFactory(OwnedFactory):
    class Meta:
        model = models.Register

    authority = "us-wa"
    name = "Sensitive persons"
    source = factory.Sequence(lambda n: f"Sample agency, list {n}")
    as_of = date(2026, 9, 1)


class RegisteredPersonFactory(OwnedFactory):
    class Meta:
        model = models.RegisteredPerson

    register = factory.SubFactory(RegisterFactory, firm=factory.SelfAttribute("..firm"))
    name = factory.Sequence(lambda n: f"C. Finch {n}")
    line1 = factory.Sequence(lambda n: f"{n + FAR} Heron Row")
    city = "Port Quill"
    region = "WA"
    postcode = "98000"

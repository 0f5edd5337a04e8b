"""The firm's reference rows: members, people, rigs, products and sites, made from the data files."""

from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time
from typing import Any

from compliance.own_rules import OwnRule
from compliance.services.determinations import determine
from compliance.services.own_rules import save_rule, take_into_use
from project.demo.people_near import make_neighbours
from project.demo.products import make_product
from project.demo.saving import plain, saved
from project.demo.source import FirmSource
from records.models import (
    Calibration,
    Customer,
    Feature,
    Firm,
    Licence,
    Lot,
    Membership,
    Person,
    Product,
    Rig,
    Site,
    Surface,
    User,
)
from shared import clock
from shared.quantities import parse


@dataclass
class Rows:
    """Rows by the name or key that the data files give them; members' users by the member's name."""

    firm: Firm
    users: dict[str, User] = field(default_factory=dict)
    people: dict[str, Person] = field(default_factory=dict)
    rigs: dict[str, Rig] = field(default_factory=dict)
    products: dict[str, Product] = field(default_factory=dict)
    sites: dict[str, Site] = field(default_factory=dict)

    def surfaces(self, site: str, names: tuple[str, ...]) -> list[Surface]:
        rows = {surface.name: surface for surface in self.sites[site].surfaces.all()}
        return [rows[name] for name in names]

    def lot(self, product: str, day: date) -> Lot:
        """The lot in use on the day: the last one received by then."""
        received = Lot.objects.for_firm(self.firm).filter(label__product=self.products[product])
        return received.filter(received_on__lte=day).latest("received_on")


def make_rows(source: FirmSource, pass_phrases: dict[str, str]) -> Rows:
    """All reference rows of a firm; `pass_phrases` by the e-mail address of each member."""
    rows = Rows(make_firm(source.firm))
    for person in source.people:
        rows.people[person["name"]] = make_person(rows.firm, person)
    for member in source.firm["members"]:
        rows.users[member["name"]] = make_member(rows, member, pass_phrases[member["email"]])
    make_own_rules(rows, source.firm)
    make_answers(rows, source.firm)
    for rig in source.rigs:
        rows.rigs[rig["name"]] = make_rig(rows.firm, rig)
    for product in source.products:
        rows.products[product["key"]] = make_product(rows.firm, product)
    for site in source.sites:
        rows.sites[site["key"]] = make_site(rows.firm, source.firm, site)
        if "neighbours" in site:
            make_neighbours(rows.sites[site["key"]], site["neighbours"], rows.users)
    return rows


def make_firm(data: dict[str, Any]) -> Firm:
    insurance = data["insurance"]
    firm = saved(
        Firm(
            name=data["name"],
            phone=data["phone"],
            email=data.get("email", ""),
            paper=data["paper"],
            time_zone=data["time_zone"],
            jurisdictions=plain(data["jurisdictions"]),
            insurer=insurance["insurer"],
            insurance_policy=insurance["policy"],
            insurance_cover=insurance["amount"],
            insurance_currency=insurance["currency"],
            **data["address"],
        )
    )
    for licence in data["licences"]:
        make_licence(firm, None, licence)
    return firm


def make_own_rules(rows: Rows, data: dict[str, Any]) -> None:
    """The firm's own limits, written and taken into use by its manager on the first day of each."""
    by = next((rows.users[member["name"]] for member in data["members"] if member["role"] == "manager"), None)
    for policy in data.get("policies", []):
        day = date.fromisoformat(policy["in_force_from"])
        limit = policy["limit"]
        params = {"quantity": limit["of"], **{side: limit[side] for side in ("min", "max") if side in limit}}
        rule = OwnRule("", policy["title"], policy["why"], "limit", plain(params), start=day.isoformat())
        with clock.at(datetime.combine(day, time(12), UTC)):
            take_into_use(save_rule(rows.firm, rule, by, policy["why"]), by)


def make_answers(rows: Rows, data: dict[str, Any]) -> None:
    """The firm's own answers to open questions, each given on the first day on which it holds."""
    for answer in data.get("answers", []):
        day = date.fromisoformat(answer["valid_from"])
        given = {name: str(answer[name]) for name in ("question", "answer", "by", "advice")}
        with clock.at(datetime.combine(day, time(12), UTC)):
            determine(rows.firm, **given, valid_from=day)


def make_licence(firm: Firm, person: Person | None, data: dict[str, Any]) -> None:
    saved(Licence(firm=firm, person=person, **{"authority": "us-wa", **plain(data)}))


def make_person(firm: Firm, data: dict[str, Any]) -> Person:
    trained_on = data.get("trained_on")
    person = saved(
        Person(firm=firm, name=data["name"], role=data["role"], phone=data["phone"], trained_on=trained_on)
    )
    for licence in data["licences"]:
        make_licence(firm, person, licence)
    return person


def make_member(rows: Rows, data: dict[str, Any], pass_phrase: str) -> User:
    user = User.objects.create_user(data["email"], pass_phrase, name=data["name"])
    person = rows.people.get(data.get("person", ""))
    saved(
        Membership(firm=rows.firm, user=user, role=data["role"], person=person, accepted_at=clock.now())
    )
    return user


def make_rig(firm: Firm, data: dict[str, Any]) -> Rig:
    members = {name: data[name] for name in ("name", "method", "identification", "tip", "backflow")}
    rig = saved(Rig(firm=firm, tank=parse(data["tank"]), pressure=parse(data["pressure"]), **members))
    for row in data["calibrations"]:
        flow, pressure = parse(row["flow"]), parse(row["pressure"])
        saved(Calibration(firm=firm, rig=rig, on=row["on"], flow=flow, pressure=pressure, by=row["by"]))
    return rig


def make_site(firm: Firm, firm_data: dict[str, Any], data: dict[str, Any]) -> Site:
    address = {**firm_data["address"], "line1": data["street"]}
    contact = {name: data["customer"].get(name, "") for name in ("name", "phone", "email")}
    site = saved(
        Site(
            firm=firm,
            customer=saved(Customer(firm=firm, **contact, **address)),
            name=data["name"],
            county=firm_data["county"],
            jurisdictions=plain(firm_data["jurisdictions"]),
            time_zone=firm_data["time_zone"],
            use=data["use"],
            **data["position"],
            **address,
        )
    )
    for surface in data["surfaces"]:
        make_surface(site, surface)
    for feature in data["features"]:
        distances = {name: parse(feature[name]) for name in ("distance", "bearing") if name in feature}
        words = {name: feature[name] for name in ("kind", "name", "discharges_to") if name in feature}
        saved(Feature(firm=firm, site=site, **distances, **words))
    return site


def make_surface(site: Site, data: dict[str, Any]) -> Surface:
    rise, _, run = data.get("pitch", "").partition("/")
    kept = {name: data[name] for name in ("name", "kind", "material")}
    area = parse(data["plan_area"])
    return saved(Surface(firm=site.firm, site=site, plan_area=area, rise=rise, run=run, **kept))

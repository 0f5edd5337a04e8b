"""What the crew enters for a visit: the members of the document that the plan could not know."""

import math
import uuid
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal
from typing import Any

from project.demo.amounts import Amounts, Json, quantity
from project.demo.visits import Visit

HAND_SCOOP = {"name": "Hand scoop", "method": "granules-by-hand"}
MOST_WIND = {"wind-over-limit": 13}
BEDS = ("planting-bed", "vegetable-garden")
STEPS_FOR = (
    (("rain-barrel",), "rain-barrels-disconnected", -16),
    (("air-intake",), "air-intakes-closed", -15),
    (("play-area",), "toys-and-furniture-moved", -14),
    (("pond",), "ponds-covered", -12),
    (("stream", "shore"), "overspray-shielded", -12),
    (BEDS, "plants-pre-wet", -10),
)


@dataclass(frozen=True)
class Day:
    """A visit as it went: what was used, and what was out of the ordinary."""

    visit: Visit
    amounts: Amounts
    usual: dict[str, Json]
    flow: Decimal
    fault: str = ""
    note: str = ""
    batch: str = ""
    stood_down: Json | None = None

    @property
    def started_at(self) -> datetime:
        return self.visit.starts_at + timedelta(minutes=self.visit.chance("start").randint(2, 14))

    @property
    def finished_at(self) -> datetime:
        """Twice the time at the rig's flow, for moving ladder and hose, and some looking."""
        applied = self.amounts.mix["applied"]
        spraying = 20.0 if applied["unit"] == "lb" else float(Decimal(applied["value"]) / self.flow)
        return self.started_at + timedelta(minutes=8 + math.ceil(2 * spraying))

    @property
    def recorded_at(self) -> datetime:
        if self.fault == "late-record":
            return (self.visit.starts_at + timedelta(days=1)).replace(hour=7, minute=35)
        return self.finished_at + timedelta(minutes=self.visit.chance("record").randint(9, 24))

    def minutes_in(self, share: float) -> datetime:
        minutes = int((self.finished_at - self.started_at).total_seconds() // 60 * share)
        return self.started_at + timedelta(minutes=minutes)


def entries_of(day: Day, document: Json) -> dict[str, Any]:
    """Values by path, in the order of the work."""
    if day.stood_down:
        return stood_down(day, document)
    return {**before(day, document), **mix(day, document), **afterwards(day, document)}


def before(day: Day, document: Json) -> dict[str, Any]:
    """What is entered before anything is sprayed."""
    return {
        **people(day, document),
        "protection": protection(day, document),
        "weather.readings": [reading(day, day.started_at - timedelta(minutes=4))],
        "weather.forecast": forecast(day),
        **posting(day),
        **notice(day, document),
    }


def people(day: Day, document: Json) -> dict[str, Any]:
    minutes = int((day.finished_at - day.started_at).total_seconds() // 60)
    worn = document["mixes"][0]["products"][0]["label"]["ppe"]
    return {f"people[{person['id']}]": at_work(day, person, worn, minutes) for person in document["people"]}


def at_work(day: Day, person: Json, label_ppe: list[str], minutes: int) -> Json:
    usual = day.usual[person["name"]]
    helps = person["name"] != day.visit.applicator
    worked = {
        **person,
        "role": "helper" if helps else "applicator",
        "tasks": [*usual["tasks"]],
        "ppe": [*usual["ppe"], *(item for item in label_ppe if item not in usual["ppe"])],
    }
    if helps:
        worked |= {"supervised_by": day.visit.applicator, "supervision": "in-sight"}
    if day.visit.index % 5 < 3:
        worked["positions"] = positions(day, minutes, helps)
    return worked


def positions(day: Day, minutes: int, helps: bool) -> list[Json]:
    up = minutes // 3 if day.visit.job.name == "roof" and not helps else 0
    places = {"ground": minutes - up, "ladder": up}
    return [{"where": place, "time": quantity(time, "min")} for place, time in places.items() if time]


def protection(day: Day, document: Json) -> list[Json]:
    by = document["people"][-1]["name"]
    return [
        {
            "id": new_id(),
            "step": step,
            "features": names,
            "at": text(day.started_at + timedelta(minutes=minutes)),
            "by": by,
        }
        for step, names, minutes in steps(day, document)
    ]


def steps(day: Day, document: Json) -> list[tuple[str, list[str], int]]:
    """Step, the features that it is for, and how many minutes after the start it was taken."""
    features = document["site"]["features"]
    label = document["mixes"][0]["products"][0]["label"]
    on_roof = day.visit.job.name == "roof"
    taken: list[tuple[str, list[str], int]] = [("people-told-on-arrival", [], -24)]
    if (on_roof or "downspouts-diverted" in label["protection"]) and day.fault != "downspouts-left":
        taken.append(("downspouts-diverted", names_of(features, "downspout"), -22))
    if day.fault != "drain-left-open":
        taken.append(("storm-drains-covered", names_of(features, "storm-drain"), -17))
    for kinds, step, minutes in STEPS_FOR:
        if names := names_of(features, *kinds):
            taken.append((step, names, minutes))
    if beds := names_of(features, *BEDS):
        minutes = int((day.finished_at - day.started_at).total_seconds() // 60)
        taken.append(("plants-rinsed", beds, minutes + 3))
    return taken


def reading(day: Day, moment: datetime, wind: int | None = None) -> Json:
    weather = day.visit.weather
    speed = weather.wind_at(moment) if wind is None else wind
    read: Json = {
        "id": new_id(),
        "at": text(moment),
        "by": day.visit.applicator,
        "temperature": quantity(weather.temperature_at(moment), "degF"),
        "relative_humidity": quantity(weather.humidity_at(moment), "percent"),
        "sky": weather.sky,
        "source": "anemometer",
    }
    if day.fault != "missing-wind":
        calm = speed == 0
        read |= {"calm": calm, "wind_speed": quantity(speed, "mph")}
        if not calm:
            read["wind_from"] = quantity(weather.wind_from, "degree")
    return read


def forecast(day: Day) -> Json:
    weather, start = day.visit.weather, day.started_at
    return {
        "issued_at": text(start.replace(hour=6, minute=0)),
        "source": "national weather service",
        "dry_until": text(weather.dry_until(start)),
        "rain_probability": quantity(weather.rain_probability, "percent"),
    }


def posting(day: Day) -> dict[str, Any]:
    if day.visit.job.name != "hard":
        return {}
    sign = {"where": "front walk", "width": quantity(5, "inch"), "height": quantity(4, "inch")}
    return {f"postings[{new_id()}]": {**sign, "posted_at": text(day.started_at - timedelta(minutes=6))}}


def notice(day: Day, document: Json) -> dict[str, Any]:
    customer = document["customer"]
    sent = (day.visit.starts_at - timedelta(days=3)).replace(hour=16, minute=0)
    told = {"to": "customer", "name": customer["name"], "sent_at": text(sent)}
    if customer.get("email"):
        means = {"means": "email", "delivered_at": text(sent + timedelta(seconds=9))}
    else:
        means = {"means": "phone", "delivered_at": text(sent)}
    planned = {"planned_at": document["timing"]["planned_at"], "alternate_dates": []}
    return {f"notices[{new_id()}]": {**told, **means, **planned}}


def mix(day: Day, document: Json) -> dict[str, Any]:
    planned, used = document["mixes"][0], dict(day.amounts.mix)
    if day.batch:
        used["loads"] = [{**load, "batch": day.batch} for load in used["loads"]]
    dry = used["applied"]["unit"] == "lb"
    used["form"] = "dry" if dry else "tank" if day.amounts.diluent else "ready-to-use"
    used["mixed_at_place"] = "in the yard" if day.batch else "at the site"
    used["measured_by"] = "estimate" if dry or day.visit.small else "tank-gauge"
    by_hand = {f"equipment[{new_id()}]": HAND_SCOOP} if day.visit.by_hand else {}
    if by_hand:
        used["equipment"] = HAND_SCOOP["name"]
    return {**by_hand, f"mixes[{planned['id']}]": {**planned, **used}}


def afterwards(day: Day, document: Json) -> dict[str, Any]:
    second = reading(day, day.minutes_in(0.8), MOST_WIND.get(day.fault))
    timing = {
        **document["timing"],
        "started_at": text(day.started_at),
        "finished_at": text(day.finished_at),
        "reentry_at": text(day.finished_at + timedelta(hours=4)),
        "recorded_at": text(day.recorded_at),
        "pauses": [],
    }
    return {
        "timing": timing,
        f"weather.readings[{second['id']}]": second,
        "incidents": [],
        "permits": [],
        **({"notes": day.note} if day.note else {}),
        "record.result": "treated",
    }


def corrected_finish(day: Day, minutes: int) -> dict[str, Any]:
    """The finish, moved, and all that is counted from it."""
    finish = day.finished_at + timedelta(minutes=minutes)
    return {"timing.finished_at": text(finish), "timing.reentry_at": text(finish + timedelta(hours=4))}


def stood_down(day: Day, document: Json) -> dict[str, Any]:
    """A day that did not happen, with the wind that stopped it."""
    row = day.stood_down or {}
    readings = []
    for number, speed in enumerate(row["wind"]):
        read = reading(day, day.visit.starts_at + timedelta(minutes=4 + 25 * number), int(speed))
        gusty = {"wind_from": quantity(row["from"], "degree"), "gust": quantity(row["gust"], "mph")}
        readings.append({**read, **gusty})
    return {
        **{f"mixes[{mix['id']}]": None for mix in document.get("mixes", [])},
        "weather.readings": readings,
        "notes": row["note"],
        "record.result": "stood-down",
        "record.why": "wind",
        "timing.recorded_at": text(day.visit.starts_at + timedelta(minutes=40)),
    }


def names_of(features: list[Json], *kinds: str) -> list[str]:
    return [feature["name"] for feature in features if feature["kind"] in kinds]


def text(moment: datetime) -> str:
    return moment.isoformat(timespec="seconds")


def new_id() -> str:
    return str(uuid.uuid4())

"""What the crew enters for a visit: the members of the document that the plan could not know."""

from datetime import datetime, timedelta
from typing import Any

from project.demo.amounts import Json, quantity
from project.demo.care import protection
from project.demo.day import Day, new_id, text
from project.demo.words import said

HAND_SCOOP = {"name": "Hand scoop", "method": "granules-by-hand"}
MOST_WIND = {"wind-over-limit": 13}


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
    }
    if day.fault != "missing-wind":
        calm = speed == 0
        read |= {"source": "anemometer", "calm": calm, "wind_speed": quantity(speed, "mph")}
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
        "notes": said(row["note"], {"weather": {"readings": readings}}),
        "record.result": "stood-down",
        "record.why": "wind",
    }

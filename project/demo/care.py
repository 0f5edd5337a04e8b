"""The protection steps of a visit: what its site, its label and its surfaces call for."""

from datetime import timedelta

from project.demo.amounts import Json
from project.demo.day import Day, new_id, text

BEDS = ("planting-bed", "vegetable-garden")
STEPS_FOR = (
    (("rain-barrel",), "rain-barrels-disconnected", -16),
    (("air-intake",), "air-intakes-closed", -15),
    (("play-area",), "toys-and-furniture-moved", -14),
    (("pond",), "ponds-covered", -12),
    (("stream", "shore"), "overspray-shielded", -12),
    (BEDS, "plants-pre-wet", -10),
)


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


def names_of(features: list[Json], *kinds: str) -> list[str]:
    return [feature["name"] for feature in features if feature["kind"] in kinds]

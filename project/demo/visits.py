"""Which site is treated on which day, with what and by whom: two years of visits from the story's file."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from random import Random
from typing import Any
from zoneinfo import ZoneInfo

from project.demo.source import FirmSource
from project.demo.weather import DayOfWeather, weather_of

SLOTS = (time(8, 40), time(10, 50), time(13, 20), time(15, 10))
CALM_ENOUGH, CALM_FOR_GRANULES = 7, 5
WARM_ENOUGH, WARM_FOR_WASH = 36, 41
SMALL, LARGE = 330, 2600  # square feet up to which the small rig goes out, and above which the large one


@dataclass(frozen=True)
class Job:
    """The surfaces of one site that are treated together, and how often."""

    site: str
    name: str
    surfaces: tuple[str, ...]
    materials: frozenset[str]
    area: int
    days_between: int
    products: tuple[str, ...]
    months: frozenset[int]
    features: frozenset[str]
    near_water: bool


@dataclass(frozen=True)
class Visit:
    """One treatment at one site.

    `turn` counts the visits to the same job; `way` (0 to 3) is which of its ordinary ways it is mixed in;
    `small` is one with the small rig, measured in tenths of a gallon.
    """

    index: int
    job: Job
    turn: int
    way: int
    product: str
    starts_at: datetime
    rig: str
    small: bool
    applicator: str
    helper: str | None
    weather: DayOfWeather

    @property
    def day(self) -> date:
        return self.starts_at.date()

    @property
    def by_hand(self) -> bool:
        """Granules are strewn, not sprayed."""
        return self.product == "roof-granules"

    def chance(self, what: str) -> Random:
        """The same throws of dice for the same visit and purpose."""
        return Random(f"{self.job.site} {self.job.name} {self.day} {what}")  # noqa: S311


class Calendar:
    """Gives each month its visits: on dry calm days, to the jobs that have waited longest."""

    def __init__(self, source: FirmSource) -> None:
        self.story = source.story
        self.zone = ZoneInfo(source.firm["time_zone"])
        self.jobs = list(jobs_of(source))
        self.places = {job: place for place, job in enumerate(self.jobs)}
        self.windy = {date.fromisoformat(row["on"]) for row in self.story.get("stood_down", [])}
        self.last: dict[Job, date] = {}
        self.turns: dict[Job, int] = {}

    @property
    def count(self) -> int:
        """How many visits the story has up to its last day."""
        return sum(int(count) for count in self.story["visits"].values())

    def visits(self) -> list[Visit]:
        made: list[Visit] = []
        for month, count in self.story["visits"].items():
            days = self.days_of(month, int(count))
            for place, day in enumerate(days):
                slot = days[:place].count(day)
                made.append(self.visit(len(made), day, slot))
        return made

    def days_of(self, month: str, count: int) -> list[date]:
        """The day of each visit of the month, in order; two on each windy day."""
        first = date.fromisoformat(f"{month}-01")
        last = date.fromisoformat(self.story["last_day"])
        all_days = [first + timedelta(n) for n in range(31) if (first + timedelta(n)).month == first.month]
        windy = [day for day in all_days if day in self.windy]
        fit = [day for day in all_days if day <= last and day not in self.windy and self.is_fit(day)]
        rest = count - 2 * len(windy)
        chosen = [fit[place * len(fit) // rest] for place in range(rest)]
        return sorted([*chosen, *windy, *windy])

    def is_fit(self, day: date) -> bool:
        weather = weather_of(self.story["seed"], day)
        calm, warm = weather.wind <= CALM_ENOUGH, weather.temperature >= WARM_ENOUGH
        return day.weekday() < 5 and calm and warm and not weather.wet

    def visit(self, index: int, day: date, slot: int, kind: str = "", site: str = "") -> Visit:
        """The next visit: to the job that has waited longest, of this kind and at this site where named."""
        able = [job for job in self.jobs if kind in ("", job.name) and site in ("", job.site)]
        job = max(able, key=lambda job: self.urgency(job, day))
        turn = self.turns.get(job, 0)
        self.last[job], self.turns[job] = day, turn + 1
        rig = self.rig_for(job, index)
        weather = weather_of(self.story["seed"], day)
        minutes = timedelta(minutes=5 * (index % 4))
        return Visit(
            index=index,
            job=job,
            turn=turn,
            way=index % 4,
            product=self.product_for(job, turn, weather),
            starts_at=datetime.combine(day, SLOTS[slot % len(SLOTS)], self.zone) + minutes,
            rig=rig,
            small=job.area <= SMALL,
            applicator=self.applicator_for(rig, day, index),
            helper=self.story.get("helper") if job.name == "roof" or job.area > 900 else None,
            weather=weather,
        )

    def urgency(self, job: Job, day: date) -> tuple[float, str, str]:
        """How long it has waited as a share of its interval; less out of season, none at a site just seen."""
        place = self.places[job]
        first = date.fromisoformat(f"{next(iter(self.story['visits']))}-01") - timedelta(place * 7 % 330)
        waited = (day - self.last.get(job, first)).days / job.days_between
        seen = max((last for other, last in self.last.items() if other.site == job.site), default=None)
        if seen and (day - seen).days < 10:
            waited = 0
        return (waited if day.month in job.months else waited / 3, job.site, job.name)

    def product_for(self, job: Job, turn: int, weather: DayOfWeather) -> str:
        """The next of the job's products, or another where label or good sense speak against that."""
        product = job.products[(self.places[job] + turn) % len(job.products)]
        wet_feet = job.near_water or "cedar shake" in job.materials
        if product == "roof-granules" and (wet_feet or weather.wind > CALM_FOR_GRANULES):
            product = "moss-wash"
        if product == "moss-wash" and (weather.temperature < WARM_FOR_WASH or job.near_water):
            return "walk-liquid"
        if product == "clove-spray" and job.area > 700:
            return "walk-liquid"
        return product

    def rig_for(self, job: Job, index: int) -> str:
        rigs = self.story["rigs"]
        if job.area <= SMALL:
            return str(rigs["small"])
        return str(rigs["large"] if job.area > LARGE else rigs["between"][index % len(rigs["between"])])

    def applicator_for(self, rig: str, day: date, index: int) -> str:
        if "stands_in" in self.story and rig == self.story["rigs"]["large"] and index % 11 == 4:
            return str(self.story["stands_in"])
        crews = [row for row in self.story["crews"] if row["rig"] == rig and row["from"] <= day.isoformat()]
        return str(crews[-1]["applicator"])


def jobs_of(source: FirmSource) -> Iterator[Job]:
    for site in source.sites:
        for name, rule in source.story["jobs"].items():
            surfaces = [surface for surface in site["surfaces"] if surface["kind"] in rule["kinds"]]
            if surfaces:
                yield job_of(site, name, rule, surfaces)


def job_of(site: dict[str, Any], name: str, rule: dict[str, Any], surfaces: list[dict[str, Any]]) -> Job:
    water = {"pond", "stream", "lake", "shore", "wetland", "well"}
    return Job(
        site=site["key"],
        name=name,
        surfaces=tuple(surface["name"] for surface in surfaces),
        materials=frozenset(surface["material"] for surface in surfaces),
        area=sum(int(surface["plan_area"].removesuffix(" ft**2")) for surface in surfaces),
        days_between=int(rule["days_between"]),
        products=tuple(rule["products"]),
        months=frozenset(int(month) for month in rule["months"]),
        features=frozenset(feature["name"] for feature in site["features"]),
        near_water=any(feature["kind"] in water for feature in site["features"]),
    )

"""The treatment document, member by member: the one definition that reader, schema and edits stand on.

Every member may be left out but `schema` and `record`. Text, times and days are held as written, quantities
as `Quantity`. A list that is left out was not asked; an empty list says that there is none.
"""

from typing import Annotated, TypeVar

from pydantic import BaseModel, ConfigDict, Field

from records.document.kinds import (
    Day,
    Decimals,
    Exactly,
    Flag,
    Formed,
    Measured,
    Text,
    Time,
    Whole,
    Word,
    Zone,
)
from records.document.limit_bounds import Bound, limit_conditions
from shared.quantities import Quantity

LIST_ITEMS = 500
DOCUMENT_SCHEMA = "treatment-document/1"

Item = TypeVar("Item")
Many = Annotated[list[Item], Field(max_length=LIST_ITEMS)]

OpenText = Annotated[str, Text()]
Notes = Annotated[str, Text(20_000)]
Moment = Annotated[str, Time()]
CalendarDay = Annotated[str, Day()]
YesNo = Annotated[bool, Flag()]
WholeNumber = Annotated[int, Whole()]
Digits = Annotated[str, Decimals()]

_HEX = "[0-9a-f]"
_UUID_PATTERN = f"{_HEX}{{8}}-{_HEX}{{4}}-{_HEX}{{4}}-{_HEX}{{4}}-{_HEX}{{12}}"
Id = Annotated[str, Formed("uuid", _UUID_PATTERN, "5e0b1c1e-6d1c-4f7e-9a53-0a6c1f5d2b11")]
Digest = Annotated[str, Formed("digest", f"sha256:{_HEX}{{64}}", "sha256:9f86d081… (64 hexadecimal digits)")]
Sha256 = Annotated[str, Formed("digest", f"{_HEX}{{64}}", "9f86d081… (64 hexadecimal digits)")]
Place = Annotated[str, Formed("place", "[a-z]{2}(-[a-z0-9]+)*", "us-wa")]
Country = Annotated[str, Formed("country", "[A-Z]{2}", "US")]
Currency = Annotated[str, Formed("currency", "[A-Z]{3}", "USD")]
Language = Annotated[str, Formed("language", "[a-z]{2,3}(-[A-Za-z0-9]{1,8})*", "en")]
MediaType = Annotated[str, Formed("media_type", r"[a-z]+/[a-z0-9.+-]+", "image/jpeg")]

Length = Annotated[Quantity, Measured(("length",))]
Area = Annotated[Quantity, Measured(("area",))]
Volume = Annotated[Quantity, Measured(("volume",))]
TankVolume = Annotated[Quantity, Measured(("volume",), above_zero=True)]
VolumeOrMass = Annotated[Quantity, Measured(("volume", "mass"))]
Speed = Annotated[Quantity, Measured(("speed",))]
Temperature = Annotated[Quantity, Measured(("temperature",))]
Pressure = Annotated[Quantity, Measured(("pressure",))]
Flow = Annotated[Quantity, Measured(("flow",))]
Duration = Annotated[Quantity, Measured(("time",))]
Angle = Annotated[Quantity, Measured(("angle",))]
Share = Annotated[Quantity, Measured(("share",))]
Density = Annotated[Quantity, Measured(("density",))]


class Part(BaseModel):
    """An object of the document: it never changes, and takes no member that it does not name."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class Replaces(Part):
    version: WholeNumber | None = None
    digest: Digest | None = None


class Record(Part):
    id: Id | None = None
    number: OpenText | None = None
    version: WholeNumber | None = None
    replaces: Replaces | None = None
    reason: OpenText | None = None
    corrected_at: Moment | None = None
    result: Annotated[str, Word("result")] | None = None
    why: Annotated[str, Word("stand_down_reason")] | None = None
    entered_by: OpenText | None = None


class Address(Part):
    line1: OpenText | None = None
    line2: OpenText | None = None
    city: OpenText | None = None
    region: OpenText | None = None
    postcode: OpenText | None = None
    country: Country | None = None


class Licence(Part):
    authority: Place | None = None
    kind: OpenText | None = None
    number: OpenText | None = None
    holder: OpenText | None = None
    categories: Many[OpenText] | None = None
    valid_from: CalendarDay | None = None
    valid_to: CalendarDay | None = None


class Money(Part):
    value: Digits | None = None
    currency: Currency | None = None


class Insurance(Part):
    insurer: OpenText | None = None
    policy: OpenText | None = None
    cover: Money | None = None


class Firm(Part):
    id: Id | None = None
    name: OpenText | None = None
    address: Address | None = None
    phone: OpenText | None = None
    licences: Many[Licence] | None = None
    insurance: Insurance | None = None


class Customer(Part):
    id: Id | None = None
    name: OpenText | None = None
    address: Address | None = None
    phone: OpenText | None = None
    email: OpenText | None = None


class Position(Part):
    latitude: Annotated[str, Decimals("-90", "90")] | None = None
    longitude: Annotated[str, Decimals("-180", "180")] | None = None


class Feature(Part):
    kind: Annotated[str, Word("feature_kind")] | None = None
    name: OpenText | None = None
    discharges_to: Annotated[str, Word("discharge")] | None = None
    distance: Length | None = None
    bearing: Angle | None = None


class Site(Part):
    id: Id | None = None
    name: OpenText | None = None
    address: Address | None = None
    county: OpenText | None = None
    jurisdictions: Many[Place] | None = None
    time_zone: Annotated[str, Zone()] | None = None
    position: Position | None = None
    use: Annotated[str, Word("site_use")] | None = None
    indoors: YesNo | None = None
    features: Many[Feature] | None = None


class Pause(Part):
    id: Id | None = None
    started_at: Moment | None = None
    finished_at: Moment | None = None
    note: OpenText | None = None


class Timing(Part):
    planned_at: Moment | None = None
    started_at: Moment | None = None
    finished_at: Moment | None = None
    recorded_at: Moment | None = None
    reentry_at: Moment | None = None
    pauses: Many[Pause] | None = None


class TimeAt(Part):
    where: Annotated[str, Word("position")] | None = None
    time: Duration | None = None


class Person(Part):
    id: Id | None = None
    name: OpenText | None = None
    role: Annotated[str, Word("role")] | None = None
    address: Address | None = None
    phone: OpenText | None = None
    licences: Many[Licence] | None = None
    tasks: Many[Annotated[str, Word("task")]] | None = None
    supervised_by: OpenText | None = None
    supervision: Annotated[str, Word("supervision")] | None = None
    trained_on: CalendarDay | None = None
    positions: Many[TimeAt] | None = None
    ppe: Many[Annotated[str, Word("ppe")]] | None = None


class Pitch(Part):
    rise: Digits | None = None
    run: Digits | None = None


class Surface(Part):
    id: Id | None = None
    name: OpenText | None = None
    kind: Annotated[str, Word("surface_kind")] | None = None
    material: OpenText | None = None
    plan_area: Area | None = None
    pitch: Pitch | None = None
    treated_area: Area | None = None


class Limit(Part):
    model_config = ConfigDict(json_schema_extra=limit_conditions())

    of: Annotated[str, Word("limit_quantity")] | None = None
    min: Annotated[Quantity | str, Bound()] | None = None
    max: Annotated[Quantity | str, Bound()] | None = None


class Label(Part):
    id: Id | None = None
    version: OpenText | None = None
    kind: Annotated[str, Word("label_kind")] | None = None
    digest: Digest | None = None
    valid_from: CalendarDay | None = None
    valid_to: CalendarDay | None = None
    targets: Many[Annotated[str, Word("target")]] | None = None
    not_on: Many[OpenText] | None = None
    sites: Many[Annotated[str, Word("surface_kind")]] | None = None
    limits: Many[Limit] | None = None
    ppe: Many[Annotated[str, Word("ppe")]] | None = None
    protection: Many[Annotated[str, Word("step")]] | None = None
    statements: Many[OpenText] | None = None


class ActiveIngredient(Part):
    name: OpenText | None = None
    percent: Digits | None = None
    basis: OpenText | None = None


class Product(Part):
    id: Id | None = None
    name: OpenText | None = None
    kind: Annotated[str, Word("product_kind")] | None = None
    registration_number: OpenText | None = None
    signal_word: Annotated[str, Word("signal_word")] | None = None
    restricted_use: YesNo | None = None
    regime: Annotated[str, Word("regime")] | None = None
    lot: OpenText | None = None
    supplier: OpenText | None = None
    active_ingredients: Many[ActiveIngredient] | None = None
    density: Density | None = None
    amount: VolumeOrMass | None = None
    label: Label | None = None


class Diluent(Part):
    name: OpenText | None = None
    amount: Volume | None = None


class Load(Part):
    id: Id | None = None
    volume: VolumeOrMass | None = None
    batch: OpenText | None = None
    from_record: OpenText | None = None


class LeftOver(Part):
    amount: VolumeOrMass | None = None
    disposition: Annotated[str, Word("disposition")] | None = None
    surface: OpenText | None = None


class MixOnSurface(Part):
    surface: OpenText | None = None
    applied: VolumeOrMass | None = None
    started_at: Moment | None = None
    finished_at: Moment | None = None


class Mix(Part):
    id: Id | None = None
    products: Many[Product] | None = None
    diluent: Diluent | None = None
    form: Annotated[str, Word("form")] | None = None
    mixed_at_place: OpenText | None = None
    equipment: OpenText | None = None
    loads: Many[Load] | None = None
    applied: VolumeOrMass | None = None
    measured_by: Annotated[str, Word("measure")] | None = None
    left_over: LeftOver | None = None
    surfaces: Many[MixOnSurface] | None = None


class Rig(Part):
    id: Id | None = None
    name: OpenText | None = None
    method: Annotated[str, Word("method")] | None = None
    identification: OpenText | None = None
    tank: TankVolume | None = None
    pressure: Pressure | None = None
    tip: OpenText | None = None
    flow: Flow | None = None
    calibrated_on: CalendarDay | None = None
    backflow: Annotated[str, Word("backflow")] | None = None


class Reading(Part):
    id: Id | None = None
    at: Moment | None = None
    by: OpenText | None = None
    calm: YesNo | None = None
    wind_from: Angle | None = None
    wind_variable: YesNo | None = None
    wind_speed: Speed | None = None
    gust: Speed | None = None
    temperature: Temperature | None = None
    relative_humidity: Share | None = None
    sky: Annotated[str, Word("sky")] | None = None
    source: Annotated[str, Word("weather_source")] | None = None


class Forecast(Part):
    issued_at: Moment | None = None
    source: OpenText | None = None
    dry_until: Moment | None = None
    rain_probability: Share | None = None


class Weather(Part):
    readings: Many[Reading] | None = None
    forecast: Forecast | None = None


class Evidence(Part):
    sha256: Sha256 | None = None
    media_type: MediaType | None = None
    bytes: WholeNumber | None = None
    taken_at: Moment | None = None


class ProtectionStep(Part):
    id: Id | None = None
    step: Annotated[str, Word("step")] | None = None
    features: Many[OpenText] | None = None
    at: Moment | None = None
    by: OpenText | None = None
    note: OpenText | None = None
    evidence: Many[Evidence] | None = None


class Notice(Part):
    id: Id | None = None
    to: Annotated[str, Word("recipient")] | None = None
    name: OpenText | None = None
    means: Annotated[str, Word("means")] | None = None
    language: Language | None = None
    sent_at: Moment | None = None
    delivered_at: Moment | None = None
    planned_at: Moment | None = None
    alternate_dates: Many[CalendarDay] | None = None
    notice: Id | None = None
    digest: Digest | None = None


class Posting(Part):
    id: Id | None = None
    where: OpenText | None = None
    width: Length | None = None
    height: Length | None = None
    letters: Length | None = None
    posted_at: Moment | None = None


class Permit(Part):
    authority: Place | None = None
    number: OpenText | None = None


class Incident(Part):
    id: Id | None = None
    kind: Annotated[str, Word("incident_kind")] | None = None
    at: Moment | None = None
    description: OpenText | None = None
    amount: VolumeOrMass | None = None
    action: OpenText | None = None
    reported_to: OpenText | None = None
    reported_at: Moment | None = None
    evidence: Many[Evidence] | None = None


class TreatmentDocument(Part):
    schema_: Annotated[str, Exactly(DOCUMENT_SCHEMA)] = Field(alias="schema")
    record: Record
    firm: Firm | None = None
    customer: Customer | None = None
    site: Site | None = None
    timing: Timing | None = None
    people: Many[Person] | None = None
    targets: Many[Annotated[str, Word("target")]] | None = None
    surfaces: Many[Surface] | None = None
    mixes: Many[Mix] | None = None
    equipment: Many[Rig] | None = None
    weather: Weather | None = None
    protection: Many[ProtectionStep] | None = None
    notices: Many[Notice] | None = None
    postings: Many[Posting] | None = None
    permits: Many[Permit] | None = None
    incidents: Many[Incident] | None = None
    notes: Notes | None = None

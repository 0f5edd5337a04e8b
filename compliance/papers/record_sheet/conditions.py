"""Wind and weather as they were read, and the apparatus used."""

from compliance.papers.parts import grid, listed
from compliance.papers.speech import Speech, joined
from records.document.types import Forecast, Reading, Rig, TreatmentDocument
from shared.paper import Block, Column, Note, Row, Section


def weather(document: TreatmentDocument, speech: Speech) -> Section:
    """Every reading, and the forecast that was gone by."""
    conditions = document.weather
    rows = [_reading_row(one, speech) for one in (conditions and conditions.readings) or ()]
    blocks: list[Block] = [grid(speech, _READING_COLUMNS, rows)] if rows else []
    if not rows:
        readings = conditions.readings if conditions else None
        blocks.append(Note(listed(speech, readings, "", "conditions/no-readings")))
    if conditions and conditions.forecast:
        blocks.append(Note(_forecast(conditions.forecast, speech), speech.word("conditions/forecast")))
    return Section(speech.word("conditions/weather"), tuple(blocks))


_READING_COLUMNS = (
    Column("conditions/at", 3),
    Column("conditions/wind-from", 7),
    Column("conditions/wind-speed", 4, numeric=True),
    Column("conditions/gust", 4, numeric=True),
    Column("conditions/temperature", 5, numeric=True),
    Column("conditions/humidity", 3, numeric=True),
    Column("conditions/sky", 5),
    Column("conditions/read-by", 7),
)


def _reading_row(reading: Reading, speech: Speech) -> Row:
    missing = speech.word("head/not-recorded")
    calm = speech.word("conditions/calm") if reading.calm else ""
    cells = (
        speech.time(reading.at) or missing,
        _wind_from(reading, speech) or missing,
        speech.quantity(reading.wind_speed) or calm or missing,
        speech.quantity(reading.gust),
        speech.quantity(reading.temperature) or missing,
        speech.quantity(reading.relative_humidity),
        speech.listed("sky", reading.sky),
        joined((reading.by, speech.listed("weather_source", reading.source))),
    )
    return Row(cells)


def _wind_from(reading: Reading, speech: Speech) -> str:
    if reading.calm:
        return speech.word("conditions/calm")
    variable = speech.word("conditions/variable") if reading.wind_variable else ""
    return joined((speech.direction(reading.wind_from), variable))


def _forecast(forecast: Forecast, speech: Speech) -> str:
    dry = forecast.dry_until and speech.word("conditions/forecast-dry", time=speech.time(forecast.dry_until))
    rain = speech.quantity(forecast.rain_probability)
    at = forecast.issued_at and speech.word("conditions/forecast-issued", time=speech.time(forecast.issued_at))
    said = (dry, rain and speech.word("conditions/forecast-rain", share=rain))
    return joined((*said, joined((at, forecast.source))), "; ")


def apparatus(document: TreatmentDocument, speech: Speech) -> Section:
    """Each rig or sprayer: method, identification, tank, pressure, tip, flow, calibration."""
    rows = [_equipment_row(one, speech) for one in document.equipment or ()]
    block: Block = (
        grid(speech, _EQUIPMENT_COLUMNS, rows) if rows else Note(listed(speech, document.equipment, ""))
    )
    return Section(speech.word("conditions/equipment"), (block,))


_EQUIPMENT_COLUMNS = (
    Column("work/name", 3),
    Column("conditions/method", 6),
    Column("conditions/plate", 6),
    Column("conditions/tank", 3, numeric=True),
    Column("conditions/pressure", 3, numeric=True),
    Column("conditions/flow", 5, numeric=True),
    Column("conditions/tip", 6),
    Column("conditions/calibrated", 5),
    Column("conditions/backflow", 5),
)


def _equipment_row(rig: Rig, speech: Speech) -> Row:
    cells = (
        rig.name or "",
        speech.listed("method", rig.method),
        rig.identification or "",
        speech.quantity(rig.tank),
        speech.quantity(rig.pressure),
        speech.quantity(rig.flow),
        rig.tip or "",
        speech.short_date(rig.calibrated_on),
        speech.listed("backflow", rig.backflow),
    )
    return Row(cells)

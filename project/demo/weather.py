"""Invented weather of an invented town on a wet mild coast: the same for the same seed and day."""

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from random import Random

# By month, January first (common knowledge of a marine west-coast climate, no source).
MEAN_TEMPERATURE = (41, 43, 46, 50, 56, 61, 66, 66, 61, 53, 45, 40)
SHARE_OF_WET_DAYS = (0.58, 0.50, 0.42, 0.38, 0.30, 0.22, 0.10, 0.12, 0.22, 0.40, 0.58, 0.60)
WINTER = (11, 12, 1, 2, 3)


@dataclass(frozen=True)
class DayOfWeather:
    """Temperatures in degF, wind in mph, directions in degrees from true north, humidity in percent."""

    day: date
    wet: bool
    wind: int
    wind_from: int
    temperature: int
    humidity: int
    sky: str
    rain_probability: int
    dry_hours: int

    def wind_at(self, moment: datetime) -> int:
        """Sea breeze: the wind rises a little from nine in the morning and falls towards evening."""
        return max(0, self.wind + round((4.5 - abs(13.5 - _hour(moment))) / 3))

    def temperature_at(self, moment: datetime) -> int:
        return self.temperature + round((5 - abs(14.5 - _hour(moment))) * 1.4)

    def humidity_at(self, moment: datetime) -> int:
        return min(97, self.humidity - 2 * round(5 - abs(14.5 - _hour(moment))))

    def dry_until(self, moment: datetime) -> datetime:
        """The forecast's end of dry weather, on a full hour."""
        return datetime.combine(moment.date(), time(18), moment.tzinfo) + timedelta(hours=self.dry_hours)


def weather_of(seed: str, day: date) -> DayOfWeather:
    chance = Random(f"{seed} weather {day}")  # noqa: S311 - invented weather, not a secret
    wet = chance.random() < SHARE_OF_WET_DAYS[day.month - 1]
    wind = min(22, int(chance.gammavariate(2.6, 2.1)))
    ahead = SHARE_OF_WET_DAYS[day.month - 1]
    return DayOfWeather(
        day=day,
        wet=wet,
        wind=wind,
        wind_from=chance.randrange(160, 250, 5) if day.month in WINTER else chance.randrange(230, 340, 5),
        temperature=MEAN_TEMPERATURE[day.month - 1] + chance.randint(-6, 7),
        humidity=chance.randint(68, 88) if day.month in WINTER else chance.randint(50, 76),
        sky="rain" if wet else chance.choice(("clear", "partly-cloudy", "partly-cloudy", "overcast")),
        rain_probability=chance.randrange(60, 100, 10) if wet else chance.choice((0, 5, 10, 10, 20)),
        dry_hours=chance.randint(8, 60) if ahead < 0.4 else chance.randint(8, 30),
    )


def _hour(moment: datetime) -> float:
    return moment.hour + moment.minute / 60

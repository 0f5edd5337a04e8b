"""When a phone sealed, and when that came in."""

from datetime import datetime

ON_THE_ROOF = datetime.fromisoformat("2026-09-14T10:05:00-07:00")
BACK_IN_THE_YARD = datetime.fromisoformat("2026-09-14T17:30:00-07:00")

"""Where counts are kept for a while.

Those of wrong passwords hold for all web processes together, so they are in the database. Anyone may see the
proof page: its counts are apart, so that no crowd of strangers pushes the others out.
"""

from typing import Any

CACHES: dict[str, dict[str, Any]] = {
    "default": {
        "BACKEND": "django.core.cache.backends.db.DatabaseCache",
        "LOCATION": "cache",
        "OPTIONS": {"MAX_ENTRIES": 100_000},
    },
    "proof": {
        "BACKEND": "django.core.cache.backends.locmem.LocMemCache",
        "LOCATION": "proof",
        "OPTIONS": {"MAX_ENTRIES": 20_000},
    },
}

"""System check: a pack's version names one content for ever."""

from typing import Any

from django.core.checks import CheckMessage, Error, Tags, register
from django.db import connections

from compliance.models import PackVersion
from compliance.pack_reader import registered_packs


@register(Tags.database)
def versions_name_one_content(databases: Any = None, **kwargs: Any) -> list[CheckMessage]:
    """`compliance.E001`: a registered pack differs from what was kept under the same version."""
    return [error for alias in databases or () for error in _clashes(alias)]


def _clashes(alias: str) -> list[CheckMessage]:
    if PackVersion._meta.db_table not in connections[alias].introspection.table_names():
        return []
    kept = list(PackVersion.objects.using(alias).values_list("pack", "version", "digest"))
    return [
        Error(
            f"The rule pack {pack.id} was changed and is still version {pack.version}: records were checked "
            f"with another content of that version.",
            hint=f"Raise `version` in the pack.yaml of {pack.id}.",
            id="compliance.E001",
        )
        for pack in registered_packs()
        if any(kept_as[:2] == (pack.id, pack.version) and kept_as[2] != pack.digest for kept_as in kept)
    ]

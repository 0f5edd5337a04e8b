"""What a check keeps in English alone, said in the reader's language: citations, and text that was found. Pure.

A citation of a law is the law's own and stays as it is; what the log itself calls a source is translated.
"""

import re
from collections.abc import Mapping
from typing import Any

_SPANISH = {
    "common practice, no source": "práctica común, sin fuente",
    "firm policy": "norma de la empresa",
    "arithmetic of the record": "aritmética del registro",
    "bounds of nature": "límites de la naturaleza",
    "flow of the rig": "caudal del equipo",
    "geometry of a slope": "geometría de una pendiente",
    "order of events": "orden de los hechos",
    "result of the record": "resultado del registro",
    "sending of the record": "envío del registro",
    "Beaufort scale, force 0": "escala de Beaufort, fuerza 0",
    "municipal guidance on roof moss": "guías municipales sobre musgo de tejados",
    "municipal guidance on wash water": "guías municipales sobre agua de lavado",
    "municipal guidance on wash water and roof moss": (
        "guías municipales sobre agua de lavado y musgo de tejados"
    ),
}
_LABEL = re.compile(r"label of (?P<name>.+), (?P<version>[^,]*)", re.DOTALL)
_FIRM = re.compile(r"firm policy, (?P<title>.+)", re.DOTALL)
_NO_VERSION = {"version not stated": "versión no indicada"}


def cite_in(cite: str, language: str) -> str:
    """A citation as a page or a paper says it: `label of NAME, version` is `etiqueta de NAME, version`."""
    if language == "en":
        return cite
    return "; ".join(_spanish(part) for part in cite.split("; "))


def _spanish(cite: str) -> str:
    if label := _LABEL.fullmatch(cite):
        version = label["version"]
        return f"etiqueta de {label['name']}, {_NO_VERSION.get(version, version)}"
    if firm := _FIRM.fullmatch(cite):
        return f"norma de la empresa, {firm['title']}"
    return _SPANISH.get(cite, cite)


def text_in(finding: Mapping[str, Any], name: str, language: str) -> Any:
    """What a stored finding `observed`, or its `bound`; a text in the language in which its sentence has it.

    Anything but a text is returned as it is stored.
    """
    value = finding[name]
    if not isinstance(value, str):
        return value
    blanks = (blank for blank in finding["blanks"].values() if isinstance(blank, Mapping))
    return next((blank[language] for blank in blanks if blank.get("en") == value), value)

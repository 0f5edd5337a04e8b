"""What a check keeps in English alone, said in the reader's language: citations, and text that was found. Pure.

A citation of a law is the law's own and stays as it is; what the log itself calls a source is translated.
"""

import re
from collections.abc import Mapping
from typing import Any

_SPANISH = {
    "common practice, no source": "práctica común, sin fuente",
    "from memory": "de memoria",
    "written by the firm": "escrito por la empresa",
    "firm policy": "norma de la empresa",
    "arithmetic of the record": "aritmética del registro",
    "bounds of nature": "límites de la naturaleza",
    "flow of the rig": "caudal del equipo",
    "geometry of a slope": "geometría de una pendiente",
    "age of a forecast": "antigüedad de un pronóstico",
    "Spraying goes by a forecast of the last 24 hours": (
        "Se aplica según un pronóstico de las últimas 24 horas"
    ),
    "marks of a product": "marcas de un producto",
    "A product with a registration number is registered as a pesticide": (
        "Un producto con número de registro está registrado como pesticida"
    ),
    "order of events": "orden de los hechos",
    "order of things": "orden de las cosas",
    "form of a federal registration number": "forma de un número de registro federal",
    "A roof, gutter, walk, drive, deck, fence or lawn lies outside": (
        "Un tejado, canalón, acera, entrada de vehículos, terraza de madera, cerca o césped está afuera"
    ),
    "clocks of a place": "relojes de un lugar",
    "The time zones of the States and countries that have a rule pack": (
        "Los husos horarios de los estados y países que tienen un paquete de reglas"
    ),
    "result of the record": "resultado del registro",
    "sending of the record": "envío del registro",
    "Department of Ecology, if you spill": "Departamento de Ecología, si hay un derrame",
    "Department of Emergency Services, spill release reporting": (
        "Departamento de Servicios de Emergencia, aviso de derrames"
    ),
    "Beaufort scale": "escala de Beaufort",
    "Beaufort scale, force 0": "escala de Beaufort, fuerza 0",
    "municipal guidance on roof moss": "guías municipales sobre musgo de tejados",
    "municipal guidance on wash water": "guías municipales sobre agua de lavado",
    "municipal guidance on wash water and roof moss": (
        "guías municipales sobre agua de lavado y musgo de tejados"
    ),
    "Sums of amounts that went the same way": "Sumas de cantidades que siguieron el mismo camino",
    "Area of a slope = plan area x sqrt(1 + (rise/run)^2), the right-angled triangle": (
        "Área de una vertiente = área en planta x raíz de (1 + (alto/base)^2), el triángulo rectángulo"
    ),
    "Time = volume / flow": "Tiempo = volumen / caudal",
    "A day that is stood down is one on which nothing was applied": (
        "Un día suspendido es uno en el que no se aplicó nada"
    ),
    "Air near the ground was never measured below -60 degC or above 60 degC where people live (from memory); "
    "humidity is a part of a whole; a circle has 360 degrees": (
        "Donde vive gente, nunca se midió aire junto al suelo por debajo de -60 °C ni por encima de 60 °C (de "
        "memoria); la humedad es parte de un todo; un círculo tiene 360 grados"
    ),
    "What is finished later cannot be recorded sooner": "Lo que acaba después no puede registrarse antes",
    "A record made on a device is sent when there is a signal again, as a rule on the same day": (
        "Un registro hecho en un aparato se envía cuando vuelve a haber señal, por regla el mismo día"
    ),
    "Beaufort wind scale, force 0: calm, less than 1 mph": (
        "Escala de viento de Beaufort, fuerza 0: calma, menos de 1 mi/h"
    ),
}
_LABEL = re.compile(r"label of (?P<name>.+), (?P<version>[^,]*)", re.DOTALL)
_FIRM = re.compile(r"firm policy, (?P<title>.+)", re.DOTALL)
_NO_VERSION = {"version not stated": "versión no indicada"}


def cite_in(cite: str, language: str) -> str:
    """A citation, or what is said of a source, as a page or a paper has it.

    `label of NAME, version` is `etiqueta de NAME, version`; what is not known stays as it is.
    """
    if language == "en":
        return cite
    if cite in _SPANISH:
        return _SPANISH[cite]
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

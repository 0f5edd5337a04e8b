"""Which column of a list is what, guessed by its name in English or Spanish, for a person to confirm."""

import re
from collections.abc import Sequence

from records.imports.faults import FileError, FileFault
from shared.folded import unaccented
from shared.wording import Wording

MEMBERS = {
    "name": Wording("name", "nombre"),
    "line1": Wording("street and number", "calle y número"),
    "house": Wording("house number alone", "solo el número de casa"),
    "line2": Wording("address, second line", "dirección, segunda línea"),
    "city": Wording("city", "ciudad"),
    "region": Wording("state or region", "estado o región"),
    "postcode": Wording("postcode", "código postal"),
    "country": Wording("country", "país"),
    "phone": Wording("phone", "teléfono"),
    "email": Wording("e-mail", "correo electrónico"),
    "language": Wording("language", "idioma"),
    "wishes_phone": Wording("wishes to be called", "desea que le llamen"),
    "standing": Wording("owner or occupant", "propietario u ocupante"),
    "dwelling": Wording("a dwelling", "una vivienda"),
    "abutting": Wording("abuts the site", "colinda con el sitio"),
    "distance": Wording("distance", "distancia"),
    "walk": Wording("place on the walk", "lugar en el recorrido"),
    "latitude": Wording("latitude", "latitud"),
    "longitude": Wording("longitude", "longitud"),
    "number": Wording("parcel number", "número de parcela"),
}
_NAMES = {
    "name": "name|full name|owner name|resident|contact|nombre|nombre completo|titular|residente|contacto",
    "line1": "address|street|street address|address 1|address line 1|line1|site address|situs address|situs"
    "|direccion|domicilio|calle|calle y numero|direccion 1",
    "house": "house number|house no|street number|number of house|no|numero|numero de casa|num",
    "line2": "address 2|address line 2|line2|unit|apt|apartment|suite|direccion 2|unidad|apartamento|piso",
    "city": "city|town|municipality|ciudad|localidad|poblacion|municipio",
    "region": "state|region|province|estado|provincia",
    "postcode": "zip|zip code|zipcode|postcode|postal code|post code|codigo postal|cp",
    "country": "country|pais",
    "phone": "phone|telephone|phone number|tel|mobile|cell|telefono|celular|movil",
    "email": "email|e mail|mail|email address|correo|correo electronico",
    "language": "language|idioma|lengua",
    "wishes_phone": "call|wants call|wishes to be called|phone preferred|llamar|desea que le llamen",
    "standing": "owner or occupant|standing|tenure|role|propietario u ocupante|calidad",
    "dwelling": "dwelling|is a dwelling|residential|vivienda|es vivienda",
    "abutting": "abutting|adjacent|abuts|adjoining|colinda|colindante|adyacente",
    "distance": "distance|distancia",
    "walk": "order|walk|walking order|route|orden|recorrido",
    "latitude": "latitude|lat|latitud",
    "longitude": "longitude|lon|long|lng|longitud",
    "number": "parcel|parcel number|parcel id|parcelid|apn|pin|parno|parcela|numero de parcela"
    "|referencia catastral|clave catastral",
}
_BY_NAME = {spelled: member for member, names in _NAMES.items() for spelled in names.split("|")}


def folded_header(text: str) -> str:
    """Without case, accents and marks: `Código_Postal` is `codigo postal`."""
    spaced = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", text)
    return " ".join(re.findall(r"[a-z0-9]+", unaccented(spaced)))


def guessed(header: Sequence[str], allowed: Sequence[str] = tuple(MEMBERS)) -> list[str]:
    """The member that each column is taken for, `""` where none is; each member but once, the first wins."""
    found: list[str] = []
    for cell in header:
        member = _BY_NAME.get(folded_header(cell), "")
        found.append(member if member in allowed and member not in found else "")
    return found


def refuse_columns(columns: Sequence[str]) -> None:
    """Raise FileError where a choice of columns can't be right."""
    chosen = [each for each in columns if each]
    twice = sorted({each for each in chosen if chosen.count(each) > 1})
    faults = [FileFault("twice", {"what": MEMBERS[each]}) for each in twice]
    if not {"line1", "latitude"} & set(chosen):
        faults.append(FileFault("no_address_column"))
    if faults:
        raise FileError(*faults)

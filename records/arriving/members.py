"""What a spreadsheet may hold, kind by kind: each member with its words, the names of columns it is known by,
and how a cell of it is read."""

from dataclasses import dataclass

from shared.wording import Wording


@dataclass(frozen=True)
class Member:
    """`reads` names the reader of its cells: a `quantity` is of one of `dimensions`, a `word` of `words`."""

    name: str
    wording: Wording
    names: str
    reads: str = "text"
    dimensions: tuple[str, ...] = ()
    words: str = ""
    needed: bool = False
    several: bool = False
    """Whether more than one column may be taken for it."""


CUSTOMER = Member(
    "customer", Wording("customer", "cliente"),
    "customer|customer name|client|client name|name|owner|bill to|job name|cliente|nombre del cliente"
    "|nombre|propietario",
    needed=True,
)  # fmt: skip
ADDRESS = (
    Member("line1", Wording("street and number", "calle y número"),
           "address|street|street address|site address|service address|job address|property address|address 1"
           "|address line 1|location|direccion|domicilio|calle|calle y numero|direccion del servicio"),
    Member("line2", Wording("address, second line", "dirección, segunda línea"),
           "address 2|address line 2|unit|apt|suite|direccion 2|unidad|apartamento"),
    Member("city", Wording("city", "ciudad"), "city|town|ciudad|poblacion|municipio|localidad"),
    Member("region", Wording("state or region", "estado o región"), "state|region|st|estado|provincia"),
    Member("postcode", Wording("postcode", "código postal"), "zip|zip code|zipcode|postcode|postal code"
           "|codigo postal|cp"),
    Member("country", Wording("country", "país"), "country|pais", reads="country"),
)  # fmt: skip
REACHED = (
    Member("phone", Wording("phone", "teléfono"), "phone|telephone|phone number|tel|mobile|cell|telefono"
           "|celular|movil"),
    Member("email", Wording("e-mail", "correo electrónico"), "email|e mail|mail|email address|correo"
           "|correo electronico",
           reads="email"),
    Member("language", Wording("language", "idioma"), "language|idioma", reads="language"),
)  # fmt: skip
SITE = (
    Member("site", Wording("site", "sitio"), "site|site name|property|job|job site|sitio|propiedad|obra"),
    *ADDRESS,
    Member("county", Wording("county", "condado"), "county|condado"),
)
OF_SITES = (
    Member("use", Wording("use of the site", "uso del sitio"), "use|property type|site type|uso"
           "|tipo de propiedad",
           reads="word", words="site_use"),
    Member("latitude", Wording("latitude", "latitud"), "latitude|lat|latitud", reads="degrees"),
    Member("longitude", Wording("longitude", "longitud"), "longitude|lon|long|lng|longitud", reads="degrees"),
    Member("surface", Wording("surface", "superficie"), "surface|area treated|superficie|zona"),
    Member("surface_kind", Wording("kind of surface", "tipo de superficie"),
           "surface type|surface kind|type of surface|tipo de superficie", reads="word", words="surface_kind"),
    Member("area", Wording("plan area of the surface", "área en planta de la superficie"),
           "area|plan area|footprint|size|sq ft|square feet|area en planta|metros cuadrados|pies cuadrados",
           reads="quantity", dimensions=("area",)),
)  # fmt: skip
PRODUCTS = (
    Member("product", Wording("product", "producto"), "product|product name|material|chemical|name"
           "|trade name|brand"
           "|producto|nombre del producto|nombre|nombre comercial", needed=True),
    Member("product_kind", Wording("kind", "tipo"), "kind|type|product type|tipo"
           "|tipo de producto", reads="word",
           words="product_kind"),
    Member("registration", Wording("registration number", "número de registro"),
           "registration number|reg no|reg number|registration|epa reg no|epa number|epa reg|epa"
           "|epa registration number"
           "|numero de registro|registro|no de registro"),
    Member("signal_word", Wording("signal word", "palabra de advertencia"), "signal word|signal"
           "|palabra de advertencia",
           reads="word", words="signal_word"),
    Member("restricted", Wording("restricted use", "uso restringido"), "restricted use|restricted|rup"
           "|uso restringido",
           reads="yes_no"),
    Member("ingredient", Wording("active ingredient", "ingrediente activo"),
           "active ingredient|ai|a i|active|ingredient|ingrediente activo|materia activa"),
    Member("percent", Wording("percent of the active ingredient", "porcentaje del ingrediente activo"),
           "percent|ai percent|concentration|strength|porcentaje|concentracion", reads="percent"),
    Member("density", Wording("density", "densidad"), "density"
           "|densidad", reads="quantity", dimensions=("density",)),
    Member("supplier", Wording("supplier", "proveedor"), "supplier|vendor|distributor|proveedor"),
    Member("label_version", Wording("version of the label", "versión de la etiqueta"),
           "label version|label|label date|version|version de la etiqueta|etiqueta"),
    Member("lot", Wording("lot", "lote"), "lot|lot number|lot no|batch|lote|numero de lote"),
    Member("lot_amount", Wording("amount received", "cantidad recibida"),
           "amount|quantity|received|amount received|qty|cantidad|cantidad recibida", reads="quantity",
           dimensions=("volume", "mass")),
    Member("received_on", Wording("received on", "recibido el"), "received on|date received|purchased"
           "|recibido el",
           reads="day"),
)  # fmt: skip
LICENCES = (
    Member("person", Wording("person", "persona"), "person|name|applicator|employee|technician|licensee"
           "|operator|persona"
           "|nombre|aplicador|empleado|tecnico"),
    Member("role", Wording("role", "función"), "role|position|job|funcion|puesto", reads="word", words="role"),
    Member("authority", Wording("authority", "autoridad"),
           "authority|state|issued by|agency|jurisdiction|autoridad|estado"
           "|emitida por", reads="place", needed=True),
    Member("licence_kind", Wording("kind of licence", "tipo de licencia"),
           "kind|type|licence type|license type|tipo|tipo de licencia"),
    Member("licence", Wording("licence number", "número de licencia"),
           "licence|license|licence number|license number|licence no|license no|certificate|number|no|licencia"
           "|numero de licencia|numero", needed=True),
    Member("holder", Wording("holder", "titular"), "holder|titular"),
    Member("categories", Wording("categories", "categorías"), "categories|category|categorias|categoria"),
    Member("valid_from", Wording("valid from", "válida desde"), "valid from|issued|issue date|from"
           "|emitida|valida desde",
           reads="day"),
    Member("valid_to", Wording("valid to", "válida hasta"),
           "valid to|expires|expiration|expiration date|expiry|exp date|vence|caduca|valida hasta|vencimiento",
           reads="day"),
)  # fmt: skip

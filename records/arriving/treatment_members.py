"""What a row of an old log of treatments may hold."""

from records.arriving.members import CUSTOMER, SITE, Member
from shared.wording import Wording

_STUFF = ("volume", "mass")

TREATMENTS = (
    Member("number", Wording("number of the treatment", "número del tratamiento"),
           "number|no|job number|job no|invoice|invoice no|record|record no|ticket|work order|numero"
           "|factura|orden|folio"),
    Member("day", Wording("day", "día"), "date|day|service date|treatment date|date of application"
           "|application date|job date"
           "|date treated|fecha|dia|fecha de aplicacion|fecha de tratamiento"
           "|fecha de servicio", reads="day", needed=True),
    Member("started", Wording("start", "inicio"), "start|start time|time|time started|started|begin"
           "|time in|hours"
           "|inicio|hora|hora de inicio|hora inicio|horario", reads="time"),
    Member("finished", Wording("finish", "fin"), "finish|finish time|end|end time|stop|stop time|time out"
           "|finished"
           "|fin|hora de fin|hora fin|hora final", reads="time"),
    CUSTOMER,
    *SITE,
    Member("surface", Wording("surface", "superficie"), "surface|area treated|where|surface treated"
           "|site treated"
           "|superficie|zona|zona tratada|superficie tratada"),
    Member("surface_kind", Wording("kind of surface", "tipo de superficie"), "surface type|surface kind"
           "|type of surface"
           "|tipo de superficie", reads="word", words="surface_kind"),
    Member("treated", Wording("treated area", "área tratada"), "area|treated area|size|sq ft|sqft"
           "|square feet|square footage"
           "|area tratada|metros cuadrados|pies cuadrados|m2", reads="quantity", dimensions=("area",)),
    Member("target", Wording("against what", "contra qué"), "target|pest|target pest|against|plaga"
           "|objetivo|contra",
           reads="words", words="target"),
    Member("product", Wording("product", "producto"), "product|product name|material|chemical"
           "|product used|material used"
           "|product 1|producto|producto usado|nombre del producto|producto 1"),
    Member("registration", Wording("registration number", "número de registro"),
           "registration number|reg no|reg number|registration|epa reg no|epa number|epa reg|epa"
           "|epa registration number"
           "|numero de registro|registro|no de registro"),
    Member("ingredient", Wording("active ingredient", "ingrediente activo"),
           "active ingredient|ai|a i|ingrediente activo|materia activa"),
    Member("lot", Wording("lot", "lote"), "lot|lot number|lot no|lote|numero de lote"),
    Member("amount", Wording("amount of product", "cantidad de producto"),
           "amount|product amount|amount used|product used amount|qty|quantity|total product|concentrate"
           "|amount 1"
           "|cantidad|cantidad de producto|producto total|cantidad usada"
           "|concentrado", reads="quantity", dimensions=_STUFF),
    Member("product_2", Wording("second product", "segundo producto"), "product 2|second product|adjuvant"
           "|surfactant"
           "|producto 2|segundo producto|coadyuvante|surfactante"),
    Member("amount_2", Wording("amount of the second product", "cantidad del segundo producto"),
           "amount 2|second amount|adjuvant amount|surfactant amount|cantidad 2|cantidad de coadyuvante",
           reads="quantity", dimensions=_STUFF),
    Member("diluent", Wording("water", "agua"), "water|diluent|water added|carrier|agua"
           "|diluyente", reads="quantity",
           dimensions=("volume",)),
    Member("applied", Wording("mix applied", "mezcla aplicada"), "mix applied|applied|total applied"
           "|total mix|spray volume"
           "|gallons applied|finished spray|solution|mezcla aplicada|aplicado|mezcla|total aplicado|solucion",
           reads="quantity", dimensions=_STUFF),
    Member("wind", Wording("wind", "viento"), "wind|wind speed|wind mph|wind speed and direction|viento"
           "|velocidad del viento", reads="wind", dimensions=("speed",)),
    Member("wind_from", Wording("wind from", "viento de"), "wind direction|wind from|wind dir|direction"
           "|direccion del viento"
           "|viento de", reads="direction"),
    Member("temperature", Wording("temperature", "temperatura"), "temperature|temp|air temp"
           "|air temperature|temperatura",
           reads="quantity", dimensions=("temperature",)),
    Member("humidity", Wording("relative humidity", "humedad relativa"), "humidity|relative humidity|rh"
           "|humedad"
           "|humedad relativa", reads="percent"),
    Member("sky", Wording("sky", "cielo"), "sky|weather|conditions|cielo|tiempo"
           "|clima", reads="word", words="sky"),
    Member("applicator", Wording("applicator", "aplicador"), "applicator|applied by|technician|tech"
           "|operator|crew|employee"
           "|applicator name|aplicador|aplicado por|tecnico|operador|equipo de trabajo", reads="names"),
    Member("licence", Wording("applicator's licence number", "número de licencia del aplicador"),
           "licence|license|licence number|license number|applicator license|lic no|licence no|license no"
           "|licencia"
           "|numero de licencia"),
    Member("rig", Wording("rig", "equipo"), "rig|equipment|truck|sprayer|unit no|equipo|camion|pulverizador"),
    Member("method", Wording("method", "método"), "method|application method|metodo"
           "|metodo de aplicacion", reads="word",
           words="method"),
    Member("result", Wording("result", "resultado"), "result|status|outcome|resultado|estatus", reads="word",
           words="result"),
    Member("notes", Wording("notes", "notas"), "notes|note|comments|comment|remarks|observations|notas"
           "|nota|comentarios"
           "|observaciones", reads="notes", several=True),
)  # fmt: skip

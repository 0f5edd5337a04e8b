"""The words of quantities: names of dimensions, and a sentence for each way a quantity can be wrong."""

from shared.wording import Catalogue, Wording

DIMENSIONS: Catalogue = {
    "length": Wording("a length", "una longitud"),
    "area": Wording("an area", "una superficie"),
    "volume": Wording("a volume", "un volumen"),
    "mass": Wording("a weight", "un peso"),
    "speed": Wording("a speed", "una velocidad"),
    "temperature": Wording("a temperature", "una temperatura"),
    "pressure": Wording("a pressure", "una presión"),
    "flow": Wording("a flow", "un caudal"),
    "time": Wording("a length of time", "una duración"),
    "angle": Wording("an angle", "un ángulo"),
    "share": Wording("a share (percent or ppm)", "una proporción (por ciento o ppm)"),
    "volume_per_area": Wording("a volume per area", "un volumen por superficie"),
    "mass_per_area": Wording("a weight per area", "un peso por superficie"),
    "volume_per_volume": Wording("a volume per volume", "un volumen por volumen"),
    "mass_per_volume": Wording("a weight per volume", "un peso por volumen"),
    "density": Wording("a density", "una densidad"),
}

WORDINGS: Catalogue = {
    "quantity/wrong_dimension": Wording(
        "expected {expected}, got {got}",
        "se esperaba {expected}, se recibió {got}",
    ),
    "quantity/weight_not_volume": Wording(
        "expected {expected}, got {got}; oz is a weight, a fluid ounce is written fl oz",
        "se esperaba {expected}, se recibió {got}; oz es un peso, la onza líquida se escribe fl oz",
    ),
    "quantity/unknown_unit": Wording(
        "unknown unit {unit}; the units for {expected} are {units}",
        "unidad desconocida {unit}; las unidades para {expected} son {units}",
    ),
    "quantity/unknown_unit_anywhere": Wording(
        "unknown unit {unit}",
        "unidad desconocida {unit}",
    ),
    "quantity/no_unit": Wording(
        "{text} has no unit; the units for {expected} are {units}",
        "{text} no tiene unidad; las unidades para {expected} son {units}",
    ),
    "quantity/no_unit_anywhere": Wording(
        "{text} has no unit",
        "{text} no tiene unidad",
    ),
    "quantity/not_a_value": Wording(
        "{value} is not a number as it is written here: digits, at most 12 before the point and 9 after it, "
        "for example 2.5",
        "{value} no es un número como se escribe aquí: cifras, como máximo 12 antes del punto y 9 después, "
        "por ejemplo 2.5",
    ),
    "quantity/ambiguous_comma": Wording(
        "{value} can mean {whole} or {decimal}; write one of these instead",
        "{value} puede significar {whole} o {decimal}; escriba uno de los dos",
    ),
    "quantity/fraction": Wording(
        "{text} has a fraction; write it with a decimal point, for example 1.5 for one and a half",
        "{text} tiene una fracción; escríbala con punto decimal, por ejemplo 1.5 para uno y medio",
    ),
    "quantity/no_number": Wording(
        "{text} does not begin with a number; write a number and a unit, for example {example}",
        "{text} no empieza con un número; escriba un número y una unidad, por ejemplo {example}",
    ),
    "quantity/empty": Wording(
        "nothing is written here; write a number and a unit, for example {example}",
        "no hay nada escrito; escriba un número y una unidad, por ejemplo {example}",
    ),
    "quantity/too_long": Wording(
        "this text is too long for a quantity; write a number and a unit, for example {example}",
        "texto demasiado largo para una cantidad; escriba un número y una unidad, por ejemplo {example}",
    ),
    "quantity/below_zero": Wording(
        "{kind} cannot be below 0, got {got}",
        "{kind} no puede ser menor que 0, se recibió {got}",
    ),
    "quantity/zero_area": Wording(
        "an area must be above 0, got {got}",
        "una superficie debe ser mayor que 0, se recibió {got}",
    ),
    "quantity/too_large": Wording(
        "{value} is too large to be written as a quantity in {unit}",
        "{value} es demasiado grande para escribirse como cantidad en {unit}",
    ),
    "quantity/not_an_object": Wording(
        'expected a quantity such as {{"value": "2.5", "unit": "gal"}}, got {got}',
        'se esperaba una cantidad como {{"value": "2.5", "unit": "gal"}}, se recibió {got}',
    ),
    "quantity/missing_member": Wording(
        "a quantity needs {member}",
        "a la cantidad le falta {member}",
    ),
    "quantity/unknown_member": Wording(
        "unknown member {member}; a quantity has value and unit only",
        "miembro desconocido {member}; una cantidad solo tiene value y unit",
    ),
    "quantity/not_text": Wording(
        "{member} must be text in quotation marks, got {got}",
        "{member} debe ser texto entre comillas, se recibió {got}",
    ),
}

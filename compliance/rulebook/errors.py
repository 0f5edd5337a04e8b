"""What can be wrong with a rule or a pack, in words. Where it stands is a place in the pack's data."""

from shared.wording import Blanks, Catalogue, Wording, say, shortened

Place = tuple[str | int, ...]
_OURS = ("allowed", "known", "keys", "example")
"""Blanks that list what would be right; all others repeat what was given, at no great length."""

WORDINGS: Catalogue = {
    "rule/unknown_fact": Wording(
        "{path}: there is no fact {name}; here there are {known}",
        "{path}: no existe el dato {name}; aquí existen {known}",
    ),
    "rule/through_a_list": Wording(
        "{path} runs through a list; use some or every with item",
        "{path} pasa por una lista; use some o every con item",
    ),
    "rule/not_a_list": Wording("{path} is not a list", "{path} no es una lista"),
    "rule/is_a_list": Wording(
        "{path} is a list or a group; only present, some and every can be asked of it",
        "{path} es una lista o un grupo; solo admite present, some y every",
    ),
    "rule/expected_text": Wording("expected text", "se esperaba texto"),
    "rule/unprintable": Wording(
        "the text has a character that cannot be printed", "el texto contiene un carácter que no se imprime"
    ),
    "rule/expected_mapping": Wording("expected keys and values", "se esperaban claves y valores"),
    "rule/expected_list": Wording(
        "expected a list with at least one item", "se esperaba una lista con al menos un elemento"
    ),
    "rule/missing_key": Wording("the key {key} is missing", "falta la clave {key}"),
    "rule/unknown_key": Wording(
        "unknown key {key}; allowed are {allowed}", "clave desconocida {key}; se permiten {allowed}"
    ),
    "rule/one_of_keys": Wording(
        "exactly one of {keys} must be there", "debe estar exactamente una de {keys}"
    ),
    "rule/some_of_keys": Wording("at least one of {keys} must be there", "debe estar al menos una de {keys}"),
    "rule/unknown_word": Wording(
        "{got} is not allowed here; allowed are {allowed}", "{got} no se permite aquí; se permiten {allowed}"
    ),
    "rule/quantity": Wording("{problem}", "{problem}"),
    "rule/not_a_day": Wording(
        "{got} is not a day; write it as 2026-09-14", "{got} no es un día; escríbalo como 2026-09-14"
    ),
    "rule/not_a_time": Wording(
        "{got} is not a time with an offset, such as 2026-09-14T09:00:00-07:00",
        "{got} no es una hora con desfase, como 2026-09-14T09:00:00-07:00",
    ),
    "rule/not_a_month_day": Wording(
        "{got} is not a day of the year; write it as 03-01",
        "{got} no es un día del año; escríbalo como 03-01",
    ),
    "rule/not_a_clock_time": Wording(
        "{got} is not a time of day; write it as 07:00", "{got} no es una hora del día; escríbala como 07:00"
    ),
    "rule/not_a_count": Wording("{got} is not a whole number", "{got} no es un número entero"),
    "rule/not_a_number": Wording("{got} is not a number", "{got} no es un número"),
    "rule/not_ordered": Wording(
        "{path} cannot be compared by size; use is or is one of",
        "{path} no se puede comparar por tamaño; use is o is one of",
    ),
    "rule/min_above_max": Wording(
        "the minimum {min} is above the maximum {max}", "el mínimo {min} supera el máximo {max}"
    ),
    "rule/backwards": Wording("{until} does not come after {from}", "{until} no viene después de {from}"),
    "rule/never_kept": Wording(
        "{quantity}: {got} is beyond anything that is measured ({bound}); a digit or the unit is wrong",
        "{quantity}: {got} está más allá de todo lo que se mide ({bound}); hay un dígito o una unidad errónea",
    ),
    "rule/foreign_id": Wording(
        "the id {id} must begin with {prefix}", "el identificador {id} debe empezar por {prefix}"
    ),
    "rule/bad_id": Wording(
        "the id {id} may hold small letters, digits, hyphens and slashes only",
        "el identificador {id} solo admite minúsculas, cifras, guiones y barras",
    ),
    "rule/repeated_id": Wording("the id {id} stands twice", "el identificador {id} está dos veces"),
    "rule/unknown_kind": Wording(
        "there is no kind of rule {kind}; there are {known}",
        "no existe la clase de regla {kind}; existen {known}",
    ),
    "rule/retired_kind": Wording(
        "the kind {kind} is retired: it is evaluated for old records but not allowed in a new pack",
        "la clase {kind} está retirada: se evalúa para registros antiguos, un paquete nuevo no la admite",
    ),
    "rule/unknown_source": Wording(
        "there is no source {source} in this pack; there are {known}",
        "no existe la fuente {source} en este paquete; existen {known}",
    ),
    "rule/doubt_missing": Wording(
        "a rule whose text is from memory must state its doubt",
        "una regla cuyo texto es de memoria debe declarar su duda",
    ),
    "rule/otherwise_missing": Wording(
        "a rule with a condition must say why it does not apply otherwise (key otherwise)",
        "una regla con condición debe decir por qué no se aplica en otro caso (clave otherwise)",
    ),
    "rule/unknown_question": Wording(
        "there is no question {question} in this pack; there are {known}",
        "no existe la pregunta {question} en este paquete; existen {known}",
    ),
    "rule/no_values": Wording(
        "there must be at least one dated value besides the expected ones",
        "debe haber al menos un valor con fecha además de los esperados",
    ),
    "rule/too_deep": Wording("the condition is nested too deep", "la condición está anidada en exceso"),
    "rule/too_large": Wording("the condition has too many parts", "la condición tiene demasiadas partes"),
    "rule/wrong_subject": Wording(
        "{what} cannot be judged on {judges}; it can be on {allowed}",
        "{what} no se puede juzgar sobre {judges}; se puede sobre {allowed}",
    ),
    "rule/alone": Wording("{word} must stand alone here", "{word} debe ir solo aquí"),
    "rule/not_a_moment": Wording("{path} is neither a time nor a day", "{path} no es ni una hora ni un día"),
    "rule/bad_duration": Wording(
        "{got} is not a length of time here; write {example}", "{got} no es un plazo aquí; escriba {example}"
    ),
    "rule/loosens_max": Wording(
        "{by} allows {bound}; a firm's rule can only be stricter",
        "{by} permite {bound}; la regla de una empresa solo puede ser más estricta",
    ),
    "rule/loosens_min": Wording(
        "{by} asks for at least {bound}; a firm's rule can only be stricter",
        "{by} exige al menos {bound}; la regla de una empresa solo puede ser más estricta",
    ),
}


class RuleError(ValueError):
    """A rule that cannot be used; `place` leads to the fault within the data that was read."""

    def __init__(self, wording_id: str, blanks: Blanks, place: Place = ()) -> None:
        super().__init__(wording_id)
        self.wording_id = wording_id
        self.blanks = {
            name: blank if name in _OURS or not isinstance(blank, str) else shortened(blank)
            for name, blank in blanks.items()
        }
        self.place = place

    def within(self, *steps: str | int) -> "RuleError":
        """The same fault, seen from further out."""
        return RuleError(self.wording_id, self.blanks, (*steps, *self.place))

    def say(self, language: str) -> str:
        """The sentence for a person, without the place."""
        return say(WORDINGS, self.wording_id, self.blanks, language)

    def __str__(self) -> str:
        return self.say("en")

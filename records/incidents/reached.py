"""How far it got: what an authority asks first. Pure."""

from collections.abc import Mapping

from shared.wording import Wording

REACHED: Mapping[str, Wording] = {
    "hard-ground": Wording("hard ground", "suelo duro"),
    "soil": Wording("soil or lawn", "tierra o césped"),
    "plants": Wording("plants or a garden", "plantas o un jardín"),
    "drain": Wording("a drain or sewer", "un desagüe o el alcantarillado"),
    "water": Wording("a pond, stream, ditch or well", "un estanque, arroyo, zanja o pozo"),
    "next-door": Wording("ground of somebody else", "terreno ajeno"),
    "people": Wording("people", "personas"),
    "animals": Wording("animals", "animales"),
    "nothing": Wording("nothing beyond the work", "nada fuera del trabajo"),
}


def reached_said(words: list[str], language: str) -> str:
    """In one line, in the order of the list."""
    return ", ".join(said.say(language) for word, said in REACHED.items() if word in words)

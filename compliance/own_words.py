"""The firm's own words on a notice: short, and without a claim that a pesticide is safe.

40 CFR 156.10(a)(5)(ix) counts claims as to the safety of a pesticide ("safe", "nonpoisonous", "noninjurious",
"harmless", "nontoxic to humans and pets") as misbranding, with or without "when used as directed", and (v) what
implies that a federal agency recommends or endorses it; (a)(5)(ix) as revised 1 July 1999, in a stored copy.
FIFRA 12(a)(1)(B) forbids claims that differ from those of the registration: from memory. This list is
wider.
"""

import re

from shared.wording import Wording

LONGEST = 400

TOO_LONG = Wording(
    f"No more than {LONGEST} characters, so that the notice stays short.",
    f"No más de {LONGEST} caracteres, para que el aviso siga siendo corto.",
)
PROMISES_SAFETY = Wording(
    "Leave out what promises that the product is safe or harmless: federal law forbids it.",
    "Quite lo que promete que el producto es seguro o inofensivo: la ley federal lo prohíbe.",
)
NAMES_AN_APPROVAL = Wording(
    "Leave out that an agency approves or endorses the product: a registration says no such thing.",
    "Quite que una autoridad aprueba o recomienda el producto: un registro no dice eso.",
)

_SAFETY = (
    r"safe(ly|r|st|ty)?|harmless(ly)?|risk.?free|chemical.?free|poison.?free|(eco|earth|pet|kid|child).?friendly",
    r"(non|not|no|isn't|never|without).{0,12}(toxic|poison\w*|injur\w*|hazard\w*|harm\w*|danger\w*)|(least|less).toxic",
    r"(cannot|can't|will not|won't|does not|doesn't) (harm|hurt|injure)\w*|all.natural|organic",
    r"segur[oa]s?|seguridad|sin (riesgos?|peligro|químicos)|inofensiv[oa]s?|inocu[oa]s?",
    r"(no|ni|nada|nunca|sin)( \w+)? (tóxic|toxic|venen|dañ|peligr)\w*",
    r"natural(es)?|ecológic[oa]s?|orgánic[oa]s?",
)
_APPROVAL = (
    r"(epa|government|agency|state|federal\w*).{0,20}(approv|endors|recommend|certif)\w*",
    r"(approv|endors|recommend)\w*.{0,20}(epa|government|agency|state|federal)",
    r"(aprob|recomend|avalad)\w*.{0,20}(epa|gobierno|agencia|estado|federal)",
)


def faults_of(text: str) -> tuple[Wording, ...]:
    """What keeps these words off a notice; nothing if they may stand on it."""
    found = {
        TOO_LONG: len(text) > LONGEST,
        PROMISES_SAFETY: _says(text, _SAFETY),
        NAMES_AN_APPROVAL: _says(text, _APPROVAL),
    }
    return tuple(wording for wording, wrong in found.items() if wrong)


def _says(text: str, patterns: tuple[str, ...]) -> bool:
    plain = " ".join(text.replace("’", "'").split())
    return any(re.search(rf"(?<!\w)({pattern})(?!\w)", plain, re.IGNORECASE) for pattern in patterns)

"""A label binds who applies the product: nothing of it is asked of a day on which nothing was applied."""

from compliance.facts_reader import VOCABULARY
from compliance.rulebook.reading import Params, Setting
from compliance.rulebook.rule import read_clause

AS_STATED = {
    "when": {"fact": "treatment.applied", "is": "yes"},
    "otherwise": {"en": "Nothing was applied.", "es": "No se aplicó nada."},
}
"""The condition as packs state it."""
APPLIED = read_clause(Params(AS_STATED, Setting(VOCABULARY, "document", {})))

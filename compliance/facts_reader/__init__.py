"""Treatment document and context to facts: the seam between records and the rulebook. Pure.

`read_facts` parses once what rules read; `VOCABULARY` says which facts there are.
"""

from compliance.facts_reader.reading import read_facts
from compliance.facts_reader.vocabulary import VOCABULARY

__all__ = ["VOCABULARY", "read_facts"]

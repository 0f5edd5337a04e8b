"""What a check keeps in English is said in Spanish on pages and papers."""

import pytest

from compliance.pack_reader import registered_packs
from compliance.said_in import cite_in, text_in


@pytest.mark.parametrize(
    ("cite", "spanish"),
    [
        ("label of Moss, Wash and Go, 2025-03", "etiqueta de Moss, Wash and Go, 2025-03"),
        ("label of Sample, version not stated", "etiqueta de Sample, versión no indicada"),
        ("firm policy, Calm only", "norma de la empresa, Calm only"),
        ("common practice, no source", "práctica común, sin fuente"),
        ("RCW 17.21.100(1)(i)", "RCW 17.21.100(1)(i)"),
        (
            "firm policy, Calm only; label of Sample, 2025-03",
            "norma de la empresa, Calm only; etiqueta de Sample, 2025-03",
        ),
    ],
)
def test_what_the_log_calls_a_source_is_translated_and_a_law_keeps_its_citation(cite, spanish):
    assert cite_in(cite, "es") == spanish
    assert cite_in(cite, "en") == cite


def test_a_text_that_was_found_is_said_as_its_sentence_says_it():
    blanks = {"licence": {"en": "none", "es": "ninguna"}, "day": "2026-09-14"}
    finding = {"observed": "none", "bound": {"min": None, "max": "2"}, "blanks": blanks}
    assert text_in(finding, "observed", "es") == "ninguna"
    assert text_in(finding, "bound", "es") == {"min": None, "max": "2"}
    assert text_in(finding | {"observed": "2026-09-14"}, "observed", "es") == "2026-09-14"


def test_what_the_log_itself_gives_as_a_source_is_said_in_spanish():
    own = [pack for pack in registered_packs() if pack.layer == "record"]
    sources = [source for pack in own for source in pack.sources.values()]
    cites = [duty.cite for pack in own for rule in pack.rules for duty in rule.all_duties]
    said = [*cites, *(text for source in sources for text in (source.cite, source.title, source.read))]
    assert {text for text in said if cite_in(text, "es") == text} == set()

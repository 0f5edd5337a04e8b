"""Print the table of ratios."""

import json
from pathlib import Path

from benchmarks import bringing_in, canonical_bytes, checking, log, near, printing, proofs
from records.document.context import read_context

EXAMPLES = Path(__file__).resolve().parent.parent / "fixtures" / "documents"


def main() -> None:
    document = json.loads((EXAMPLES / "example.json").read_text())
    context = read_context(json.loads((EXAMPLES / "example-context.json").read_text()))
    print("| what | time | a second, one core | against | its time | ratio |")
    print("| --- | ---: | ---: | --- | ---: | ---: |")
    for ratio in (
        *checking.ratios(document, context),
        *printing.ratios(document),
        *canonical_bytes.ratios(document),
        *proofs.ratios(document),
        *near.ratios(),
        *log.ratios(),
        *bringing_in.ratios(),
    ):
        print(ratio.row())


if __name__ == "__main__":
    main()

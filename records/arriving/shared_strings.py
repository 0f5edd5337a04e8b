"""The texts that the cells of a workbook point to."""

from collections.abc import Iterable

from records.arriving.exact import LONGEST_CELL
from records.arriving.xml_stream import local, parse, safe_parser
from records.imports.faults import refused


def shared_strings(chunks: Iterable[bytes], most: int) -> list[str]:
    """Without the readings beside them. Raises FileError for more than `most` characters."""
    found: list[str] = []
    text: list[str] = []
    inside = {"t": False, "rPh": False}
    length = 0

    def start(name: str, _attributes: dict[str, str]) -> None:
        if (bare := local(name)) in inside:
            inside[bare] = True

    def end(name: str) -> None:
        nonlocal length
        bare = local(name)
        if bare in inside:
            inside[bare] = False
        elif bare == "si":
            found.append(" ".join("".join(text).split())[:LONGEST_CELL])
            length += len(found[-1]) + 50
            text.clear()
            if length > most:
                raise refused("zip_bomb")

    def characters(piece: str) -> None:
        if inside["t"] and not inside["rPh"]:
            text.append(piece)

    parser = safe_parser(start, end, characters)
    for chunk in chunks:
        parse(parser, chunk)
    parse(parser, b"", last=True)
    return found

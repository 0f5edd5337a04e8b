"""XML as it streams by, without a document type: no entity of a file's own is ever read."""

from xml.parsers import expat

from records.imports.faults import FileError, refused


def local(name: str) -> str:
    return name.rpartition(":")[2]


def safe_parser(start: object, end: object, characters: object) -> expat.XMLParserType:
    """One that refuses a document type, and with it every entity of a file's own."""
    parser = expat.ParserCreate()
    parser.buffer_text = True
    parser.StartElementHandler, parser.EndElementHandler = start, end  # type: ignore[assignment]
    parser.CharacterDataHandler = characters  # type: ignore[assignment]
    parser.StartDoctypeDeclHandler = _no_document_type
    return parser


def _no_document_type(*_given: object) -> None:
    raise refused("not_workbook")


def parse(parser: expat.XMLParserType, chunk: bytes, last: bool = False) -> None:
    try:
        parser.Parse(chunk, last)
    except FileError:
        raise
    except (expat.ExpatError, ValueError, OverflowError) as error:
        raise refused("not_workbook") from error

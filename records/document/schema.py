"""The published JSON Schema of the treatment document, generated from its types."""

from typing import Any

from pydantic.json_schema import GenerateJsonSchema

from records.document.types import Part, TreatmentDocument


class _WithoutTitles(GenerateJsonSchema):
    """Pydantic makes up a title for each member from its name; the name says as much."""

    def field_title_should_be_set(self, schema: Any) -> bool:
        return False


def json_schema(part: type[Part] = TreatmentDocument) -> dict[str, Any]:
    """The JSON Schema (2020-12) of the document, or of a context or follow-up.

    It says shape: members, kinds, words, units, bounds. What it cannot say, the reader checks: that names
    differ, that what is referred to is there, that no finish is before its start, that a time zone exists.
    """
    schema = part.model_json_schema(by_alias=True, schema_generator=_WithoutTitles)
    return {"$schema": GenerateJsonSchema.schema_dialect, **schema}

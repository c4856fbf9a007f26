"""What a file says of one order, as words to look at: for an order that could not be used, and so has no other form.

Comes in: a FHIR R4 MedicationRequest as parsed, however broken, or a CSV row's fields. Goes out: one text, nothing of it interpreted.
"""

from collections.abc import Iterable, Mapping
from typing import Any

from dosewright.core.interop.characters import shown
from dosewright.core.interop.json_text import format_json

__all__ = ["words_of_fields", "words_of_request"]

_LONGEST = 4000  # characters; the whole file is kept beside it
_TOLD = ("status", "medicationCodeableConcept", "medicationReference", "dosageInstruction", "note")


def words_of_request(resource: Mapping[str, Any]) -> str:
    """Medicine and directions, as they stand in the resource."""
    return words_of_fields(format_json(resource[name]) for name in _TOLD if name in resource)


def words_of_fields(fields: Iterable[str]) -> str:
    """The fields that hold something, one after the other. What may not be shown is replaced by U+FFFD."""
    return shown(" · ".join(" ".join(field.split()) for field in fields if field), _LONGEST)

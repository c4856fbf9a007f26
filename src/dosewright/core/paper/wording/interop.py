"""Sentences for what core.interop finds."""

from dosewright.core.paper.wording import fhir

__all__ = ["SENTENCES"]

SENTENCES: dict[str, str] = {**fhir.SENTENCES}

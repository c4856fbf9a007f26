"""Sentences for what core.interop finds."""

from dosewright.core.paper.wording import fhir, order_files, resource

__all__ = ["SENTENCES"]

SENTENCES: dict[str, str] = {**fhir.SENTENCES, **order_files.SENTENCES, **resource.SENTENCES}

"""FHIR CodeableConcepts as one code and all their words.

Source: HL7 FHIR R4 (4.0.1) CodeableConcept, Coding.
"""

from dosewright.core.interop.fhir_element import Element
from dosewright.core.regimen.dosage import Coding

__all__ = ["parse_concept"]


def parse_concept(element: Element, preferred: frozenset[str] = frozenset()) -> Coding | None:
    """The first coding of a preferred system, else the first; `text` holds every different word that the concept prints, none dropped."""
    text = element.text("text")
    codings = [_parse_coding(child) for child in element.children("coding")]
    element.finish()
    known = [one for one in codings if one.system in preferred and one.code]
    if len({one.code for one in known}) > 1:
        element.stop("fhir.codes-differ", codes=tuple(one.code for one in known))
    chosen = next(iter(known or codings), Coding())
    words = dict.fromkeys(word for word in (text, *(one.text for one in codings)) if word)
    found = Coding(chosen.system, chosen.code, "; ".join(words))
    return found if found != Coding() else None


def _parse_coding(element: Element) -> Coding:
    found = Coding(element.text("system"), element.text("code"), element.text("display"))
    element.text("version")
    element.boolean("userSelected")
    element.finish()
    return found

"""FHIR R4 Dosage in JSON ⇄ `Dosage`. Nothing is skipped on the way in that could change what is given.

Comes in: a parsed JSON value (`json_text`). Goes out: the dosages and the findings; a `stop` means that nothing of it may be scheduled.
Back: values for `format_json`, keys in the standard's order, exact numbers.
`asNeeded` of the next release and every other element that R4 does not have stop the reading. Source: HL7 FHIR R4 (4.0.1) Dosage.
"""

from dosewright.core.interop.fhir_concept import parse_concept
from dosewright.core.interop.fhir_element import Element
from dosewright.core.interop.fhir_quantity import parse_maximum, parse_quantity, parse_range
from dosewright.core.interop.json_text import JsonValue
from dosewright.core.interop.timing_format import UCUM, Fields, filled, format_concept, format_number, format_span, format_timing
from dosewright.core.interop.timing_json import parse_timing
from dosewright.core.regimen.dosage import Amount, Coding, Dosage, Maximum, Range
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.quantity import Quantity

__all__ = ["format_dosage", "parse_dosage", "parse_dosages"]

_RATES = ("rateRatio", "rateRange", "rateQuantity")
# Units that have a code of their own in UCUM; dose forms have none.
_UCUM_CODES = {"mL": "mL", "L": "L", "mg": "mg", "g": "g", "microgram": "ug", "ng": "ng", "mmol": "mmol"}
_DOSE_KINDS = "http://terminology.hl7.org/CodeSystem/dose-rate-type"


def parse_dosages(value: JsonValue, path: str = "dosage") -> tuple[tuple[Dosage, ...], tuple[Finding, ...]]:
    """One dosage, or the list of dosages of one order, and every finding in the order of the text."""
    if isinstance(value, list) and not value:
        return (), (Finding("fhir.not-an-object", Severity.STOP, {"path": path}),)
    members = value if isinstance(value, list) else [value]
    parsed = [parse_dosage(member, f"{path}[{place}]") for place, member in enumerate(members)]
    return tuple(dosage for dosage, _ in parsed), tuple(finding for _, findings in parsed for finding in findings)


def parse_dosage(value: JsonValue, path: str) -> tuple[Dosage, tuple[Finding, ...]]:
    """One dosage as far as it could be read, and its findings; with a `stop` among them it must not be used."""
    findings: list[Finding] = []
    element = Element(value, path, findings)
    timing, site, route, method = (element.child(name, strict=name == "timing") for name in ("timing", "site", "route", "method"))
    maximum, administration, lifetime = (element.child(f"maxDosePer{name}") for name in ("Period", "Administration", "Lifetime"))
    as_needed, reason = _parse_as_needed(element)
    dosage = Dosage(
        text=element.text("text"),
        sequence=element.integer("sequence", -(2**31)),
        additional=tuple(concept for one in element.children("additionalInstruction") if (concept := parse_concept(one))),
        patient_instruction=element.text("patientInstruction"),
        timing=parse_timing(timing) if timing else None,
        as_needed=as_needed,
        as_needed_for=reason,
        site=parse_concept(site) if site else None,
        route=parse_concept(route) if route else None,
        method=parse_concept(method) if method else None,
        amounts=tuple(_parse_amount(one) for one in element.children("doseAndRate")),
        max_per_period=parse_maximum(maximum) if maximum else None,
        max_per_administration=parse_quantity(administration) if administration else None,
        max_per_lifetime=parse_quantity(lifetime) if lifetime else None,
    )
    element.finish()
    return dosage, tuple(findings)


def _parse_as_needed(element: Element) -> tuple[bool, Coding | None]:
    said, reason = element.boolean("asNeededBoolean"), element.child("asNeededCodeableConcept")
    if element.has("asNeededBoolean") and reason:
        element.stop("fhir.both-choices", element="asNeeded[x]")
    return bool(said) or reason is not None, parse_concept(reason) if reason else None


def _parse_amount(element: Element) -> Amount:
    quantity, spread, kind = element.child("doseQuantity"), element.child("doseRange"), element.child("type")
    if quantity and spread:
        element.stop("fhir.both-choices", element="dose[x]")
    rates = [name for name in _RATES if element.has(name)]
    for name in rates:
        element.raw(name)
    if kind:
        _check_kind(kind)
    found = Amount(parse_quantity(quantity) if quantity else None, parse_range(spread) if spread else None, rated=bool(rates))
    element.finish()
    return found


def _check_kind(element: Element) -> None:
    """A dose is as ordered or as calculated; any other kind is a question."""
    concept = parse_concept(element)
    if concept is None or concept.system != _DOSE_KINDS or concept.code not in {"ordered", "calculated"}:
        element.ask("fhir.unknown-code", element="type", value=concept.code if concept else "")


def format_dosage(dosage: Dosage) -> Fields:
    """The dosage as FHIR R4, canonical. Raises ValueError for what R4 cannot hold: a third of a tablet, a rate."""
    if any(amount.rated for amount in dosage.amounts):
        raise ValueError("a rate is not kept, so it cannot be written")
    return filled(
        {
            "sequence": dosage.sequence,
            "text": dosage.text,
            "additionalInstruction": [format_concept(one) for one in dosage.additional],
            "patientInstruction": dosage.patient_instruction,
            "timing": format_timing(dosage.timing) if dosage.timing else None,
            "asNeededBoolean": True if dosage.as_needed and not dosage.as_needed_for else None,
            "asNeededCodeableConcept": format_concept(dosage.as_needed_for) if dosage.as_needed_for else None,
            "site": format_concept(dosage.site) if dosage.site else None,
            "route": format_concept(dosage.route) if dosage.route else None,
            "method": format_concept(dosage.method) if dosage.method else None,
            "doseAndRate": [_format_amount(amount) for amount in dosage.amounts if amount != Amount()],
            "maxDosePerPeriod": _format_maximum(dosage.max_per_period) if dosage.max_per_period else None,
            "maxDosePerAdministration": _format_quantity(dosage.max_per_administration) if dosage.max_per_administration else None,
            "maxDosePerLifetime": _format_quantity(dosage.max_per_lifetime) if dosage.max_per_lifetime else None,
        }
    )


def _format_amount(amount: Amount) -> Fields:
    dose = _format_quantity(amount.quantity) if amount.quantity else None
    return filled({"doseRange": _format_range(amount.range) if amount.range else None, "doseQuantity": dose})


def _format_range(spread: Range) -> Fields:
    low, high = spread.low, spread.high
    return filled({"low": _format_quantity(low) if low else None, "high": _format_quantity(high) if high else None})


def _format_quantity(quantity: Quantity) -> Fields:
    code = _UCUM_CODES.get(quantity.unit, "")
    coded = filled({"system": UCUM if code else "", "code": code})
    return {"value": format_number(quantity.count), **filled({"unit": str(quantity.unit)}), **coded}


def _format_maximum(maximum: Maximum) -> Fields:
    return {"numerator": _format_quantity(maximum.quantity), "denominator": format_span(maximum.span)}

"""`Timing.code` as the repeat that it states. A code is a complete statement of the repeat without its bounds; both together must agree.

Source: HL7 FHIR R4 (4.0.1) value set timing-abbreviation, code system v3-GTSAbbreviation.
"""

from dataclasses import fields, replace
from fractions import Fraction

from dosewright.core.regimen.dosage import Coding, Repeat, TimeUnit, Timing
from dosewright.core.regimen.expansion import decide
from dosewright.core.units.finding import Finding

__all__ = ["SYSTEMS", "TIMING_CODES", "resolve_code"]

SYSTEMS = frozenset(
    {
        "http://terminology.hl7.org/CodeSystem/v3-GTSAbbreviation",
        "http://hl7.org/fhir/v3/GTSAbbreviation",
        "http://hl7.org/fhir/timing-abbreviation",
        "http://hl7.org/fhir/ValueSet/timing-abbreviation",
    }
)


def _often(frequency: int, period: int, unit: TimeUnit, when: str = "") -> Repeat:
    return Repeat(frequency=frequency, period=Fraction(period), period_unit=unit, when=(when,) if when else ())


TIMING_CODES = {
    "BID": _often(2, 1, TimeUnit.DAY),
    "TID": _often(3, 1, TimeUnit.DAY),
    "QID": _often(4, 1, TimeUnit.DAY),
    "AM": _often(1, 1, TimeUnit.DAY, "MORN"),
    "QD": _often(1, 1, TimeUnit.DAY),
    "QOD": _often(1, 2, TimeUnit.DAY),
    "Q1H": _often(1, 1, TimeUnit.HOUR),
    "Q2H": _often(1, 2, TimeUnit.HOUR),
    "Q3H": _often(1, 3, TimeUnit.HOUR),
    "Q4H": _often(1, 4, TimeUnit.HOUR),
    "Q6H": _often(1, 6, TimeUnit.HOUR),
    "Q8H": _often(1, 8, TimeUnit.HOUR),
    "BED": _often(1, 1, TimeUnit.DAY, "HS"),
    "WK": _often(1, 1, TimeUnit.WEEK),
    "MO": _often(1, 1, TimeUnit.MONTH),
}

_OUTSIDE_THE_CODE = frozenset({"bounds_period", "bounds_duration", "bounds_range", "count", "count_max"})


def resolve_code(timing: Timing) -> Repeat | Finding | None:
    """The repeat that `code` and `repeat` state together; None where neither says anything; a finding where they do not agree, or
    where the code is not known. "PM" is the afternoon in one place of the standard and the evening in another: a person decides."""
    if timing.code is None or not timing.code.code:
        return timing.repeat if timing.repeat or not timing.code else _only_words(timing.code)
    stated = TIMING_CODES.get(timing.code.code) if timing.code.system in SYSTEMS else None
    if stated is None:
        return decide("timing.code-unknown", system=timing.code.system, code=timing.code.code)
    return _together(stated, timing.repeat or Repeat(), timing.code.code)


def _only_words(code: Coding) -> Finding:
    return decide("timing.only-words", words=code.text)


def _together(stated: Repeat, repeat: Repeat, code: str) -> Repeat | Finding:
    empty = Repeat()
    for one in fields(Repeat):
        if one.name in _OUTSIDE_THE_CODE:
            continue
        given, meant, nothing = getattr(repeat, one.name), getattr(stated, one.name), getattr(empty, one.name)
        if nothing not in (given, meant) and given != meant:
            return decide("timing.code-differs", code=code)
    own = {one.name: getattr(repeat, one.name) for one in fields(Repeat) if getattr(repeat, one.name) != getattr(empty, one.name)}
    return replace(stated, **own)

"""Findings as people read them: a medicine is named by its name, not by its code."""

from collections.abc import Iterable, Mapping
from dataclasses import replace

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.paper.medicine_words import named
from dosewright.core.units.finding import Fact, Finding
from dosewright.core.units.ids import MedicineCode
from dosewright.store.catalogue import load_catalogue

__all__ = ["with_names"]

_MEDICINES = ("medicine", "scanned", "other", "first", "second")  # facts that hold a medicine's code


def with_names(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The same findings; every fact that is the code of a medicine on file is its name instead."""
    found = tuple(findings)
    codes = {MedicineCode(value) for finding in found for value in _codes(finding)}
    medicines = load_catalogue(codes) if codes else {}
    return tuple(replace(finding, where=_named(finding.where, medicines), facts=_named(finding.facts, medicines)) for finding in found)


def _codes(finding: Finding) -> Iterable[str]:
    return (
        value for facts in (finding.where, finding.facts) for key, value in facts.items() if key in _MEDICINES and isinstance(value, str)
    )


def _named(facts: Mapping[str, Fact], medicines: Mapping[MedicineCode, Medicine]) -> dict[str, Fact]:
    return {key: _name(value, medicines) if key in _MEDICINES else value for key, value in facts.items()}


def _name(value: Fact, medicines: Mapping[MedicineCode, Medicine]) -> Fact:
    found = medicines.get(MedicineCode(value)) if isinstance(value, str) else None
    return named(found, "") if found else value

"""Medicines with which a mistake does grave harm: what the shipped list, the pharmacy's own flag and its rules say of one."""

from collections.abc import Iterable
from dataclasses import dataclass

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.names import mentions
from dosewright.core.medicines.neighbours import hazardous, look_alikes
from dosewright.core.medicines.suitability import Rules, meant_weekly, rules_about
from dosewright.core.units.ids import MedicineCode

__all__ = ["RISKY_FLAGS", "HighRisk", "alike_in", "is_high_risk"]

# Flags of the medicines file that make a product one of them.
RISKY_FLAGS = frozenset({"high-risk", "controlled", "hazardous", "time-critical"})


@dataclass(frozen=True, slots=True)
class HighRisk:
    """One line of the list: whole words of generic names, why, and where that is from. `evidence` as in the rules of suitability."""

    id: str
    names: tuple[str, ...]
    reason: str
    source: str
    dated: str
    evidence: str


def is_high_risk(medicine: Medicine, rules: Rules, listed: Iterable[HighRisk]) -> bool:
    """Flagged, hazardous or meant once a week by the pharmacy's rules, or on the list."""
    ruled = hazardous(medicine, rules) or meant_weekly(rules_about(medicine, rules)) is not None
    return ruled or bool(medicine.flags & RISKY_FLAGS) or any(mentions(medicine.name, name) for line in listed for name in line.names)


def alike_in(medicines: Iterable[Medicine]) -> frozenset[MedicineCode]:
    """Those of them that could be taken for another: they look alike, or bear the same name in another strength or form."""
    found = tuple(medicines)
    seen = {one.code for pair in look_alikes(found) for one in pair}
    named = {one.code for one in found for other in found if one.code != other.code and one.name.casefold() == other.name.casefold()}
    return frozenset(seen | named)

"""How a medicine is taken with regard to food: a medicine and the pharmacy's rules in, before or with, or nothing, out."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.names import mentions

__all__ = ["FoodRelation", "FoodRule", "food_rule"]


class FoodRelation(StrEnum):
    """Before a meal or on an empty stomach; or with a meal or after it."""

    BEFORE = "before"
    WITH = "with"


@dataclass(frozen=True, slots=True)
class FoodRule:
    """Any medicine of those generic names is taken so."""

    id: str
    names: tuple[str, ...]
    relation: FoodRelation
    reason: str
    source: str
    dated: str
    evidence: str


def food_rule(medicine: Medicine, rules: Iterable[FoodRule]) -> FoodRule | None:
    """The first rule that names the medicine."""
    return next((rule for rule in rules if any(mentions(medicine.name, name) for name in rule.names)), None)

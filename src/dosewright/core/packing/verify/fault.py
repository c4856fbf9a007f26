"""How the recount reports: a fault of one person's set, by name."""

from dosewright.core.packing.plan_values import Card, PackedCavity
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.person import Person

__all__ = ["fault", "in_card", "in_cavity"]


def fault(code: str, person: Person, where: dict[str, Fact] | None = None, **facts: Fact) -> Finding:
    """One difference between plan and orders; nothing may be printed from a plan with any."""
    return Finding(f"verify.{code}", Severity.STOP, {"person": person.id, **(where or {})}, {"name": person.name, **facts})


def in_card(code: str, person: Person, card: Card, **facts: Fact) -> Finding:
    """A fault of one card."""
    return fault(code, person, {"card": card.number}, **facts)


def in_cavity(code: str, person: Person, card: Card, cavity: PackedCavity, **facts: Fact) -> Finding:
    """A fault of one cavity."""
    where: dict[str, Fact] = {"card": card.number, "row": cavity.row, "column": cavity.column, "date": cavity.day, "slot": cavity.slot}
    return fault(code, person, where, **facts)

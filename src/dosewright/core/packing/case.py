"""One order of one person under one request: what placing and admission pass around together, and how they report on it."""

from dataclasses import dataclass

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.packing.request import PlanRequest
from dosewright.core.regimen.order import Order
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.person import Person

__all__ = ["Case"]


@dataclass(frozen=True, slots=True)
class Case:
    """The order with its product, its person, and everything that the plan is made from."""

    order: Order
    medicine: Medicine
    person: Person
    request: PlanRequest

    def note(self, code: str, **facts: Fact) -> Finding:
        """Worth knowing about this order."""
        return self._found(code, Severity.NOTE, facts)

    def decide(self, code: str, **facts: Fact) -> Finding:
        """A person must choose about this order."""
        return self._found(code, Severity.DECIDE, facts)

    def stop(self, code: str, **facts: Fact) -> Finding:
        """This order cannot go on as it is."""
        return self._found(code, Severity.STOP, facts)

    def _found(self, code: str, severity: Severity, facts: dict[str, Fact]) -> Finding:
        where = {"person": self.person.id, "order": self.order.id}
        return Finding(code, severity, where, {"name": self.person.name, "medicine": self.medicine.label, **facts})

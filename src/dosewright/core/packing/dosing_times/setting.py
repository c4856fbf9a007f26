"""What a proposal of dosing times is judged by: one person, the request of the next cycle, the rules about times of day; as one value."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.time_of_day import TimeRules
from dosewright.core.packing.request import PlanRequest
from dosewright.core.regimen.dosage import Dosage
from dosewright.core.regimen.expand import expand
from dosewright.core.regimen.expansion import Expansion
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import Timetable
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import OrderId
from dosewright.core.units.person import Person

__all__ = ["Setting"]


@dataclass(frozen=True, slots=True)
class Setting:
    """What everything is judged by; the request's dosing times for the person are those that may be proposed.

    `words` holds the dosages as an order's own words gave them, for orders whose times were taken up from an earlier proposal.
    """

    person: Person
    request: PlanRequest
    rules: TimeRules
    words: Mapping[OrderId, tuple[Dosage, ...]] = field(default_factory=dict)

    @property
    def timetable(self) -> Timetable:
        """The dosing times that may be proposed."""
        return self.request.timetable_of(self.person)

    @property
    def orders(self) -> tuple[Order, ...]:
        """The person's orders by id."""
        return self.request.orders_of(self.person.id)

    def worded(self, order: Order) -> Order:
        """The order as its own words have it, whatever times were taken up since."""
        return replace(order, dosages=self.words.get(order.id, order.dosages))

    def medicine_of(self, order: Order) -> Medicine | None:
        """The order's product, where it is known."""
        return self.request.medicines.get(order.medicine)

    def expand(self, order: Order, days: int) -> Expansion:
        """The order's doses from the cycle's first day on."""
        return expand(order, self.timetable, self.request.first, days)

    def note(self, code: str, order: Order, /, **facts: Fact) -> Finding:
        """Worth knowing about one order."""
        return self.found(code, Severity.NOTE, order, **facts)

    def found(self, code: str, severity: Severity, order: Order, /, **facts: Fact) -> Finding:
        """About one order."""
        medicine = self.medicine_of(order)
        named: dict[str, Fact] = {"name": self.person.name, "medicine": medicine.label if medicine else order.medicine}
        return Finding(code, severity, {"person": self.person.id, "order": order.id}, {**named, **facts})

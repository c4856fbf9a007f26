"""What a file of orders gives, whatever its format: people, orders, and everything a person must mend. All at once, nothing guessed."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.regimen.order import Order
from dosewright.core.regimen.reading.reading_values import Reading
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import MedicineCode
from dosewright.core.units.person import Person

__all__ = ["OrderSource", "OrdersIn", "ReceivedOrder"]


@dataclass(frozen=True, slots=True)
class OrderSource:
    """What a reader of orders is told: the file's name (for findings), the catalogue, the language and country the directions are written
    in, and the day on which the supply is made (None: nothing is said about prescriptions that may not be supplied yet or any more)."""

    file: str
    medicines: Mapping[MedicineCode, Medicine]
    lang: str = "en"
    country: str = ""
    on: date | None = None


@dataclass(frozen=True, slots=True)
class ReceivedOrder:
    """One order whose person and medicine are certain. `order.dosages` is empty until its directions are settled: then `reading` holds the
    questions, where the directions came as words. `reading` is None where they came as structure. `findings` are those about this order."""

    order: Order
    reading: Reading | None = None
    findings: tuple[Finding, ...] = ()

    @property
    def settled(self) -> bool:
        """Whether its directions are structure."""
        return bool(self.order.dosages)


@dataclass(frozen=True, slots=True)
class OrdersIn:
    """People, orders and findings, each in the file's order. An order that is broken is in `findings` only.

    `words`: what the file says of each order, broken ones too, by the line or resource that findings name.
    """

    people: tuple[Person, ...] = ()
    received: tuple[ReceivedOrder, ...] = ()
    findings: tuple[Finding, ...] = field(default=())
    words: Mapping[str, str] = field(default_factory=dict, compare=False)

    @property
    def orders(self) -> tuple[Order, ...]:
        """The orders that may be scheduled."""
        return tuple(received.order for received in self.received if received.settled)

    @property
    def unsettled(self) -> tuple[ReceivedOrder, ...]:
        """The orders that a person must settle before anything is scheduled from them."""
        return tuple(received for received in self.received if not received.settled)

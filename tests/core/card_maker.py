"""A small planned card for tests of custody, checking, rework and rounds: three days, two dosing times, two orders."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from fractions import Fraction

from dosewright.core.checking.filled import FilledCard, lay_out
from dosewright.core.custody.event import Actor, CardEvent, Deed, Role
from dosewright.core.packing.plan_values import Card, CardColumn, Content, PackedCavity
from dosewright.core.supply.placement import Cell, Placed
from dosewright.core.units.finding import Fact
from dosewright.core.units.ids import CardNumber, Lot, MedicineCode, OrderId, SlotName, StationId
from dosewright.core.units.quantity import Quantity, Unit

MONDAY = date(2026, 3, 2)
NINE = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)
CARD = CardNumber("204170000000001")
BISOPROLOL, METFORMIN = MedicineCode("bisoprolol-5"), MedicineCode("metformin-500")
RX1, RX2 = OrderId("RX1"), OrderId("RX2")
MORNING, EVENING = (SlotName("morning"), time(8)), (SlotName("evening"), time(18))
LASTS = date(2026, 4, 27)


def content(order: OrderId, medicine: MedicineCode, count: Fraction | int) -> Content:
    return Content(order, medicine, Quantity(Fraction(count), Unit("tablet")))


def card(number: CardNumber = CARD, first: date = MONDAY, beyond_use: date = LASTS) -> Card:
    """Mornings: one bisoprolol and half a metformin. Evenings: one metformin."""
    cavities = []
    for row in (1, 2, 3):
        day = first + timedelta(days=row - 1)
        morning = (content(RX1, BISOPROLOL, 1), content(RX2, METFORMIN, Fraction(1, 2)))
        cavities.append(PackedCavity(row, 1, day, *MORNING, morning, Fraction(1, 4)))
        cavities.append(PackedCavity(row, 2, day, *EVENING, (content(RX2, METFORMIN, 1),), Fraction(1, 4)))
    columns = (CardColumn(1, *MORNING, first), CardColumn(2, *EVENING, first))
    return Card(number, first, first + timedelta(days=2), beyond_use, columns, tuple(cavities))


def right_units(planned: Card, lot: str = "A", expiry: date = LASTS) -> tuple[Placed, ...]:
    """Exactly what the plan asks, out of one lot."""
    return tuple(
        Placed(Cell(planned.number, cavity.row, cavity.column, held.order), held.medicine, Lot(lot), expiry, held.quantity.count)
        for cavity in planned.cavities
        for held in cavity.contents
    )


def filled(units: Iterable[Placed] | None = None, planned: Card | None = None) -> FilledCard:
    """A card with these units in it, or filled right."""
    known = planned or card()
    return lay_out(known, right_units(known) if units is None else units)


def swapped(units: tuple[Placed, ...], at: int, **changes: object) -> tuple[Placed, ...]:
    """The same units, one of them changed."""
    return (*units[:at], replace(units[at], **changes), *units[at + 1 :])  # type: ignore[arg-type]


def event(deed: Deed, by: str = "technician one", minutes: int = 0, **facts: Fact) -> CardEvent:
    """Something done to the card."""
    return CardEvent(CARD, deed, Actor(by, by, Role.TECHNICIAN), NINE + timedelta(minutes=minutes), StationId("bench 1"), facts)


def placing(cells: tuple[str, ...], lot: str = "A", by: str = "technician one") -> CardEvent:
    """Units laid into cells, written as the ledger writes them: "1.1=1=RX1"."""
    medicine = BISOPROLOL if cells[0].endswith("RX1") else METFORMIN
    return event(Deed.PLACED, by, medicine=medicine, lot=lot, expiry=LASTS, cells=cells)


def taking_out(cells: tuple[str, ...], lot: str = "A", to: str = "waste") -> CardEvent:
    """Units taken out of cells again."""
    return event(Deed.TAKEN_OUT, lot=lot, cells=cells, to=to, medicine=METFORMIN, reason="broken")

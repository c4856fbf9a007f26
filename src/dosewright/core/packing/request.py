"""Everything that a plan is made from, as one value: people, orders, medicines, rules, days. The same request gives the same plan."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Literal

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.neighbours import PairRule
from dosewright.core.medicines.spacing import SpacingRule
from dosewright.core.medicines.suitability import NO_RULES, Rules
from dosewright.core.packing.card_format import CardFormat
from dosewright.core.packing.profile import Profile
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE, Timetable
from dosewright.core.units.ids import HomeId, MedicineCode, OrderId, PersonId, SlotName
from dosewright.core.units.person import Person

__all__ = ["Answer", "LabelLines", "Places", "PlanRequest"]

# Where a medicine lay last cycle: dosing time and medicine → its column among that dosing time's columns, counted from 1.
Places = Mapping[tuple[SlotName, MedicineCode], int]


@dataclass(frozen=True, slots=True)
class Answer:
    """A pharmacist's recorded answer about one order: where it goes, and why. It counts only while `about` reads as it did.

    `about` is the rule's id, `dated` the rule's date when it was answered: a rule that changes asks again.
    """

    order: OrderId
    about: str
    dated: str
    choice: Literal["card", "alongside"]
    reason: str

    def __post_init__(self) -> None:
        if not self.reason.strip():
            raise ValueError("an answer needs a reason")


@dataclass(frozen=True, slots=True)
class LabelLines:
    """How many lines each medicine takes on a cavity label at the floor size, and how many there are. The paper room measures both."""

    room: int
    needed: Mapping[MedicineCode, int]


@dataclass(frozen=True, slots=True)
class PlanRequest:
    """Input of `plan_cycle` and `verify`. Raises ValueError for a cycle of no days, or a second person or order of one id.

    `prepared_on` is the day of packing, from which beyond-use dates run. `salt` makes card numbers this pharmacy's own. `expiries`:
    the earliest expiry among the lots that will be used, where known. `weeks_a_card`: a person's own limit, below the profile's.
    """

    people: tuple[Person, ...]
    orders: tuple[Order, ...]
    medicines: Mapping[MedicineCode, Medicine]
    format: CardFormat
    profile: Profile
    first: date
    days: int
    prepared_on: date
    rules: Rules = field(default=NO_RULES, repr=False)
    pairs: tuple[PairRule, ...] = field(default=(), repr=False)
    spacings: tuple[SpacingRule, ...] = field(default=(), repr=False)
    timetable: Timetable = STANDARD_TIMETABLE
    homes: Mapping[HomeId, Timetable] = field(default_factory=dict)
    timetables: Mapping[PersonId, Timetable] = field(default_factory=dict)
    salt: str = ""
    answers: tuple[Answer, ...] = ()
    expiries: Mapping[MedicineCode, date] = field(default_factory=dict)
    places: Mapping[PersonId, Places] = field(default_factory=dict)
    weeks_a_card: Mapping[PersonId, int] = field(default_factory=dict)
    label_lines: LabelLines | None = None
    _of_person: Mapping[PersonId, tuple[Order, ...]] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        if self.days < 1:
            raise ValueError(f"a cycle needs at least one day, not {self.days}")
        for what, ids in (("person", [p.id for p in self.people]), ("order", [o.id for o in self.orders])):
            if len(set(ids)) < len(ids):
                raise ValueError(f"the same {what} id occurs twice")
        by_person: dict[PersonId, list[Order]] = {}
        for order in sorted(self.orders, key=lambda o: o.id):
            by_person.setdefault(order.person, []).append(order)
        object.__setattr__(self, "_of_person", {person: tuple(orders) for person, orders in by_person.items()})

    @property
    def last(self) -> date:
        """The cycle's last day."""
        return self.first + timedelta(days=self.days - 1)

    def timetable_of(self, person: Person) -> Timetable:
        """The person's own dosing times, else the home's, else the pharmacy's."""
        at_home = self.homes.get(person.home, self.timetable) if person.home else self.timetable
        return self.timetables.get(person.id, at_home)

    def orders_of(self, person: PersonId) -> tuple[Order, ...]:
        """The person's orders by id: the order in which they were received changes nothing."""
        return self._of_person.get(person, ())

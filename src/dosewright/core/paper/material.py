"""Everything that sheets are drawn from, gathered once: the plan, the request that it was made from, who supplies, the fonts."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.packing.plan_values import Plan
from dosewright.core.packing.profile import Profile
from dosewright.core.packing.request import PlanRequest
from dosewright.core.paper.alike import Apart
from dosewright.core.paper.copies import FIRST_COPY, Copy
from dosewright.core.paper.fonts import FontSet
from dosewright.core.paper.printer import Printer
from dosewright.core.regimen.order import Order
from dosewright.core.units.amount_words import MICROGRAM_COUNTRIES
from dosewright.core.units.ids import CardNumber, HomeId, Lot, MedicineCode, OrderId, PersonId
from dosewright.core.units.person import Person

__all__ = ["ANY_PRINTER", "STAMPED", "Material", "Pharmacy", "Placed", "Supplier"]


@dataclass(frozen=True, slots=True)
class Pharmacy:
    """Who supplies, as the label must say it. `registration` where the country asks for one.

    `by_stamp`: nothing is known, and every header has an empty box for the pharmacy's rubber stamp; a `note` says so.
    """

    name: str
    address: str
    phone: str = ""
    registration: str = ""
    by_stamp: bool = False


STAMPED = Pharmacy("", "", by_stamp=True)
ANY_PRINTER = Printer()
_HEADER_POINTS = 9  # where a profile says nothing (our own proposal; USP <17> asks for 11)


@dataclass(frozen=True, slots=True)
class Supplier:
    """What a sheet is drawn with that is about no one person's plan: who supplies, the fonts, whose text rules hold, for which printer."""

    pharmacy: Pharmacy
    fonts: FontSet
    country: str
    printer: Printer = ANY_PRINTER


@dataclass(frozen=True, slots=True)
class Placed:
    """Lot and expiry of what lies in a card, for places that print them in each cavity; known only after filling.

    `cells`: the cavities, by row and column, that hold units of it; None where the whole line is of it.
    """

    lot: Lot
    expiry: date
    cells: frozenset[tuple[int, int]] | None = None

    def lies_in(self, row: int, column: int) -> bool:
        """Whether that cavity holds units of the lot."""
        return self.cells is None or (row, column) in self.cells


@dataclass(frozen=True, slots=True)
class Material:
    """What labels, fill sheets and administration records are drawn from: a plan and the very request that it answers.

    `homes` gives a home's printed name, `allergies` a person's line, `placed` the lots of an order in a card; each may be empty.
    `relabel`, where it is given: only these cards are labelled, a header and those cavities (None: all of them). Else every card is.
    `lang` is the language of directions. `apart`: those whose cards could be taken for another's, of everybody supplied (`tell_apart`).
    `copy`: which copy of this paper it is, and why a further one is made. `waiting`: cards that a pharmacist has let run out as they are.
    `called_back`: cards outside from which nothing is given from that day on, because they are called back, or replaced by what is not
    there yet: a sheet says what to give meanwhile.
    """

    plan: Plan
    request: PlanRequest
    pharmacy: Pharmacy
    fonts: FontSet
    homes: Mapping[HomeId, str] = field(default_factory=dict)
    allergies: Mapping[PersonId, str] = field(default_factory=dict)
    placed: Mapping[tuple[CardNumber, OrderId], tuple[Placed, ...]] = field(default_factory=dict)
    lang: str = "en"
    apart: Mapping[PersonId, Apart] = field(default_factory=dict)
    printer: Printer = ANY_PRINTER
    copy: Copy = FIRST_COPY
    relabel: Mapping[CardNumber, frozenset[tuple[int, int]] | None] | None = None
    waiting: frozenset[CardNumber] = frozenset()
    called_back: Mapping[CardNumber, date] = field(default_factory=dict)
    _people: dict[PersonId, Person] = field(init=False, repr=False, compare=False)
    _orders: dict[OrderId, Order] = field(init=False, repr=False, compare=False)

    _doubles: frozenset[MedicineCode] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_people", {person.id: person for person in self.request.people})
        object.__setattr__(self, "_orders", {order.id: order for order in self.request.orders})

        object.__setattr__(self, "_doubles", _doubles(self.request.medicines))

    @property
    def country(self) -> str:
        """By whose text rules amounts are written on this paper."""
        return _text_country(self.request.profile)

    @property
    def smallest_in_cavity(self) -> float:
        """Points below which nothing on a cavity's label is set: the larger of what the card format and the profile say."""
        form = float(self.request.format.smallest_type)
        return max(form, float(self.request.profile.smallest_points("smallest_cavity_pt", 0)))

    @property
    def smallest_on_header(self) -> float:
        """The same for what matters on a header: whose card, which days, each medicine with its directions."""
        return float(self.request.profile.smallest_points("smallest_header_pt", _HEADER_POINTS))

    def is_labelled(self, card: CardNumber) -> bool:
        """Whether labels are wanted for the card."""
        return self.relabel is None or card in self.relabel

    def cell_is_labelled(self, card: CardNumber, row: int, column: int) -> bool:
        """Whether a label is wanted for that cavity of it."""
        cells = self.relabel.get(card, frozenset()) if self.relabel is not None else None
        return cells is None or (row, column) in cells

    def person(self, person: PersonId) -> Person:
        """Raises KeyError where the plan speaks of somebody who is not in the request."""
        return self._people[person]

    def order(self, order: OrderId) -> Order:
        """Raises KeyError where the plan speaks of an order that is not in the request."""
        return self._orders[order]

    def medicine(self, code: MedicineCode) -> Medicine:
        """Raises KeyError where the plan speaks of a medicine that is not in the catalogue."""
        return self.request.medicines[code]

    def has_a_double(self, medicine: Medicine) -> bool:
        """Whether another of the catalogue has the same name and strength: then its form must always be said."""
        return medicine.code in self._doubles

    def only(self, people: frozenset[PersonId]) -> "Material":
        """The same, for some of the people."""
        return replace(self, plan=replace(self.plan, people=tuple(p for p in self.plan.people if p.person in people)))


def _doubles(catalogue: Mapping[MedicineCode, Medicine]) -> frozenset[MedicineCode]:
    alike: dict[tuple[str, str], list[MedicineCode]] = {}
    for medicine in catalogue.values():
        alike.setdefault((medicine.name.casefold(), medicine.strength), []).append(medicine.code)
    return frozenset(code for codes in alike.values() if len(codes) > 1 for code in codes)


def _text_country(profile: Profile) -> str:
    """The country by whose text rules amounts are written: the profile's own line about micrograms decides, not a list here."""
    line = profile.rules.get("micrograms_below_mg")
    if line is None or bool(line.value) == (profile.country in MICROGRAM_COUNTRIES):
        return profile.country
    return "GB" if line.value else "US"

"""A card with everything that a bench screen says of it: the plan's wish, what lies in it now, its medicines, its format, its strip."""

from dataclasses import dataclass
from datetime import time

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.packing.plan_values import PackedCavity
from dosewright.core.paper.medicine_words import described, named
from dosewright.core.units.ids import CardNumber, MedicineCode, OrderId
from dosewright.store.cards import StoredCard, load_card
from dosewright.store.catalogue import load_catalogue
from dosewright.store.people import load_home_names
from dosewright.store.pharmacy import RulesInForce, load_rules
from dosewright.store.work import load_basis
from dosewright.web.card_map import CardMap, CellLine, MapCell, draw_card, glyph
from dosewright.web.page import Strip, strip_of

__all__ = ["BenchCard", "DosingTimeWords", "bench_card", "load_bench_card"]


@dataclass(frozen=True, slots=True)
class DosingTimeWords:
    """A dosing time as the template draws it."""

    time: time
    slot: str


@dataclass(frozen=True, slots=True)
class BenchCard:
    """`medicines` holds those of this card."""

    stored: StoredCard
    rules: RulesInForce
    medicines: dict[MedicineCode, Medicine]
    home: str
    basis: str

    @property
    def strip(self) -> Strip:
        """The top line."""
        of = f"{self.stored.position} of {self.stored.of}"
        return strip_of(self.stored.person, self.home, card=self.stored.number, of=of, plan=self.basis)

    @property
    def country(self) -> str:
        """Whose way of writing amounts counts."""
        return self.rules.profile.country

    @property
    def filling_order(self) -> tuple[MedicineCode, ...]:
        """The card's medicines by name, as the fill sheet has them."""
        return tuple(sorted(self.medicines, key=lambda code: (self.medicines[code].label.casefold(), code)))

    def name_of(self, medicine: MedicineCode) -> str:
        """ "metformin 500 mg tablet"."""
        return named(self.medicines[medicine], self.country)

    def looks(self, medicine: MedicineCode) -> str:
        """ "white, oval, marked M 5"; "" where nothing is on file."""
        return described(self.medicines[medicine])

    def times_of(self, order: OrderId) -> tuple[DosingTimeWords, ...]:
        """The dosing times at which this card holds the order, by the clock; none where it is for when it is needed."""
        if self.stored.card.as_needed:
            return ()
        found = {(cavity.time, str(cavity.slot)) for cavity in self.stored.card.cavities if any(c.order == order for c in cavity.contents)}
        return tuple(DosingTimeWords(clock, slot) for clock, slot in sorted(found))

    def contents(self) -> CardMap:
        """The card, its labels up, with the words of what is to lie in each cavity."""
        said = {(cavity.row, cavity.column): self._contents_of(cavity) for cavity in self.stored.card.cavities}
        return draw_card(self.stored.card, self.rules.card_format, said, labels_up=True)

    def _contents_of(self, cavity: PackedCavity) -> MapCell:
        lines = tuple(CellLine(glyph(content.quantity.count), self.name_of(content.medicine)) for content in cavity.contents)
        return MapCell(cavity.row, cavity.column, open=True, lines=lines)


def load_bench_card(number: CardNumber) -> BenchCard:
    """Raises Missing."""
    return bench_card(load_card(number))


def bench_card(stored: StoredCard) -> BenchCard:
    """The same, for a card that is loaded already."""
    home = load_home_names().get(stored.person.home, "") if stored.person.home else ""
    codes = {content.medicine for cavity in stored.card.cavities for content in cavity.contents}
    return BenchCard(stored, load_rules(stored.rules), load_catalogue(codes), home, load_basis(stored.set_id))

"""The life of a card, drawn at random and followed by a model that shares nothing with the code: R2, R5 to R11 hold after every step."""

from collections.abc import Mapping
from datetime import timedelta
from fractions import Fraction

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule, run_state_machine_as_test
from tests.core.card_maker import BISOPROLOL, CARD, LASTS, METFORMIN, NINE, RX1, card

from dosewright.core.checking.counts import check_counts
from dosewright.core.checking.filled import lay_out
from dosewright.core.checking.filling import check_filling
from dosewright.core.checking.release import check_release
from dosewright.core.checking.same_hands import Alone, check_same_hands
from dosewright.core.checking.still_open import still_open
from dosewright.core.custody.cells import format_cells
from dosewright.core.custody.decision import check_decision, choices_for, deeds_of
from dosewright.core.custody.event import Actor, CardEvent, Deed, Role
from dosewright.core.custody.follow import check_follows
from dosewright.core.custody.returning import destroying_movements, returning_movements
from dosewright.core.custody.stage import Stage
from dosewright.core.custody.state import CardState, state_of
from dosewright.core.custody.taking_out import check_taking_out, taking_out_movements
from dosewright.core.rounds.left import check_counted_return
from dosewright.core.supply.account import accounts, check_accounts
from dosewright.core.supply.lots import Stock
from dosewright.core.supply.movement import Batch, Movement, MovementKind, Place
from dosewright.core.supply.placement import Cell
from dosewright.core.supply.placing import check_placing, placing_movements
from dosewright.core.units.finding import Fact, Finding, blocks
from dosewright.core.units.ids import Lot, MedicineCode, StationId

PLANNED = card()
PEOPLE = ("ann", "ben", "cleo")
LOTS = {BISOPROLOL: ("A1", "A2"), METFORMIN: ("B1", "B2")}
MEDICINES = st.sampled_from(sorted(LOTS))
WHO = st.sampled_from(PEOPLE)
CELLS = tuple(Cell(CARD, cavity.row, cavity.column, held.order) for cavity in PLANNED.cavities for held in cavity.contents)


class CardLife(RuleBasedStateMachine):
    """One card, two medicines of two lots each, three people. The model counts units by hand, in plain dictionaries."""

    def __init__(self) -> None:
        super().__init__()
        self.events: list[CardEvent] = []
        self.moves: list[Movement] = []
        self.stock = {lot: Fraction(30) for lots in LOTS.values() for lot in lots}
        self.in_card: dict[tuple[Cell, str], Fraction] = {}
        self.elsewhere = Fraction(0)  # given, returned or waste
        self.hands: set[str] = set()
        self.once_sealed = False
        for medicine, lots in LOTS.items():
            self.moves += [Movement(MovementKind.RECEIVED, medicine, Lot(lot), Fraction(30)) for lot in lots]
        for deed in (Deed.PLANNED, Deed.PRINTED):
            self._record(deed, "ann")

    @property
    def state(self) -> CardState:
        return state_of(CARD, self.events)

    def _record(self, deed: Deed, who: str, **facts: Fact) -> None:
        at = NINE + timedelta(minutes=len(self.events))
        self.events.append(CardEvent(CARD, deed, Actor(who, who, Role.PHARMACIST), at, StationId("1"), facts))
        REACHED.add(self.state.stage)

    def _may(self, deed: Deed, *findings: Finding) -> bool:
        return not blocks((*check_follows(self.state, deed), *findings))

    @rule(medicine=MEDICINES, second=st.booleans(), some=st.integers(0, 6), who=WHO)
    def place(self, medicine: MedicineCode, second: bool, some: int, who: str) -> None:  # noqa: FBT001
        lot = LOTS[medicine][second]
        stock = Stock(Batch(LASTS, Lot(lot), medicine), self.stock[lot])
        still = still_open([lay_out(PLANNED, self.state.placed)], medicine)
        cells = {cell: asked.amount for cell, asked in list(still.items())[: some or None]}
        if self._may(Deed.PLACED, *check_placing(cells, still, stock, LASTS)):
            self._record(Deed.PLACED, who, medicine=medicine, lot=lot, expiry=LASTS, cells=format_cells(cells))
            self.moves += placing_movements(cells, stock.batch)
            whole = -(-sum(cells.values()) // 1)
            self.stock[lot] -= whole
            self.elsewhere += whole - sum(cells.values())
            for cell, amount in cells.items():
                self.in_card[cell, lot] = self.in_card.get((cell, lot), Fraction(0)) + amount
            self.hands.add(who)

    @rule(cell=st.sampled_from(CELLS), second=st.booleans(), half=st.booleans(), waste=st.booleans(), who=WHO)
    def take_out(self, cell: Cell, second: bool, half: bool, waste: bool, who: str) -> None:  # noqa: FBT001
        medicine = BISOPROLOL if cell.order == RX1 else METFORMIN
        lot, to = LOTS[medicine][second], Place.WASTE if waste else Place.STOCK
        cells = {cell: Fraction(1, 2) if half else Fraction(1)}
        if self._may(Deed.TAKEN_OUT, *check_taking_out(self.state, Lot(lot), cells, to, "wrong")):
            self._record(Deed.TAKEN_OUT, who, medicine=medicine, lot=lot, cells=format_cells(cells), to=to.value)
            self.moves += taking_out_movements(CARD, medicine, Lot(lot), cells, to)
            assert waste or not self.once_sealed, "R10: out of a sealed card into stock"
            self._remove(cell, lot, cells[cell])
            if waste:
                self.elsewhere += cells[cell]
            else:
                self.stock[lot] += cells[cell]
            self.hands.add(who)

    def _remove(self, cell: Cell, lot: str, amount: Fraction) -> None:
        self.in_card[cell, lot] -= amount
        assert self.in_card[cell, lot] >= 0
        if not self.in_card[cell, lot]:
            del self.in_card[cell, lot]

    @rule(who=WHO)
    def finish(self, who: str) -> None:
        if self._may(Deed.FILLED, *check_filling(lay_out(PLANNED, self.state.placed))):
            self._record(Deed.FILLED, who)
            self.hands.add(who)

    @rule(who=WHO, slip=st.booleans())
    def check(self, who: str, slip: bool) -> None:  # noqa: FBT001
        counts = {(cavity.row, cavity.column): cavity.asked for cavity in lay_out(PLANNED, ()).cavities}
        if slip:
            counts[1, 1] += 1
        same = check_same_hands(self.state.fillers, who, Alone(allowed=False, reason="", last_touched=NINE, now=NINE))
        if self._may(Deed.CHECKED, *same, *check_counts(lay_out(PLANNED, self.state.placed), counts)):
            assert who not in self.hands, "R8: checked by one of the fillers"
            assert not slip, "a wrong count was accepted"
            self._record(Deed.CHECKED, who)

    @rule(who=WHO, deed=st.sampled_from([Deed.SEALED, Deed.HANDED_OVER, Deed.RECEIVED, Deed.SENT_BACK, Deed.WITHDRAWN]))
    def simple_step(self, who: str, deed: Deed) -> None:
        if self._may(deed):
            self._record(deed, who)
            self.once_sealed |= deed is Deed.SEALED

    @rule(who=WHO)
    def release(self, who: str) -> None:
        if self._may(Deed.RELEASED, *check_release(lay_out(PLANNED, self.state.placed), NINE.date())):
            assert self._asked() == self._held(), "R2, R3: released with something else in it than planned"
            self._record(Deed.RELEASED, who)

    def _asked(self) -> Mapping[Cell, Fraction]:
        return {
            Cell(CARD, cavity.row, cavity.column, held.order): held.quantity.count
            for cavity in PLANNED.cavities
            for held in cavity.contents
        }

    def _held(self) -> Mapping[Cell, Fraction]:
        held: dict[Cell, Fraction] = {}
        for (cell, _), amount in self.in_card.items():
            held[cell] = held.get(cell, Fraction(0)) + amount
        return held

    @rule(steps=st.integers(1, 9))
    def go_on(self, steps: int) -> None:
        """The next steps as a good day has them, so that late stages are reached often; the checker is whoever did not fill."""
        for _ in range(steps):
            match self.state.stage:
                case Stage.PRINTED | Stage.FILLING:
                    for medicine in LOTS:
                        self.place(medicine, False, 0, "ann")  # noqa: FBT003
                    self.finish("ann")
                case Stage.FILLED:
                    self.check(next((who for who in PEOPLE if who not in self.hands), "ann"), False)  # noqa: FBT003
                case Stage.CHECKED | Stage.RELEASED:
                    self.simple_step("ann", Deed.SEALED if self.state.stage is Stage.CHECKED else Deed.HANDED_OVER)
                case Stage.SEALED:
                    self.release("ben")

    @rule()
    def orders_change(self) -> None:
        if self._may(Deed.OUT_OF_DATE):
            self._record(Deed.OUT_OF_DATE, "ann")

    @rule(number=st.integers(0, 1))
    def decide(self, number: int) -> None:
        choices = choices_for(self.state)
        if number < len(choices) and not check_decision(self.state, choices[number], "because"):
            for deed in deeds_of(choices[number]):
                self._record(deed, "ann", choice=choices[number].value)

    @rule(kept=st.sets(st.sampled_from(CELLS)))
    def come_back(self, kept: set[Cell]) -> None:
        counted = {cell: amount for cell, amount in self._held().items() if cell in kept}
        if self._may(Deed.RETURNED, *check_counted_return(self.state.placed, counted)):
            self.moves += returning_movements(self.state, counted)
            self._record(Deed.RETURNED, "ann", cells=format_cells(counted))
            self.elsewhere += sum(self.in_card.values())
            self.in_card.clear()

    @rule()
    def destroy(self) -> None:
        if self._may(Deed.DESTROYED):
            self.moves += destroying_movements(self.state)
            self._record(Deed.DESTROYED, "ann")
            self.elsewhere += sum(self.in_card.values())
            self.in_card.clear()

    @invariant()
    def r11_every_unit_is_somewhere(self) -> None:
        assert sum(self.stock.values()) + sum(self.in_card.values()) + self.elsewhere == 120
        stock = {(medicine, Lot(lot)): self.stock[lot] for medicine, lots in LOTS.items() for lot in lots}
        cards = {key: Fraction(0) for key in stock}
        for (cell, lot), amount in self.in_card.items():
            cards[BISOPROLOL if cell.order == RX1 else METFORMIN, Lot(lot)] += amount
        assert check_accounts(self.moves, stock, cards) == ()
        assert all(account.received == 30 for account in accounts(self.moves).values())

    @invariant()
    def what_the_events_say_lies_in_the_card_is_what_the_model_counted(self) -> None:
        if self.in_card:
            held: dict[tuple[Cell, str], Fraction] = {}
            for units in self.state.placed:
                held[units.cell, units.lot] = held.get((units.cell, units.lot), Fraction(0)) + units.amount
            assert held == self.in_card

    @invariant()
    def r9_nothing_brought_it_nearer_to_the_person_while_it_was_out_of_date(self) -> None:
        out_of_date = False
        for event in self.events:
            assert not (out_of_date and event.deed in {Deed.CHECKED, Deed.RELEASED, Deed.HANDED_OVER})
            out_of_date = event.deed is Deed.OUT_OF_DATE or (out_of_date and event.deed is not Deed.DECIDED)

    @invariant()
    def the_order_of_life_is_kept(self) -> None:
        deeds = [event.deed for event in self.events]
        for later, earlier in (
            (Deed.CHECKED, Deed.FILLED),
            (Deed.SEALED, Deed.CHECKED),
            (Deed.RELEASED, Deed.SEALED),
            (Deed.HANDED_OVER, Deed.RELEASED),
        ):
            if later in deeds:
                assert earlier in deeds[: deeds.index(later)]


REACHED: set[Stage] = set()


def test_the_life_of_a_card_holds_its_rules_and_the_draws_reach_its_late_stages() -> None:
    REACHED.clear()
    run_state_machine_as_test(CardLife, settings=settings(max_examples=80, stateful_step_count=30))
    assert set(Stage) - {Stage.IN_USE} == REACHED  # doses given are the rounds' own

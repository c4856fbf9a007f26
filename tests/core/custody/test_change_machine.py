"""Changes drawn at random over several cycles of cards, followed by a model that shares nothing with the code.

Orders stop, start and change their dose, back-dated and ahead; cards are planned, filled, checked, handed over, given from, called back,
lost and found; work is killed and taken up again from the events. After every step R2, R3, R9, R10 and R11 hold by the model's own count of
what lies where; whenever a change is said to be done, R1, R3 and R17 do: every open card holds what the model's orders ask, and nothing
else.
"""

import os
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time, timedelta
from fractions import Fraction

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule, run_state_machine_as_test
from tests.core.packing.makers import IRIS, MONDAY, dosage, medicine, order, plan_of, request
from tests.core.rework.rework_makers import RATES

from dosewright.core.checking.counts import check_counts
from dosewright.core.checking.disturbed import check_disturbed
from dosewright.core.checking.filled import FilledCard
from dosewright.core.checking.filled import lay_out as lay_filled
from dosewright.core.checking.filling import check_filling
from dosewright.core.checking.same_hands import Alone, check_same_hands
from dosewright.core.checking.still_open import still_open
from dosewright.core.custody.cells import format_cells
from dosewright.core.custody.changing import check_done
from dosewright.core.custody.counting_again import count_again
from dosewright.core.custody.event import Actor, CardEvent, Deed, Role
from dosewright.core.custody.follow import check_follows
from dosewright.core.custody.reconciling import Returned, reconcile
from dosewright.core.custody.returning import came_back_movements, destroying_movements, returning_movements
from dosewright.core.custody.reworking import deeds_of_task, renewed, to_take_out
from dosewright.core.custody.stage import Stage
from dosewright.core.custody.state import CardState, after, state_of
from dosewright.core.custody.taking_out import check_taking_out, taking_out_movements
from dosewright.core.custody.whereabouts import as_open_card
from dosewright.core.packing.plan_values import Card
from dosewright.core.packing.request import PlanRequest
from dosewright.core.regimen.order import Order
from dosewright.core.rework.choices import Choice, ChoiceName
from dosewright.core.rework.layout import PersonLayout, lay_out_person
from dosewright.core.rework.picked import Pick, pick, touched_cards
from dosewright.core.rework.proof import check_layout
from dosewright.core.rework.situation import Situation
from dosewright.core.rework.tasks import CardTask, tasks_of
from dosewright.core.rework.touched import Change, touched
from dosewright.core.supply.movement import ROUTES, Batch, Movement, Place
from dosewright.core.supply.placement import Cell
from dosewright.core.supply.placing import placing_movements
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Fact, Finding, Severity, blocks
from dosewright.core.units.ids import CardNumber, Lot, MedicineCode, StationId

MEDICINES = [medicine("Bisoprolol"), medicine("Metformin"), medicine("Levothyroxine")]
CODES = [one.code for one in MEDICINES]
WHENS = {time(8): "MORN", time(12): "NOON", time(18): "EVE"}
CLOCKS = sorted(WHENS)
NO_FACTS: Mapping[str, Fact] = {}
_CYCLE = 21  # days
LASTS = date(2027, 6, 30)
OUT = {Stage.HANDED_OVER, Stage.RECEIVED, Stage.IN_USE}
REPLACED = {"afresh", "move"}
EXAMPLES = int(os.environ.get("DOSEWRIGHT_CHANGE_EXAMPLES", "20"))
STEPS = {"rules": 0, "steps": 0, "decided": 0, "done": 0, "back": 0, "changes": 0}

_counts = st.sampled_from([Fraction(1, 2), Fraction(1), Fraction(3, 2), Fraction(2)])


@dataclass
class Said:
    """An order as the model has it: so much at one clock time every day, from a moment until a moment."""

    id: str
    code: MedicineCode
    clock: time
    count: Fraction
    since: Moment
    until: Moment | None = None

    def asks(self, day: date, clock: time) -> Fraction:
        when = Moment(day, clock)
        counts = clock == self.clock and self.since <= when and (self.until is None or when < self.until)
        return self.count if counts else Fraction(0)

    def as_order(self) -> Order:
        return order(self.id, self.code, dosage(self.count, WHENS[self.clock]), since=self.since, until=self.until)


class Changes(RuleBasedStateMachine):
    """One person, three medicines, cycles of three weeks on weekly cards, or on cards of several weeks."""

    def __init__(self) -> None:
        super().__init__()
        self.now = Moment(MONDAY, time(7))
        self.said: list[Said] = []
        self.cards: dict[CardNumber, Card] = {}
        self.events: dict[CardNumber, list[CardEvent]] = {}
        self.states: dict[CardNumber, CardState] = {}
        self.lying: dict[tuple[CardNumber, int, int, MedicineCode], Fraction] = {}  # the model's own: what lies in which cavity
        self.moves: list[Movement] = []
        self.stock = dict.fromkeys(CODES, Fraction(2000))
        self.elsewhere = dict.fromkeys(CODES, Fraction(0))
        self.before: tuple[Order, ...] | None = None  # of the open change
        self.waiting = False
        self.tasks: dict[CardNumber, CardTask] = {}
        self.numbered = 0
        self.last_planned = MONDAY - timedelta(days=1)
        for code, clock in ((CODES[0], time(8)), (CODES[1], time(8)), (CODES[1], time(18)), (CODES[2], time(12))):
            self._say(code, clock, Fraction(1), Moment(MONDAY))
        self._plan_cycle()

    # What the model asks.

    def _say(self, code: MedicineCode, clock: time, count: Fraction, since: Moment) -> None:
        self.numbered += 1
        self.said.append(Said(f"o{self.numbered}", code, clock, count, since))

    def _orders(self) -> tuple[Order, ...]:
        return tuple(one.as_order() for one in self.said)

    def _asked(self, code: MedicineCode, day: date, clock: time) -> Fraction:
        return sum((one.asks(day, clock) for one in self.said if one.code == code), Fraction(0))

    # Events and movements.

    def _record(self, number: CardNumber, deed: Deed, facts: Mapping[str, Fact] = NO_FACTS, who: str = "ann") -> None:
        at = datetime.combine(self.now.day, self.now.time, UTC) + timedelta(microseconds=STEPS["steps"])
        event = CardEvent(number, deed, Actor(who, who, Role.PHARMACIST), at, StationId("1"), dict(facts))
        self.events[number].append(event)
        self.states[number] = after(self.states[number], event)
        STEPS["steps"] += 1

    def _may(self, number: CardNumber, deed: Deed, *findings: Finding) -> bool:
        return not blocks((*check_follows(self.states[number], deed), *findings))

    def _move(self, movements: Iterable[Movement]) -> None:
        for movement in movements:
            source, destination = ROUTES[movement.kind]
            assert destination is not Place.STOCK or source is Place.OUTSIDE, "R10: something went into stock"
            self.moves.append(movement)
            if source is Place.STOCK:
                self.stock[movement.medicine] -= movement.amount
            if source in {Place.STOCK, Place.CARD} and destination not in {Place.CARD, Place.STOCK}:
                self.elsewhere[movement.medicine] += movement.amount

    def _lay(self, number: CardNumber, cells: dict[Cell, Fraction], code: MedicineCode, sign: int) -> None:
        for cell, amount in cells.items():
            key = (number, cell.row, cell.column, code)
            self.lying[key] = self.lying.get(key, Fraction(0)) + sign * amount
            assert self.lying[key] >= 0, "more left a cavity than lay in it"
            if not self.lying[key]:
                del self.lying[key]

    # Planning.

    def _request(self, first: date, days: int) -> PlanRequest:
        return request(self._orders(), MEDICINES, first=first, days=days, prepared_on=self.now.day, salt=str(len(self.cards)))

    def _add(self, card: Card) -> None:
        self.cards[card.number] = card
        self.events[card.number], self.states[card.number] = [], CardState(card.number)
        self._record(card.number, Deed.PLANNED)
        self._record(card.number, Deed.PRINTED)

    def _plan_cycle(self) -> None:
        first = max(self.last_planned + timedelta(days=1), self.now.day)
        for card in plan_of(self._request(first, _CYCLE)).people[0].cards:
            self._add(card)
        self.last_planned = first + timedelta(days=_CYCLE - 1)

    @rule()
    def next_cycle(self) -> None:
        if self.before is None and (self.last_planned - self.now.day).days <= 6:
            self._plan_cycle()

    # Orders.

    @rule(
        kind=st.sampled_from(["stop", "start", "dose", "dose", "moved"]),
        nth=st.integers(0, 9),
        count=_counts,
        clock=st.sampled_from(CLOCKS),
        ahead=st.integers(-30, 200),
    )
    def change_orders(self, kind: str, nth: int, count: Fraction, clock: time, ahead: int) -> None:
        """Ahead or back by so many hours."""
        at = self._later(ahead)
        before = self._orders()
        live = [one for one in self.said if one.until is None and one.since <= at]
        if kind == "start" or not live:
            self._say(CODES[nth % 3], clock, count, at)
        else:
            one = live[nth % len(live)]
            one.until = at
            if kind != "stop":
                self._say(one.code, clock if kind == "moved" else one.clock, count if kind == "dose" else one.count, at)
        self._mark(before)

    def _later(self, hours: int) -> Moment:
        then = datetime.combine(self.now.day, self.now.time) + timedelta(hours=hours)
        return Moment(then.date(), then.time())

    def _mark(self, before: tuple[Order, ...]) -> None:
        open_cards = [card for number, card in self.cards.items() if not self.states[number].over]
        found = touched(open_cards, Change(before, self._orders(), self.now, self._request(self.now.day, 1).timetable))
        for touch in found:
            self._record(touch.card, Deed.OUT_OF_DATE)
        if found:
            self.before = self.before if self.before is not None else before
            self.waiting = True
            STEPS["changes"] += 1

    # Deciding.

    def _situation(self) -> Situation:
        open_numbers = [number for number, state in self.states.items() if not state.over]
        days = [self.now.day, *(day for n in open_numbers for day in (self.cards[n].first, self.cards[n].last))]
        now = self._request(min(days), (max(days) - min(days)).days + 1)
        cards = tuple(as_open_card(self.cards[n], self.states[n], IRIS, self.now, now.medicines) for n in open_numbers)
        was = replace(now, orders=self.before if self.before is not None else now.orders)
        return Situation(was, now, self.now, self.now, cards, RATES)

    @rule(way=st.integers(0, 3), seed=st.integers(0, 999))
    def decide(self, way: int, seed: int) -> None:
        if not self.waiting:
            return
        case = self._situation()
        layout = lay_out_person(IRIS, case)
        assert not layout.held
        chosen = self._choose(layout, case, way, seed)
        if chosen is None:
            return
        faults = check_layout(chosen, case)
        assert faults == ()
        self._carry_out(chosen)
        self.waiting = False
        STEPS["decided"] += 1

    def _choose(self, layout: PersonLayout, case: Situation, way: int, seed: int) -> PersonLayout | None:
        if way == 3 or layout.left:
            return self._pick(layout, case, seed)
        ways = (layout, *layout.alternatives)
        return ways[way % len(ways)]

    def _pick(self, layout: PersonLayout, case: Situation, seed: int) -> PersonLayout | None:
        picks: list[Pick] = []
        covered: set[CardNumber] = set()
        for number in touched_cards(layout):
            options = [c for c in layout.choices if c.lawful and c.cards == (number,) and c.name is not ChoiceName.MOVE]
            if number not in covered and options:
                choice = options[seed % len(options)]
                seed = seed // 2 + 7
                picks.append(Pick(choice.name, choice.cards))
                covered |= set(choice.cards)
        found, faults = pick(layout, picks, case)
        return None if blocks(faults) or found.left or not _no_card_lacks(found) else found

    def _carry_out(self, layout: PersonLayout) -> None:
        for task in tasks_of(layout):
            if not task.card:
                continue
            for deed, facts in deeds_of_task(task, self.states[task.card], "because", 1):
                self._record(task.card, deed, facts)
            if task.after is not None and task.deed not in {"recall", "wait"}:
                self.cards[task.card] = task.after
            self.tasks[task.card] = task
        laid = {one.card.number: one.card for one in layout.laid}
        for choice in layout.chosen:
            for new in (one for one in choice.laid if one.was is None):
                self._add(laid[new.card.number])

    # The bench.

    @rule(nth=st.integers(0, 20), steps=st.integers(1, 25))
    def work(self, nth: int, steps: int) -> None:
        """The next steps with one of the cards, as far as they may be done."""
        here = [number for number, state in self.states.items() if not state.over and state.stage not in OUT]
        if here:
            number = here[nth % len(here)]
            for _ in range(steps):
                if not self._next(number):
                    break

    @rule(steps=st.integers(20, 60))
    def a_good_day(self, steps: int) -> None:
        """Everything that can be done with any card is done."""
        for number in list(self.cards):
            for _ in range(steps):
                if self.states[number].over or self.states[number].stage in OUT or not self._next(number):
                    break

    @rule(way=st.integers(0, 3), seed=st.integers(0, 999), hours=st.integers(3, 40), days=st.integers(1, 4))
    def days_as_they_should_be(self, way: int, seed: int, hours: int, days: int) -> None:
        """Decided, done, called back and put right, finished; time goes on and the next cycle is planned."""
        for _ in range(days):
            self.decide(way, seed)
            self.a_good_day(60)
            for number in [n for n, s in self.states.items() if s.stage in OUT and not s.missing]:
                if self.states[number].decision == "recall":
                    self._take_back(number)
                elif self.states[number].decision in REPLACED:
                    self._return(number)
            self.a_good_day(60)
            self.finish()
            self.time_passes(hours)
            self.next_cycle()

    def _next(self, number: CardNumber) -> bool:
        state = self.states[number]
        if state.stage in {Stage.CHECKED, Stage.SEALED, Stage.RELEASED} and state.old_labels:
            return self._simple(number, Deed.RELABELLED)
        steps: dict[Stage, Callable[[CardNumber], bool]] = {
            Stage.PLANNED: lambda card: self._simple(card, Deed.PRINTED),
            Stage.PRINTED: self._fill,
            Stage.FILLING: self._fill,
            Stage.FILLED: self._check,
            Stage.CHECKED: lambda card: self._simple(card, Deed.SEALED),
            Stage.SEALED: lambda card: self._simple(card, Deed.RELEASED, *check_filling(self._filled(card))),
            Stage.RELEASED: self._deliver,
        }
        return state.stage in steps and steps[state.stage](number)

    def _deliver(self, number: CardNumber) -> bool:
        self._r9(number)
        return self._simple(number, Deed.HANDED_OVER) and self._simple(number, Deed.RECEIVED)

    def _simple(self, number: CardNumber, deed: Deed, *findings: Finding) -> bool:
        if not self._may(number, deed, *findings):
            return False
        self._record(number, deed)
        return True

    def _filled(self, number: CardNumber) -> FilledCard:
        return lay_filled(self.cards[number], self.states[number].placed)

    def _fill(self, number: CardNumber) -> bool:
        filled = self._filled(number)
        for (code, lot), leaving in to_take_out(filled, self.states[number]).items():
            cells = self._some(leaving)
            findings = check_taking_out(self.states[number], lot, cells, Place.WASTE, "changed")
            if self.states[number].stage is not Stage.FILLING or not self._may(number, Deed.TAKEN_OUT, *findings):
                return False
            self._record(number, Deed.TAKEN_OUT, {"medicine": code, "lot": lot, "cells": format_cells(cells)})
            self._move(taking_out_movements(number, code, lot, cells, Place.WASTE))
            self._lay(number, cells, code, -1)
            return True
        for code in CODES:
            cells = self._some({cell: asked.amount for cell, asked in still_open([filled], code).items()})
            if cells:
                if not self._may(number, Deed.PLACED):
                    return False
                lot = Lot(f"{code}-1")
                self._record(number, Deed.PLACED, {"medicine": code, "lot": lot, "expiry": LASTS, "cells": format_cells(cells)})
                self._move(placing_movements(cells, Batch(LASTS, lot, code)))
                self._lay(number, cells, code, 1)
                return True
        return self._simple(number, Deed.FILLED, *check_filling(self._filled(number)))

    @staticmethod
    def _some(cells: dict[Cell, Fraction]) -> dict[Cell, Fraction]:
        """One to six of them: a hand stops anywhere."""
        return dict(sorted(cells.items())[: STEPS["steps"] % 6 + 1])

    def _check(self, number: CardNumber) -> bool:
        """The checker counts what the model knows to lie there."""
        card, state = self.cards[number], self.states[number]
        assert blocks(check_same_hands(state.fillers, "ann", Alone(allowed=False, reason="", last_touched=_NOON, now=_NOON)))
        spots = {(cavity.row, cavity.column) for cavity in card.cavities} | state.disturbed
        counts = {spot: sum((self.lying.get((number, *spot, code), Fraction(0)) for code in CODES), Fraction(0)) for spot in spots}
        opened = {spot: {code: self.lying.get((number, *spot, code), Fraction(0)) for code in CODES} for spot in state.disturbed}
        filled = self._filled(number)
        found = (*check_counts(filled, counts), *check_filling(filled), *check_disturbed(filled, state.disturbed, opened))
        if not self._may(number, Deed.CHECKED, *found):
            return False
        self._record(number, Deed.CHECKED, who="ben")
        return True

    def _r9(self, number: CardNumber) -> None:
        """A released card that the model finds wrong is held, or waits with a reason."""
        state = self.states[number]
        if not self._is_right(number) and state.decision != "wait":
            assert state.out_of_date or self._only_elsewhere(number), "R9: a card that is wrong may leave"

    def _is_right(self, number: CardNumber) -> bool:
        """Whether no cavity from now on holds more of anything than is asked then."""
        return all(
            amount <= self._asked(code, cavity.day, cavity.time)
            for cavity in self.cards[number].cavities
            if Moment(cavity.day, cavity.time) >= self.now
            for code in CODES
            for amount in (self.lying.get((number, cavity.row, cavity.column, code), Fraction(0)),)
        )

    def _only_elsewhere(self, number: CardNumber) -> bool:
        return self.states[number].decision in REPLACED

    # The home.

    @rule(hours=st.integers(1, 30))
    def time_passes(self, hours: int) -> None:
        """Every dose that falls due is given from cards that are out and may be given from."""
        then = self._later(hours)
        for number in [n for n, s in self.states.items() if s.stage in {Stage.RECEIVED, Stage.IN_USE} and not s.missing]:
            if self.states[number].decision not in {"recall", *REPLACED}:
                self._give(number, then)
        self.now = then

    def _give(self, number: CardNumber, then: Moment) -> None:
        for cavity in self.cards[number].cavities:
            if self.now <= Moment(cavity.day, cavity.time) < then:
                gone = {code: self.lying.pop((number, cavity.row, cavity.column, code), Fraction(0)) for code in CODES}
                for code, amount in gone.items():
                    self.given_unwritten[number, cavity.row, cavity.column, code] = amount
                STEPS["steps"] += 1

    @property
    def given_unwritten(self) -> dict[tuple[CardNumber, int, int, MedicineCode], Fraction]:
        """Given at the home; no event says so until the card is here and counted."""
        if not hasattr(self, "_given"):
            self._given: dict[tuple[CardNumber, int, int, MedicineCode], Fraction] = {}
        return self._given

    @rule(nth=st.integers(0, 9), back=st.booleans())
    def comes_back(self, nth: int, back: bool) -> None:  # noqa: FBT001
        """Called back to be put right, or returned and destroyed; counted as the model knows it to be."""
        out = [number for number, state in self.states.items() if state.stage in {Stage.RECEIVED, Stage.IN_USE} and not state.missing]
        if not out:
            return
        number = out[nth % len(out)]
        state = self.states[number]
        if state.decision == "recall" and back and self._may(number, Deed.CAME_BACK):
            self._take_back(number)
        elif self.cards[number].last < self.now.day or state.decision in REPLACED:
            self._return(number)

    def _counted(self, number: CardNumber) -> dict[Cell, Fraction]:
        left = {key: amount for key, amount in self.lying.items() if key[0] == number}
        counted: dict[Cell, Fraction] = {}
        for units in self.states[number].placed:
            key = (number, units.cell.row, units.cell.column, units.medicine)
            there = min(left.get(key, Fraction(0)), units.amount)
            left[key] = left.get(key, Fraction(0)) - there
            counted[units.cell] = counted.get(units.cell, Fraction(0)) + there
        return counted

    def _take_back(self, number: CardNumber) -> None:
        card, state, counted = self.cards[number], self.states[number], self._counted(number)
        recorded = frozenset((row, column) for one, row, column, _ in self.given_unwritten if one == number)
        found = reconcile(number, card.cavities, state.placed, Returned(counted, recorded), self.now)
        assert all(one.severity is Severity.NOTE for one in found), "the record agrees with the count"
        self._move(came_back_movements(state, counted))
        self._forget_given(number)
        self._record(number, Deed.CAME_BACK, {"cells": format_cells(counted)})
        case = self._situation()
        layout = lay_out_person(IRIS, case)
        choice = next((one for one in layout.choices if one.cards == (number,) and one.name is ChoiceName.OPEN and one.lawful), None)
        STEPS["back"] += 1
        if choice is None:
            self.waiting = self.before is not None
            return
        self._put_right(number, layout, choice)

    def _put_right(self, number: CardNumber, layout: PersonLayout, choice: Choice) -> None:
        task = next(one for one in tasks_of(replace(layout, chosen=(choice,), laid=choice.laid)) if one.card == number)
        for deed, facts in deeds_of_task(task, self.states[number], "because", 1):
            self._record(number, deed, facts)
        if task.after is not None:
            self.cards[number] = task.after

    def _return(self, number: CardNumber) -> None:
        state, counted = self.states[number], self._counted(number)
        if self._may(number, Deed.RETURNED):
            self._move(returning_movements(state, counted))
            for key in [key for key in self.lying if key[0] == number]:
                del self.lying[key]
            self._forget_given(number)
            self._record(number, Deed.RETURNED, {"cells": format_cells(counted)})
            self._move(destroying_movements(self.states[number]))
            self._record(number, Deed.DESTROYED)

    def _forget_given(self, number: CardNumber) -> None:
        for key in [key for key in self.given_unwritten if key[0] == number]:
            del self.given_unwritten[key]

    @rule(nth=st.integers(0, 9))
    def destroy(self, nth: int) -> None:
        """What was withdrawn goes to waste."""
        done = [number for number, state in self.states.items() if state.stage is Stage.WITHDRAWN]
        if done and self._may(done[nth % len(done)], Deed.DESTROYED):
            number = done[nth % len(done)]
            self._move(destroying_movements(self.states[number]))
            self._record(number, Deed.DESTROYED)
            for key in [key for key in self.lying if key[0] == number]:
                del self.lying[key]

    @rule(nth=st.integers(0, 40))
    def lost_or_found(self, nth: int) -> None:
        numbers = [number for number, state in self.states.items() if not state.over]
        if nth < len(numbers):
            number = numbers[nth]
            self._simple(number, Deed.FOUND if self.states[number].missing else Deed.NOT_FOUND)

    @rule()
    def killed_and_taken_up_again(self) -> None:
        """Nothing but the events is left of the work."""
        assert {number: state_of(number, events) for number, events in self.events.items()} == self.states

    # Done.

    @rule()
    def finish(self) -> None:
        if self.before is None or self.waiting:
            return
        case = self._situation()
        self._renew(lay_out_person(IRIS, case))
        stored = [(self.cards[number], state) for number, state in self.states.items() if not state.over]
        recount = count_again(IRIS, stored, case, ())
        if blocks(check_done(IRIS.id, (state for _, state in stored), recount)):
            return
        self._everything_is_right()
        self.before, self.tasks = None, {}
        STEPS["done"] += 1

    def _renew(self, layout: PersonLayout) -> None:
        for task in renewed(layout, self.states):
            for deed, facts in deeds_of_task(task, self.states[task.card], "renewed", 1):
                self._record(task.card, deed, facts)
            if task.after is not None:
                self.cards[task.card] = task.after

    def _everything_is_right(self) -> None:
        """R1, R3, R17 by the model alone: over all cards that count, each dose from now on is there once, and nothing else is."""
        counting = [n for n, s in self.states.items() if not s.over and s.decision not in REPLACED and self.cards[n].last >= self.now.day]
        waiting = [n for n in counting if self.states[n].decision == "wait"]
        days = {
            self.cards[n].first + timedelta(days=k)
            for n in counting
            for k in range((self.cards[n].last - self.cards[n].first).days + 1)
            if self.cards[n].first + timedelta(days=k) >= self.now.day
        }
        for day in sorted(days):
            if any(self.cards[n].first <= day <= self.cards[n].last for n in waiting):
                continue
            for clock in (clock for clock in CLOCKS if Moment(day, clock) >= self.now):
                for code in CODES:
                    assert self._there(counting, code, day, clock) == self._asked(code, day, clock), (code, day, clock)

    def _there(self, numbers: list[CardNumber], code: MedicineCode, day: date, clock: time) -> Fraction:
        """In cavities of the day and time: what lies there; where a card is not filled yet, what is planned."""
        total = Fraction(0)
        for number in numbers:
            state = self.states[number]
            planned = state.stage in {Stage.PLANNED, Stage.PRINTED, Stage.FILLING} and not state.disturbed
            for cavity in (c for c in self.cards[number].cavities if (c.day, c.time) == (day, clock)):
                if planned:
                    total += sum((c.quantity.count for c in cavity.contents if c.medicine == code), Fraction(0))
                else:
                    total += self.lying.get((number, cavity.row, cavity.column, code), Fraction(0))
        return total

    # What holds after every step.

    @invariant()
    def r11_every_unit_is_somewhere(self) -> None:
        STEPS["rules"] += 1
        for code in CODES:
            there = sum((amount for key, amount in self.lying.items() if key[3] == code), Fraction(0))
            given = sum((amount for key, amount in self.given_unwritten.items() if key[3] == code), Fraction(0))
            assert self.stock[code] + there + given + self.elsewhere[code] == 2000, code

    @invariant()
    def r2_what_the_events_say_lies_there_is_what_the_model_laid(self) -> None:
        for number, state in self.states.items():
            if state.over:
                continue
            held: dict[tuple[CardNumber, int, int, MedicineCode], Fraction] = {}
            for units in state.placed:
                key = (number, units.cell.row, units.cell.column, units.medicine)
                held[key] = held.get(key, Fraction(0)) + units.amount
            mine = {key: amount for key, amount in self.lying.items() if key[0] == number}
            for key, amount in self.given_unwritten.items():
                if key[0] == number and amount:
                    mine[key] = mine.get(key, Fraction(0)) + amount
            assert held == mine, number

    @invariant()
    def r9_what_is_out_of_date_goes_no_further(self) -> None:
        for number, state in self.states.items():
            latest = self.events[number][-1]
            brings_nearer = {Deed.CHECKED, Deed.SEALED, Deed.RELEASED, Deed.HANDED_OVER, Deed.PLACED, Deed.FILLED}
            assert not (state.out_of_date and latest.deed in brings_nearer)
            assert not (state.old_labels and latest.deed in {Deed.SEALED, Deed.RELEASED, Deed.HANDED_OVER})


_NOON = datetime(2026, 3, 2, 12, tzinfo=UTC)


def _no_card_lacks(layout: PersonLayout) -> bool:
    """Whether no dose has been left without a place."""
    return not any(found.code == "rework.no-card" for found in layout.findings)


def test_changes_leave_every_card_right_or_held_or_waiting_with_a_reason() -> None:
    for name in STEPS:
        STEPS[name] = 0
    run_state_machine_as_test(Changes, settings=settings(max_examples=EXAMPLES, stateful_step_count=40, deadline=None))
    print(STEPS)
    assert all(STEPS[name] for name in ("decided", "done", "back"))  # the draws reach every part of it

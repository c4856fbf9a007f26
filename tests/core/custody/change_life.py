"""One person's cards through orders that change, deed by deed, each drawn from a seed of its own; what holds is checked after each step.

A step is one thing that somebody does: an order changed, a decision carried out, an event of a card, a dosing time given from a card, work
taken up again from its events. What does nothing is no step. `change_model` says what should be; nothing of the code is asked for it.
"""

from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from fractions import Fraction
from functools import lru_cache
from random import Random

from tests.core.custody.change_model import Model, Said, Spot, When, halves
from tests.core.packing.makers import IRIS, MONDAY, dosage, medicine, order, profile, request
from tests.core.rework.rework_makers import RATES

from dosewright.core.checking.counts import check_counts
from dosewright.core.checking.disturbed import check_disturbed
from dosewright.core.checking.filled import FilledCard
from dosewright.core.checking.filled import lay_out as lay_filled
from dosewright.core.checking.filling import check_filling
from dosewright.core.checking.same_hands import Alone, check_same_hands
from dosewright.core.checking.still_open import still_open
from dosewright.core.custody.cells import format_cells
from dosewright.core.custody.changing import ChangeStanding, check_done, check_withdrawing, is_part_done, waits_for
from dosewright.core.custody.counting_again import count_again
from dosewright.core.custody.event import Actor, CardEvent, Deed, Role
from dosewright.core.custody.follow import check_follows
from dosewright.core.custody.reconciling import Returned, reconcile
from dosewright.core.custody.returning import came_back_movements, destroying_movements, returning_movements
from dosewright.core.custody.reworking import deeds_of_past, deeds_of_task, others_stay, renewed, to_take_out
from dosewright.core.custody.stage import Stage
from dosewright.core.custody.state import CardState, after, state_of
from dosewright.core.custody.taking_out import check_taking_out, taking_out_movements
from dosewright.core.custody.whereabouts import as_open_card
from dosewright.core.medicines.medicine import Size
from dosewright.core.packing.plan import plan_cycle
from dosewright.core.packing.plan_values import Card
from dosewright.core.packing.request import PlanRequest
from dosewright.core.regimen.dosage import Dosage
from dosewright.core.regimen.order import Order
from dosewright.core.rework.choices import ChoiceName
from dosewright.core.rework.layout import PersonLayout, lay_out_person
from dosewright.core.rework.picked import Pick, pick, touched_cards
from dosewright.core.rework.proof import check_layout
from dosewright.core.rework.situation import Situation
from dosewright.core.rework.tasks import tasks_of
from dosewright.core.rework.touched import Change, touched
from dosewright.core.supply.movement import ROUTES, Batch, Movement, Place
from dosewright.core.supply.placement import Cell, Placed
from dosewright.core.supply.placing import placing_movements
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Fact, Finding, Severity, blocks
from dosewright.core.units.ids import CardNumber, Lot, MedicineCode, StationId

# Of the second no three go into one cavity, so that limits bind; the last is the first of another maker, which takes its place and back.
MEDICINES = [
    medicine("Bisoprolol"),
    medicine("Metformin", Size(Fraction(16), Fraction(16), Fraction(6))),
    medicine("Levothyroxine"),
    medicine("Bisoprolol Two"),
]
CODES = [one.code for one in MEDICINES]
VOLUMES = dict.fromkeys(CODES, 160) | {CODES[1]: 1206}  # mm³ rounded down: discs of 8 by 3.2 and of 16 by 6 mm, by hand
SWAPPED: dict[str, str] = {CODES[0]: CODES[3], CODES[3]: CODES[0]}
WHENS = {time(8): "MORN", time(12): "NOON", time(18): "EVE"}
CLOCKS = sorted(WHENS)
RECEIVED = 10**6  # half tablets of each
LASTS = date(2030, 6, 30)
BUD_DAYS = 60
OUT = {Stage.HANDED_OVER, Stage.RECEIVED, Stage.IN_USE}
REPLACED = {"afresh", "move"}
FULL = {Stage.FILLED, Stage.CHECKED, Stage.SEALED, Stage.RELEASED} | OUT
CLOSED = {Stage.CHECKED, Stage.SEALED, Stage.RELEASED} | OUT
NEARER = {Deed.CHECKED, Deed.SEALED, Deed.RELEASED, Deed.HANDED_OVER, Deed.PLACED, Deed.FILLED}
COUNTS = [Fraction(1, 2), Fraction(1), Fraction(3, 2), Fraction(2)]
_ONWARD = {Stage.CHECKED: Deed.SEALED, Stage.SEALED: Deed.RELEASED, Stage.RELEASED: Deed.HANDED_OVER}
NO_FACTS: Mapping[str, Fact] = {}
_NOON = datetime(2026, 3, 2, 12, tzinfo=UTC)
DEEDS = {  # what a day brings, and how often
    "change_orders": 5,
    "withdraw": 1,
    "decide": 3,
    "work": 10,
    "a_good_day": 3,
    "days_as_they_should_be": 4,
    "time_passes": 5,
    "comes_back": 3,
    "destroy": 2,
    "lost_or_found": 1,
    "killed_and_taken_up_again": 1,
    "finish": 2,
    "next_cycle": 3,
}
KINDS = ["stop", "start", "dose", "dose", "moved", "swapped", "suspended", "resumed", "replaced", "again", "sooner", "twice"]


class Life:
    """One person, four medicines, cycles of two or three weeks on cards of one week or of several."""

    def __init__(self, seed: int = 0) -> None:
        self.random = Random(seed)  # noqa: S311 - reproducible cases, nothing secret
        self.steps: Counter[str] = Counter()
        self.model = Model(dict.fromkeys(CODES, RECEIVED))
        self.now: When = (MONDAY, time(7))
        self.cards: dict[CardNumber, Card] = {}
        self.events: dict[CardNumber, list[CardEvent]] = defaultdict(list)
        self.states: dict[CardNumber, CardState] = {}
        self.whens: dict[CardNumber, dict[Spot, When]] = {}
        self.before: tuple[Order, ...] | None = None  # of the open change
        self.earlier: list[Said] = []  # what the model's orders were then
        self.plans: dict[CardNumber, dict[tuple[When, str], int]] = {}  # what each card is to hold, half tablets by moment
        self._checked: dict[CardNumber, tuple[Card, bool, bool]] = {}  # what R1 was last counted with
        self._orders_said: tuple[Order, ...] = ()
        self._orders_checked: tuple[Order, ...] = ()
        self._in_hand = 0  # transactions begun and not ended
        self._counted_of: dict[CardNumber, tuple[tuple[Placed, ...] | None, dict[tuple[Spot, str], int]]] = {}
        self.waiting = False
        self.numbered = 0
        self.last_planned = MONDAY - timedelta(days=1)
        self.cycle = self.random.choice([14, 21])
        self.profile = profile(weeks_a_card_max=self.random.choice([1, 1, 4]), bud_max_days=BUD_DAYS)
        for code, clock in ((CODES[0], time(8)), (CODES[1], time(8)), (CODES[1], time(18)), (CODES[2], time(12))):
            if self.random.random() < 0.8:
                self._say(code, clock, self.random.choice(COUNTS), (MONDAY, time(0)))
        self._plan_cycle()

    def do(self, deed: str, seed: int) -> None:
        """One deed of `DEEDS`; all that it draws comes from its own seed, so that leaving others out changes nothing in it."""
        self.random = Random(seed)  # noqa: S311 - reproducible cases, nothing secret
        getattr(self, deed)()

    @property
    def stepped(self) -> int:
        return sum(self.steps.values())

    # Orders.

    def _say(self, code: str, clock: time, count: Fraction, since: When) -> None:
        self.numbered += 1
        self.model.said.append(Said(f"o{self.numbered}", code, clock, count, since))

    def _orders(self) -> tuple[Order, ...]:
        orders = tuple(_order((one.id, one.code, one.clock, one.count, one.since, one.until)) for one in self.model.said)
        if orders != self._orders_said:
            self._orders_said = orders
            self.model.orders_changed()
        return orders

    def _request(self, first: date, days: int) -> PlanRequest:
        return request(
            self._orders(),
            MEDICINES,
            first=first,
            days=days,
            prepared_on=self.now[0],
            salt=str(len(self.cards)),
            profile=self.profile,
        )

    def change_orders(self) -> None:
        """Of every kind; ahead or back by some hours; the same twice; an end that comes sooner than was said before."""
        at = self._later(self.random.choice([0, 0, 5, -12, -30, 24, 60, 200]))
        before, was = self._orders(), [replace(one) for one in self.model.said]
        kind = self.random.choice(KINDS)
        self._change(kind, at)
        now = self._orders()
        if now != before:
            self._mark(before, was)
            self._step(f"orders {kind}")

    def _change(self, kind: str, at: When) -> None:
        live = [one for one in self.model.said if one.until is None and one.since <= at]
        one = self.random.choice(live) if live else None
        if kind == "replaced":
            self._end(live, at)
            for _ in range(self.random.randint(1, 3)):
                self._start(at)
        elif kind == "suspended":
            self._end(live, at)
        elif kind == "resumed":
            for ended in [e for e in self.model.said if e.until is not None and e.until <= at][-3:]:
                if not any(e.code == ended.code and e.until is None for e in self.model.said):
                    self._say(ended.code, ended.clock, ended.count, at)
        elif kind == "sooner":
            ending = [e for e in self.model.said if e.until is not None and e.until > self.now and e.since < at < e.until]
            self._end(ending[:1], at)
        elif kind == "start" or one is None:
            self._start(at)
        else:
            self._end([one], at)
            self._instead(kind, one, at)

    def _instead(self, kind: str, one: Said, at: When) -> None:
        count = self.random.choice(COUNTS) if kind in {"dose", "twice"} else one.count
        clock = self.random.choice(CLOCKS) if kind == "moved" else one.clock
        code = SWAPPED.get(one.code, one.code) if kind == "swapped" else one.code
        if kind != "stop":
            self._say(code, clock, count, at)
        if kind == "twice":  # the same change comes once more, by another prescription
            self._end([self.model.said[-1]], at)
            self._say(code, clock, count, at)

    def _start(self, at: When) -> None:
        if sum(one.until is None for one in self.model.said) < 6:
            self._say(self.random.choice(CODES), self.random.choice(CLOCKS), self.random.choice(COUNTS), at)

    def _end(self, said: Iterable[Said], at: When) -> None:
        for one in said:
            one.until = max(at, one.since)

    def withdraw(self) -> None:
        """Everything that came since the change was taken is taken back, where no card was opened for it."""
        if self.before is None:
            return
        found = check_withdrawing(1, ChangeStanding.WAITING, self.states.values(), "by mistake")
        begun = any(is_part_done(state) for state in self.states.values())
        assert not begun or blocks(found), "a change for which a card was opened is taken back as if nothing had been done"
        if blocks(found):
            return
        before, was = self._orders(), [replace(one) for one in self.model.said]
        self.model.said = [replace(one) for one in self.earlier]
        if self._orders() != before:
            self._mark(before, was)
            self._step("withdrawn")

    def _later(self, hours: int) -> When:
        then = datetime.combine(*self.now) + timedelta(hours=hours)
        return then.date(), then.time()

    def _mark(self, before: tuple[Order, ...], was: list[Said]) -> None:
        open_cards = [card for number, card in self.cards.items() if not self.states[number].over]
        change = Change(before, self._orders(), Moment(*self.now), _TIMETABLE)
        found = touched([card for card in open_cards if self.states[card.number].decision not in REPLACED], change)
        also = found or touched(open_cards, change)
        if also and self.before is None:
            self.before, self.earlier = before, was
        for touch in found:
            self._record(touch.card, Deed.OUT_OF_DATE)
        self.waiting = self.waiting or bool(also)
        for card in open_cards:
            self._check_card(card.number)

    # Events and movements.

    def _record(self, number: CardNumber, deed: Deed, facts: Mapping[str, Fact] = NO_FACTS, who: str = "ann") -> None:
        """The event alone; `_step` follows when all that belongs to the deed is done."""
        at = datetime.combine(*self.now, UTC) + timedelta(microseconds=len(self.events[number]))
        event = CardEvent(number, deed, Actor(who, who, Role.PHARMACIST), at, StationId("1"), dict(facts))
        self.events[number].append(event)
        self.states[number] = after(self.states[number], event)

    def _step(self, what: str, number: CardNumber | None = None) -> None:
        """Count it, and check what it may have broken."""
        self.steps[what] += 1
        self.model.check_conserved(RECEIVED)
        if number is not None:
            self._check_card(number)
        self._check_days()

    def _deed(self, number: CardNumber, deed: Deed, facts: Mapping[str, Fact] = NO_FACTS, who: str = "ann") -> None:
        self._record(number, deed, facts, who)
        self._step(deed.value, number)

    def _decided(self, number: CardNumber, deeds: Iterable[tuple[Deed, dict[str, Fact]]]) -> None:
        """What is recorded about the card in one go; one step, whatever it is made of."""
        done = list(deeds)
        for deed, facts in done:
            self._record(number, deed, facts)
        if done:
            self._step(done[-1][0].value, number)

    def _simple(self, number: CardNumber, deed: Deed, *findings: Finding) -> bool:
        if not self._may(number, deed, *findings):
            return False
        self._deed(number, deed)
        return True

    def _may(self, number: CardNumber, deed: Deed, *findings: Finding) -> bool:
        return not blocks((*check_follows(self.states[number], deed), *findings))

    def _move(self, movements: Iterable[Movement]) -> None:
        for movement in movements:
            source, destination = ROUTES[movement.kind]
            assert destination is not Place.STOCK or source is Place.OUTSIDE, "R10: something went into stock"
            if source is Place.STOCK:
                self.model.stock[movement.medicine] -= halves(movement.amount)
            if source in {Place.STOCK, Place.CARD} and destination not in {Place.CARD, Place.STOCK}:
                self.model.gone[movement.medicine] += halves(movement.amount)

    # What holds after every step.

    def _check_card(self, number: CardNumber) -> None:
        state, latest = self.states[number], self.events[number][-1].deed
        assert not (state.out_of_date and latest in NEARER), "R9: a card that is out of date went further"
        assert not (state.old_labels and latest in {Deed.SEALED, Deed.RELEASED, Deed.HANDED_OVER}), "a void label left"
        if state.over:
            return
        assert self._held(state) == self.model.in_events(number), "R2, R11: the events say otherwise than what was laid"
        if not _excused(state):
            self._check_against_plan(number, state)
            if state.stage in CLOSED:
                self._check_nothing_wrong_lies_in(number)

    def _held(self, state: CardState) -> dict[tuple[Spot, str], int]:
        """What the events say lies in the card; counted anew only where another event changed it."""
        placed, held = self._counted_of.get(state.number, (None, {}))
        if placed is not state.placed:
            held = {}
            for units in state.placed:
                key = ((units.cell.row, units.cell.column), str(units.medicine))
                held[key] = held.get(key, 0) + halves(units.amount)
            self._counted_of[state.number] = (state.placed, held)
        return held

    def _check_against_plan(self, number: CardNumber, state: CardState) -> None:
        """R1, R2, R3 of one card from now on: filled, it holds what it is to hold, and what was given since counts with it; while it is
        being filled no more than that, where it was not opened."""
        there: dict[tuple[When, str], int] = {}
        whens, filling = self.whens[number], state.stage not in FULL
        for (spot, code), amount in self._held(state).items():
            when = whens[spot]
            if when >= self.now and not (filling and spot in state.disturbed):
                there[when, code] = there.get((when, code), 0) + amount
        plan = self.plans[number]
        if filling:
            assert all(amount <= plan.get(key, 0) for key, amount in there.items()), "R2: more was laid than is to lie there"
        else:
            assert there == {key: amount for key, amount in plan.items() if key[0] >= self.now}, (
                "R1, R3: a filled card holds something else"
            )

    @contextmanager
    def _in_one_go(self) -> Iterator[None]:
        """One transaction, of several steps: what holds of all cards together holds when it ends."""
        self._in_hand += 1
        yield
        self._in_hand -= 1
        self._check_days()

    def _check_days(self) -> None:
        """R1, R3, R17 after every step, on the days that it may have changed: those of cards with another plan or standing than before,
        all of them where orders changed. Each dose from now on is in the plans of that day's cards once, and nothing else is; or one
        of these cards is held, waits, or is called back, and said to be."""
        if self._in_hand:
            return
        stirred: set[date] = set()
        anew = self._orders_checked is not self._orders_said
        self._orders_checked = self._orders_said
        for number, card in self.cards.items():
            state = self.states[number]
            counts, excused = not state.over and state.decision not in REPLACED, _excused(state)
            seen = self._checked.get(number)
            if anew or seen is None or seen[0] is not card or seen[1:] != (counts, excused):
                self._checked[number] = (card, counts, excused)
                stirred.update(card.first + timedelta(days=n) for n in range((card.last - card.first).days + 1))
        for day in stirred:
            if day >= self.now[0]:
                self._check_day(day)

    def _check_day(self, day: date) -> None:
        counting = [n for n, (card, counts, _) in self._checked.items() if counts and card.first <= day <= card.last]
        if not counting or any(self._checked[number][2] for number in counting):
            return
        for when in ((day, clock) for clock in CLOCKS if (day, clock) >= self.now):
            for code in CODES:
                planned, asked = sum(self.plans[number].get((when, code), 0) for number in counting), self.model.asked(code, when)
                assert planned == asked, f"R1, R3, R17: {code} of {when}: {planned} halves, not {asked}"

    def _check_nothing_wrong_lies_in(self, number: CardNumber) -> None:
        """R2, R9: of no medicine is more in a cavity than is asked then; or the card would be held, or wait with a reason."""
        for spot, code, amount in self.model.held(number):
            when = self.whens[number][spot]
            if when >= self.now:
                assert amount <= self.model.asked(code, when), f"R9: {number} may leave with {code} of {when} wrong"

    def _check_limits(self, card: Card, *, planned: bool) -> None:
        """R4, R5 by hand: 3,240 mm³ usable, eight pieces, 60 days. `planned`: all of it is laid in from today on."""
        for cavity in card.cavities:
            volume = sum((VOLUMES[c.medicine] * c.quantity.count for c in cavity.contents), Fraction(0))
            sums = {c.medicine: 0 for c in cavity.contents}
            for content in cavity.contents:  # two halves of one medicine, though of two orders, are laid as one piece
                sums[content.medicine] += halves(content.quantity.count)
            pieces = sum(-(-amount // 2) for amount in sums.values())
            assert volume <= 3240, "R4: a cavity is too full"
            assert pieces <= 8, "R4: too many pieces"
            assert (cavity.day, cavity.time) < self.now or cavity.day <= min(card.beyond_use, LASTS), "R5: a dose after the last day"
        assert not planned or card.beyond_use <= self.now[0] + timedelta(days=BUD_DAYS), "R5: kept for too long"

    def check_everything(self) -> None:
        """R1, R3, R17 by the model alone: over all cards that count, each dose from now on is there once, and nothing else is."""
        counting = [n for n, s in self.states.items() if not s.over and s.decision not in REPLACED and self.cards[n].last >= self.now[0]]
        there: dict[tuple[When, str], int] = defaultdict(int)
        days: set[date] = set()
        waits: set[date] = set()
        for number in counting:
            card = self.cards[number]
            mine = {card.first + timedelta(days=n) for n in range((card.last - card.first).days + 1)}
            days |= mine
            waits |= mine if self.states[number].decision == "wait" else set()
            for when, code, amount in self._what_counts_in(number):
                there[when, code] += amount
        for day in (day for day in days - waits if day >= self.now[0]):
            for when in ((day, clock) for clock in CLOCKS if (day, clock) >= self.now):
                for code in CODES:
                    found, asked = there.pop((when, code), 0), self.model.asked(code, when)
                    assert found == asked, f"R1, R3, R17: {code} of {when}: {found}, not {asked}"
        wrong = [key for key, amount in there.items() if amount and key[0] >= self.now and key[0][0] not in waits]
        assert not wrong, f"R2: {wrong[0]} lies where nothing is asked"

    def _what_counts_in(self, number: CardNumber) -> Iterable[tuple[When, str, int]]:
        """What lies in the card; where it is not filled yet, what is planned."""
        state = self.states[number]
        if state.stage in {Stage.PLANNED, Stage.PRINTED, Stage.FILLING} and not state.disturbed:
            return _asked_of(self.cards[number])
        return ((self.whens[number][spot], code, amount) for spot, code, amount in self.model.held(number))

    # Planning.

    def _put(self, card: Card, *, planned: bool) -> None:
        """The card as it is to be from now on."""
        self._check_limits(card, planned=planned)
        self.cards[card.number] = card
        plan = self.plans[card.number] = {}
        for when, code, amount in _asked_of(card):
            assert when[1] in WHENS, "R2: a dose lies at no dosing time"
            plan[when, code] = plan.get((when, code), 0) + amount
        self.whens.setdefault(card.number, {}).update(
            {(row, column.column): (column.first + timedelta(days=row - 1), column.time) for column in card.columns for row in range(1, 8)}
        )

    def _add(self, card: Card) -> None:
        assert card.number not in self.cards, "a card's number came twice"
        self._put(card, planned=True)
        self.states[card.number] = CardState(card.number)
        self._deed(card.number, Deed.PLANNED)
        self._deed(card.number, Deed.PRINTED)

    def _plan_cycle(self) -> None:
        first = max(self.last_planned + timedelta(days=1), self.now[0])
        over = [number for number, state in self.states.items() if state.over]
        for number in over:
            del self.cards[number], self.states[number], self.events[number], self.whens[number], self.plans[number]
            self._checked.pop(number, None)
        self.model.said = [one for one in self.model.said if one.until is None or one.until > self._later(-240)]
        self.model.orders_changed()
        with self._in_one_go():
            for card in plan_cycle(self._request(first, self.cycle)).people[0].cards:
                self._add(card)
        self.last_planned = first + timedelta(days=self.cycle - 1)
        self.check_everything()

    def next_cycle(self) -> None:
        if self.before is None and (self.last_planned - self.now[0]).days <= 6:
            self._plan_cycle()

    # Deciding.

    def _situation(self) -> Situation:
        open_numbers = [number for number, state in self.states.items() if not state.over]
        first, last = self._days_of(open_numbers)
        now, at = self._request(first, (last - first).days + 1), Moment(*self.now)
        given_from = [n for n in open_numbers if self.states[n].decision not in REPLACED]
        cards = tuple(as_open_card(self.cards[n], self.states[n], IRIS, at, now.medicines) for n in given_from)
        was = replace(now, orders=self.before if self.before is not None else now.orders)
        return Situation(was, now, at, at, cards, RATES)

    def _days_of(self, numbers: list[CardNumber]) -> tuple[date, date]:
        """Those of the cards, and from today on where one that is over was to have it; none that is to come where there is no card."""
        today, yesterday = self.now[0], self.now[0] - timedelta(days=1)
        first = min((self.cards[n].first for n in numbers), default=yesterday)
        once = numbers and any(card.first <= today <= card.last for card in self.cards.values())
        return min(today, first) if once else first, max((self.cards[n].last for n in numbers), default=yesterday)

    def decide(self) -> None:
        """The best way, another, or a choice of the pharmacist's own for each card."""
        if not self.waiting:
            return
        case = self._situation()
        layout = lay_out_person(IRIS, case)
        assert not layout.held
        chosen = self._choose(layout, case)
        if chosen is None:
            return
        assert check_layout(chosen, case) == ()
        with self._in_one_go():
            self._carry_out(chosen)
        self.waiting = False
        self._step("choice made")

    def _choose(self, layout: PersonLayout, case: Situation) -> PersonLayout | None:
        if self.random.random() < 0.3 or layout.left:
            return self._pick(layout, case)
        return self.random.choice((layout, layout, *layout.alternatives))

    def _pick(self, layout: PersonLayout, case: Situation) -> PersonLayout | None:
        picks: list[Pick] = []
        for number in touched_cards(layout):
            options = [c for c in layout.choices if c.lawful and c.cards == (number,) and c.name is not ChoiceName.MOVE]
            if options:
                choice = self.random.choice(options)
                picks.append(Pick(choice.name, choice.cards))
        found, faults = pick(layout, picks, case)
        lacks = any(one.code == "rework.no-card" for one in found.findings)
        return None if blocks(faults) or found.left or lacks else found

    def _carry_out(self, layout: PersonLayout) -> None:
        for task in tasks_of(layout):
            if task.card:
                moved = task.after is not None and task.deed not in {"recall", "wait"}
                if moved and task.after is not None:
                    self._put(task.after, planned=False)
                self._decided(task.card, deeds_of_task(task, self.states[task.card], "because", 1))
        for number in [number for number, card in self.cards.items() if card.last < self.now[0]]:
            self._decided(number, deeds_of_past(self.cards[number], self.states[number], self.now[0], "because", 1))
        laid = {one.card.number: one.card for one in layout.laid}
        for new in (one for choice in layout.chosen for one in choice.laid if one.was is None):
            card = laid[new.card.number]
            assert all((cavity.day, cavity.time) >= self.now for cavity in card.cavities), "R2: what is past is packed again"
            self._add(card)

    # The bench.

    def work(self) -> None:
        """The next steps with one of the cards, as far as they may be done."""
        here = [number for number, state in self.states.items() if not state.over and state.stage not in OUT]
        if here:
            self._work_on(self.random.choice(here), self.random.randint(1, 25))

    def a_good_day(self) -> None:
        """Everything that can be done with any card is done."""
        for number in list(self.cards):
            self._work_on(number, 120)

    def _work_on(self, number: CardNumber, steps: int) -> None:
        for _ in range(steps):
            if self.states[number].over or self.states[number].stage in OUT or not self._next(number):
                break

    def days_as_they_should_be(self) -> None:
        """Decided, done, called back and put right, finished; time goes on and the next cycle is planned."""
        for _ in range(self.random.randint(1, 4)):
            self.decide()
            self.a_good_day()
            for number in [n for n, s in self.states.items() if s.stage in OUT and not s.missing]:
                if self.states[number].decision == "recall":
                    self._take_back(number)
                elif self.states[number].decision in REPLACED:
                    self._return(number)
            self.a_good_day()
            self.finish()
            self.time_passes()
            self.next_cycle()

    def _next(self, number: CardNumber) -> bool:
        state = self.states[number]
        if state.old_labels and state.stage in _ONWARD:
            assert not self._may(number, _ONWARD[state.stage]), "a void label could leave"
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
        return self._simple(number, Deed.HANDED_OVER) and self._simple(number, Deed.RECEIVED)

    def _filled(self, number: CardNumber) -> FilledCard:
        return lay_filled(self.cards[number], self.states[number].placed)

    def _fill(self, number: CardNumber) -> bool:
        filled, state = self._filled(number), self.states[number]
        if state.decision:
            for (code, lot), leaving in to_take_out(filled, state).items():
                return self._take_out(number, code, lot, self._some(leaving))
        for code in CODES:
            cells = self._some({cell: asked.amount for cell, asked in still_open([filled], code).items()})
            if cells:
                return self._place(number, code, cells)
        return self._simple(number, Deed.FILLED, *check_filling(filled))

    def _take_out(self, number: CardNumber, code: MedicineCode, lot: Lot, cells: dict[Cell, Fraction]) -> bool:
        state = self.states[number]
        findings = check_taking_out(state, lot, cells, Place.WASTE, "changed")
        if state.stage is not Stage.FILLING or not self._may(number, Deed.TAKEN_OUT, *findings):
            return False
        self._record(number, Deed.TAKEN_OUT, {"medicine": code, "lot": lot, "cells": format_cells(cells)})
        self._move(taking_out_movements(number, code, lot, cells, Place.WASTE))
        for cell, amount in cells.items():
            self.model.lay(number, (cell.row, cell.column), code, -halves(amount))
        self._step("taken out", number)
        return True

    def _place(self, number: CardNumber, code: MedicineCode, cells: dict[Cell, Fraction]) -> bool:
        if not self._may(number, Deed.PLACED):
            return False
        lot = Lot(f"{code}-{self.now[0].day % 2}")
        self._record(number, Deed.PLACED, {"medicine": code, "lot": lot, "expiry": LASTS, "cells": format_cells(cells)})
        self._move(placing_movements(cells, Batch(LASTS, lot, code)))
        for cell, amount in cells.items():
            self.model.lay(number, (cell.row, cell.column), code, halves(amount))
        self._step("placed", number)
        return True

    def _some(self, cells: dict[Cell, Fraction]) -> dict[Cell, Fraction]:
        """One to five of them: a hand stops anywhere."""
        return dict(sorted(cells.items())[: self.random.randint(1, 5)])

    def _check(self, number: CardNumber) -> bool:
        """The checker counts what the model knows to lie there."""
        card, state = self.cards[number], self.states[number]
        assert blocks(check_same_hands(state.fillers, "ann", Alone(allowed=False, reason="", last_touched=_NOON, now=_NOON)))
        lying = self.model.lying[number]
        spots = {(cavity.row, cavity.column) for cavity in card.cavities} | state.disturbed
        opened = {spot: {code: Fraction(lying.get((spot, code), 0), 2) for code in CODES} for spot in state.disturbed}
        counts = {spot: Fraction(sum(lying.get((spot, code), 0) for code in CODES), 2) for spot in spots}
        filled = self._filled(number)
        found = (*check_counts(filled, counts), *check_filling(filled), *check_disturbed(filled, state.disturbed, opened))
        if not self._may(number, Deed.CHECKED, *found):
            return False
        self._deed(number, Deed.CHECKED, who="ben")
        return True

    # The home.

    def time_passes(self) -> None:
        """Every dose that falls due is given from cards that are out and may be given from."""
        then = self._later(self.random.randint(1, 60))
        for number in [n for n, s in self.states.items() if s.stage in {Stage.RECEIVED, Stage.IN_USE} and not s.missing]:
            if self.states[number].decision not in {"recall", *REPLACED}:
                self._give(number, then)
        self.now = then

    def _give(self, number: CardNumber, then: When) -> None:
        due: dict[When, list[Spot]] = defaultdict(list)
        for spot, when in self.whens[number].items():
            if self.now <= when < then:
                due[when].append(spot)
        for when in sorted(due):
            if self.model.give(number, due[when]):
                self._step("dosing time given", number)

    def comes_back(self) -> None:
        """Called back to be put right, or returned and destroyed; counted as the model knows it to be."""
        out = [number for number, state in self.states.items() if state.stage in {Stage.RECEIVED, Stage.IN_USE} and not state.missing]
        if not out:
            return
        number = self.random.choice(out)
        decision = self.states[number].decision
        if decision == "recall" and self.random.random() < 0.5 and self._may(number, Deed.CAME_BACK):
            self._take_back(number)
        elif self.cards[number].last < self.now[0] or decision in REPLACED:
            self._return(number)

    def _counted(self, number: CardNumber) -> dict[Cell, Fraction]:
        left = dict(self.model.lying[number])
        counted: dict[Cell, Fraction] = {}
        for units in self.states[number].placed:
            key = ((units.cell.row, units.cell.column), str(units.medicine))
            there = min(left.get(key, 0), halves(units.amount))
            left[key] = left.get(key, 0) - there
            counted[units.cell] = counted.get(units.cell, Fraction(0)) + Fraction(there, 2)
        return counted

    def _take_back(self, number: CardNumber) -> None:
        card, state, counted = self.cards[number], self.states[number], self._counted(number)
        recorded = frozenset(spot for spot, _ in self.model.given[number])
        found = reconcile(number, card.cavities, state.placed, Returned(counted, recorded), Moment(*self.now))
        assert all(one.severity is Severity.NOTE for one in found), "the record agrees with the count"
        self._move(came_back_movements(state, counted))
        self.model.forget(number)
        self._deed(number, Deed.CAME_BACK, {"cells": format_cells(counted)})
        layout = lay_out_person(IRIS, self._situation())
        choice = next((one for one in layout.choices if one.cards == (number,) and one.name is ChoiceName.OPEN and one.lawful), None)
        stored = [(self.cards[one], state) for one, state in self.states.items()]
        if choice is None or not others_stay(layout.differences, stored, number, Moment(*self.now)):
            self.waiting = self.before is not None
            return
        task = next(one for one in tasks_of(replace(layout, chosen=(choice,), laid=choice.laid)) if one.card == number)
        if task.after is not None:
            self._put(task.after, planned=False)
        self._decided(number, deeds_of_task(task, self.states[number], "because", 1))

    def _return(self, number: CardNumber) -> None:
        state, counted = self.states[number], self._counted(number)
        if self._may(number, Deed.RETURNED):
            self._move(returning_movements(state, counted))
            self.model.forget(number)
            self._record(number, Deed.RETURNED, {"cells": format_cells(counted)})
            self._move(destroying_movements(self.states[number]))
            self.model.empty(number)
            self._step("returned", number)
            self._deed(number, Deed.DESTROYED)

    def destroy(self) -> None:
        """What was withdrawn goes to waste."""
        for number in [number for number, state in self.states.items() if state.stage is Stage.WITHDRAWN]:
            if self._may(number, Deed.DESTROYED):
                self._move(destroying_movements(self.states[number]))
                self.model.empty(number)
                self._deed(number, Deed.DESTROYED)

    def lost_or_found(self) -> None:
        numbers = [number for number, state in self.states.items() if not state.over]
        missing = [number for number in numbers if self.states[number].missing]
        if missing:
            self._simple(self.random.choice(missing), Deed.FOUND)
        elif numbers and self.random.random() < 0.5:
            self._simple(self.random.choice(numbers), Deed.NOT_FOUND)

    def killed_and_taken_up_again(self) -> None:
        """Nothing but the events is left of the work."""
        assert {number: state_of(number, self.events[number]) for number in self.states} == self.states
        self.model.recount()
        for number in self.states:
            self._check_card(number)
        self._step("taken up again")

    # Done.

    def finish(self) -> None:
        """The change is done when no card waits for anything and the recount finds nothing; then the model finds nothing either."""
        if self.before is None or self.waiting or any(waits_for(state) for state in self.states.values()):
            return
        case = self._situation()
        for task in renewed(lay_out_person(IRIS, case), self.states):
            if task.after is not None:
                self._put(task.after, planned=False)
            self._decided(task.card, deeds_of_task(task, self.states[task.card], "renewed", 1))
        stored = [(self.cards[number], state) for number, state in self.states.items() if not state.over]
        recount = count_again(IRIS, stored, case, ())
        if blocks(check_done(IRIS.id, (state for _, state in stored), recount)):
            return
        self.check_everything()
        self.before, self.earlier = None, []
        self._step("change done")


def _excused(state: CardState) -> bool:
    """Held; or it waits, is called back or replaced, by a decision on record."""
    return state.out_of_date or state.decision in {"wait", "recall", *REPLACED}


def _asked_of(card: Card) -> Iterable[tuple[When, str, int]]:
    return (((c.day, c.time), str(x.medicine), halves(x.quantity.count)) for c in card.cavities for x in c.contents)


_TIMETABLE = request((), ()).timetable


@lru_cache(maxsize=4096)
def _order(said: tuple[str, str, time, Fraction, When, When | None]) -> Order:
    id, code, clock, count, since, until = said
    return order(id, code, _dosage(count, clock), since=Moment(*since), until=Moment(*until) if until else None)


@lru_cache(maxsize=64)
def _dosage(count: Fraction, clock: time) -> Dosage:
    return dosage(count, WHENS[clock])

"""The choices for a card whose orders have changed, each with what it costs, what it leads to, and why it may not be done where it may not.

Comes in: a card's difference, or several cards', within one person's case. Goes out: `Choice` values, lawful or not. Nobody outside the
pharmacy is ever told to open a sealed card: a card that is out is called back, or replaced.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum
from fractions import Fraction

from dosewright.core.packing.plan_values import Content, PackedCavity
from dosewright.core.rework.after import Laid, Made, as_it_is, as_it_was, made_afresh, moved_over, put_right
from dosewright.core.rework.asked import When
from dosewright.core.rework.cost import Cost, Work, cost_of, later, next_dosing_time, score
from dosewright.core.rework.difference import CardDifference, CavityChange, Unplaced
from dosewright.core.rework.situation import OUT, OpenCard, Place, Situation
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import CardNumber, MedicineCode
from dosewright.core.units.person import Person

__all__ = ["REPLACED", "Case", "Choice", "ChoiceName", "add_card", "affected_by", "fill_afresh", "least_afresh", "ways_with"]


class ChoiceName(StrEnum):
    """What can be done with an existing card."""

    WAIT = "wait"
    OPEN = "open"
    MOVE = "move"
    AFRESH = "afresh"
    ADD = "add"
    RECALL = "recall"


# By these other cards take a card's place.
REPLACED = frozenset({ChoiceName.AFRESH, ChoiceName.MOVE})


@dataclass(frozen=True, slots=True)
class Choice:
    """One thing that can be done about `cards`. `laid` are the cards that then are there instead of them; `changes` what is done inside.

    `lawful`: no finding is a `stop`. `waits`: only a pharmacist, with a name and a reason, may choose it.
    """

    name: ChoiceName
    cards: tuple[CardNumber, ...]
    cost: Cost
    laid: tuple[Laid, ...]
    changes: tuple[tuple[CardNumber, CavityChange], ...] = ()
    findings: tuple[Finding, ...] = ()
    waits: bool = False

    @property
    def lawful(self) -> bool:
        """Whether it may be done at all."""
        return all(finding.severity is not Severity.STOP for finding in self.findings)

    @property
    def withdrawn(self) -> tuple[CardNumber, ...]:
        """The cards that nobody may use any more."""
        kept = {laid.was for laid in self.laid}
        gone = self.name in REPLACED
        return tuple(number for number in self.cards if gone and number not in kept)


@dataclass(frozen=True, slots=True)
class Case:
    """One person's change while choices are laid out for it. `relisted`: medicines that headers name and should not, or ought to.
    `setting` is `fingerprint_of_setting(situation.after)`: numbers of new cards follow from it."""

    person: Person
    situation: Situation
    relisted: tuple[MedicineCode, ...]
    setting: str

    def cost(self, work: Work, affected: Iterable[When]) -> Cost:
        """What the work costs this person's cards."""
        here = self.situation
        return cost_of(work, affected, here.now, here.after.timetable_of(self.person), here.rates)

    def find(self, code: str, severity: Severity, card: CardNumber | None, **facts: Fact) -> Finding:
        """A finding about one of the person's cards."""
        where: dict[str, Fact] = {"person": self.person.id, **({"card": card} if card else {})}
        return Finding(code, severity, where, {"name": self.person.name, **facts})

    def labels(self, codes: Iterable[MedicineCode]) -> tuple[str, ...]:
        """The medicines as people call them."""
        return tuple(self.situation.after.medicines[code].label for code in codes)


def affected_by(difference: CardDifference) -> tuple[When, ...]:
    """The moment of every dose in the card that differs, one entry a medicine."""
    codes = ((change.when, {content.medicine for content in (*change.remove, *change.add)}) for change in difference.changes)
    return tuple(when for when, found in codes for _ in found)


def ways_with(difference: CardDifference, unplaced: Sequence[Unplaced], case: Case) -> tuple[Choice, ...]:
    """Everything that could be done with this card and its own cavities; `unplaced` is what no cavity of its days takes."""
    wait = _wait(difference, unplaced, case)
    if difference.card.place is Place.MISSING:
        return (wait,)
    opened = _open(difference, unplaced, case)
    if difference.card.place in OUT:
        return (wait, _recall(opened, difference, unplaced, case))
    move = (_move(opened, difference, unplaced, case),) if any(difference.held.values()) else ()  # of an empty card nothing moves
    return (wait, opened, *move)


def _wait(difference: CardDifference, unplaced: Sequence[Unplaced], case: Case) -> Choice:
    card = difference.card
    affected = (*affected_by(difference), *(one.when for one in unplaced))
    laid = as_it_is(card, waiting=True) if affected else as_it_was(difference, case.situation)
    alone = bool(affected) or card.place not in OUT  # a card that is right inside is not fetched back for its header's sake alone
    missing = (_missing(card, case),) if card.place is Place.MISSING else ()
    said = _says_waiting(difference, unplaced, case) if affected else _says_header(card, case)
    timetable = case.situation.after.timetable_of(case.person)
    next_card = next_dosing_time(later(Moment(card.card.last), Fraction(24 * 60)), timetable)
    cost = Cost(ready_for=next_card, at_risk=len(affected))
    return Choice(ChoiceName.WAIT, (card.number,), cost, (laid,), findings=(said, *missing), waits=alone)


def _says_waiting(difference: CardDifference, unplaced: Sequence[Unplaced], case: Case) -> Finding:
    affected = sorted((*affected_by(difference), *(one.when for one in unplaced)))
    changed = {content.medicine for change in difference.changes for content in (*change.remove, *change.add)}
    codes = sorted(changed | {one.medicine for one in unplaced})
    days: dict[str, Fact] = {"first": affected[0][0], "last": affected[-1][0]}
    facts: dict[str, Fact] = {"doses": len(affected), "medicines": case.labels(codes), **days}
    return case.find("rework.wait", Severity.DECIDE, difference.card.number, **facts)


def _says_header(card: OpenCard, case: Case) -> Finding:
    return case.find("rework.header-waits", Severity.DECIDE, card.number, medicines=case.labels(case.relisted))


def _missing(card: OpenCard, case: Case) -> Finding:
    return case.find("rework.card-missing", Severity.STOP, card.number)


def _open(difference: CardDifference, unplaced: Sequence[Unplaced], case: Case) -> Choice:
    laid = put_right(difference, case.situation)
    changes = difference.changes
    work = Work(
        drawn=tuple(content for change in changes for content in change.add),
        wasted=tuple(content for change in changes for content in change.remove),
        disturbed=len(changes),
        sealed=1 if changes else 0,
        headers=0 if changes else 1,
    )
    affected = (*affected_by(difference), *(one.when for one in unplaced))
    findings = (*_no_room(difference.card, unplaced, case), *_keeps(laid, difference, case))
    number = difference.card.number
    return Choice(ChoiceName.OPEN, (number,), case.cost(work, affected), (laid,), tuple((number, c) for c in changes), findings)


def _no_room(card: OpenCard, unplaced: Sequence[Unplaced], case: Case) -> Iterable[Finding]:
    if card.form and unplaced:
        yield case.find("rework.other-format", Severity.STOP, card.number, format=card.form.title, now=case.situation.after.format.title)
        return
    for code in sorted({one.medicine for one in unplaced}):
        first = min(one.when for one in unplaced if one.medicine == code)
        (label,) = case.labels((code,))
        yield case.find("rework.no-room", Severity.STOP, card.number, medicine=label, date=first[0], time=first[1])


def _keeps(laid: Laid, difference: CardDifference, case: Case) -> Iterable[Finding]:
    """What goes in may keep for a shorter time than what is there."""
    late = [cavity.day for cavity in laid.card.cavities if cavity.day > laid.card.beyond_use]
    if late and difference.changes:
        yield case.find("rework.keeps-too-short", Severity.STOP, difference.card.number, limit=laid.card.beyond_use, last=max(late))


def _move(opened: Choice, difference: CardDifference, unplaced: Sequence[Unplaced], case: Case) -> Choice:
    here, card = case.situation, difference.card
    laid = moved_over(difference, here)
    old, added = card.open_from(here.at), tuple(content for change in difference.changes for content in change.add)
    removed = tuple(content for change in difference.changes for content in change.remove)
    then = (here.at.day, here.at.time)
    missed = tuple(content for cavity in card.left() if (cavity.day, cavity.time) < then for content in cavity.contents)
    work = Work(added, _carried(difference), (*removed, *missed), len(old), sealed=1, discarded=1)
    affected = (*affected_by(difference), *(one.when for one in unplaced))
    return replace(opened, name=ChoiceName.MOVE, cost=case.cost(work, affected), laid=(laid,))


def _carried(difference: CardDifference) -> tuple[Content, ...]:
    """What every cavity then holds, less what goes in: it comes out of the old card."""
    added = {(change.row, change.column): change.add for change in difference.changes}
    return tuple(content for cell, held in difference.held.items() for content in _less(held, added.get(cell, ())))


def _less(contents: tuple[Content, ...], taken: Sequence[Content]) -> Iterable[Content]:
    """One cavity's contents without those: by medicine and order, each of which is there once."""
    if not taken:
        return contents
    gone = {(content.medicine, content.order): content.quantity.count for content in taken}
    left = ((content, content.quantity.count - gone.get((content.medicine, content.order), Fraction(0))) for content in contents)
    return (replace(content, quantity=replace(content.quantity, count=count)) for content, count in left if count)


def _recall(opened: Choice, difference: CardDifference, unplaced: Sequence[Unplaced], case: Case) -> Choice:
    """Back to the pharmacy, put right there, and out again; until then the home gives by the interim sheet."""
    here, card = case.situation, difference.card
    affected = sorted((*affected_by(difference), *(one.when for one in unplaced)))
    before = affected[0] if affected else (here.at.day, here.at.time)
    findings = (
        case.find("rework.recall", Severity.DECIDE, card.number, date=before[0], time=before[1]),
        case.find("rework.reissue", Severity.DECIDE, card.number),
        *opened.findings,
    )
    changes = difference.changes
    work = Work(
        drawn=tuple(content for change in changes for content in change.add),
        wasted=tuple(content for change in changes for content in change.remove),
        disturbed=len(changes),
        sealed=1 if changes else 0,
        headers=0 if changes else 1,
        ways=2,
        hours=here.rates.hours.collect + here.rates.hours.deliver,
    )
    return replace(opened, name=ChoiceName.RECALL, cost=case.cost(work, affected), findings=findings)


def fill_afresh(
    cards: Sequence[CardDifference], unplaced: Sequence[Unplaced], days: tuple[date, date], only: frozenset[MedicineCode], case: Case
) -> Choice:
    """New cards for the days, from the moment on; the old ones are withdrawn and what is left in them is waste."""
    here = case.situation
    made = made_afresh(case.person, days, only, here, case.setting)
    out = [one.card for one in cards if one.card.place in OUT]
    lost = [one.card for one in cards if one.card.place is Place.MISSING]
    wasted = tuple(content for one in cards for cavity in one.card.left() for content in cavity.contents)
    hours = here.rates.hours.deliver if out or lost else Fraction(0)
    ways = 1 if out or lost else 0
    work = Work(_contents(made), (), wasted, sealed=len(made.cards), discarded=len(cards), ways=ways, hours=hours)
    affected = (*(when for one in cards for when in affected_by(one)), *(one.when for one in unplaced))
    findings = (
        *(case.find("rework.take-back", Severity.DECIDE, card.number) for card in out),
        *(case.find("rework.missing-replaced", Severity.DECIDE, card.number) for card in lost),
        *made.findings,
    )
    numbers = tuple(one.card.number for one in cards)
    return Choice(ChoiceName.AFRESH, numbers, case.cost(work, affected), made.cards, findings=findings)


def least_afresh(cards: Sequence[CardDifference], case: Case) -> Fraction:
    """A price, without bottles, below which filling those cards afresh never is: what they hold is waste, and they are discarded."""
    wasted = tuple(content for one in cards for cavity in one.card.left() for content in cavity.contents)
    return score(case.cost(Work(wasted=wasted, discarded=len(cards)), ()), case.situation.rates)


def add_card(cards: Sequence[OpenCard], due: Sequence[When], days: tuple[date, date], only: frozenset[MedicineCode], case: Case) -> Choice:
    """A card of its own for medicines that none of the cards holds; every card's header then says that there is another.

    `due`: when each dose of them is due.
    """
    made = made_afresh(case.person, days, only, case.situation, case.setting)
    out = [card for card in cards if card.place in OUT or card.place is Place.MISSING]
    ways, hours = (1, case.situation.rates.hours.deliver) if out else (0, Fraction(0))
    work = Work(_contents(made), sealed=len(made.cards), ways=ways, hours=hours)
    findings = (*(case.find("rework.other-card", Severity.DECIDE, card.number) for card in out), *made.findings)
    return Choice(ChoiceName.ADD, (), case.cost(work, due), made.cards, findings=findings)


def _contents(made: Made) -> tuple[Content, ...]:
    cavities: Iterable[PackedCavity] = (cavity for laid in made.cards for cavity in laid.card.cavities)
    return tuple(content for cavity in cavities for content in cavity.contents)

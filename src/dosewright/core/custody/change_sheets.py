"""From a laid-out change to what its sheets are drawn from: the work list, the labels that are needed, the sheet until a card is right.

Comes in: one person's layout, the situation, the plan after the change. Goes out: values of the paper room. Nothing is drawn here.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from fractions import Fraction

from dosewright.core.packing.plan_values import Card, Content, PackedCavity, PersonPlan, Plan
from dosewright.core.paper.change_note import ChangeAnswer, ChangeNote, NotedCard, NotedMedicine
from dosewright.core.paper.interim import Interim, InterimDose
from dosewright.core.paper.work_list import CardWork, MedicineWork, WorkList
from dosewright.core.rework.after import Laid
from dosewright.core.rework.brief import Brief
from dosewright.core.rework.choices import Choice, ChoiceName
from dosewright.core.rework.difference import CavityChange
from dosewright.core.rework.layout import PersonLayout
from dosewright.core.rework.pieces import pieces_of
from dosewright.core.rework.situation import OUT, Situation
from dosewright.core.rework.tasks import CardTask
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import CardNumber, MedicineCode, PersonId

__all__ = [
    "answer_of",
    "as_it_will_be",
    "interims_of",
    "labelled_from",
    "labels_of_tasks",
    "note_of",
    "plan_of_labels",
    "relabelled",
    "still_replaced",
    "work_of",
    "work_of_tasks",
]

_Cell = tuple[int, int]


def relabelled(layouts: Iterable[PersonLayout]) -> dict[CardNumber, frozenset[_Cell] | None]:
    """The cards that need labels: which cavities of each, besides the header; None for all of a new card."""
    return {laid.card.number: laid.labels for layout in layouts for choice in layout.chosen for laid in choice.laid if laid.header}


def plan_of_labels(plan: Plan, layouts: Sequence[PersonLayout], at: Moment) -> Plan:
    """The plan after the change as labels say it: cards as `laid`, without what was due before the moment. Only people with labels."""
    wanted = {layout.person.id: layout for layout in layouts if any(laid.header for choice in layout.chosen for laid in choice.laid)}
    people = (replace(one, cards=tuple(_from(laid, at) for laid in wanted[one.person].laid)) for one in plan.people if one.person in wanted)
    return replace(plan, people=tuple(people))


def _from(laid: Laid, at: Moment) -> Card:
    return _cut(laid.card, at)


def _cut(card: Card, at: Moment) -> Card:
    cavities = tuple(cavity for cavity in card.cavities if Moment(cavity.day, cavity.time) >= at)
    return replace(card, first=max(card.first, at.day), cavities=cavities)


def labelled_from(plan: Plan, at: Moment) -> Plan:
    """The plan as labels say it from the moment on: without what was due before, and without cards of which nothing is left."""
    people = (replace(one, cards=tuple(_cut(card, at) for card in one.cards if card.last >= at.day)) for one in plan.people)
    return replace(plan, people=tuple(people))


def work_of(layout: PersonLayout, situation: Situation, planned: PersonPlan) -> WorkList:
    """The person's work list; `planned` is the person's part of the plan after the change."""
    fresh = tuple(laid.card for one in layout.chosen if one.name is not ChoiceName.MOVE for laid in one.laid if laid.was is None)
    drawn: dict[MedicineCode, tuple[Fraction, ...]] = {}
    for content in _drawn(layout):
        drawn[content.medicine] = (*drawn.get(content.medicine, ()), content.quantity.count)
    wasted: dict[MedicineCode, Fraction] = {}
    for code, count in (waste for choice in layout.chosen for waste in choice.cost.waste.items()):
        wasted[code] = wasted.get(code, Fraction(0)) + count
    works = tuple(work for choice in layout.chosen for work in _works(choice, layout))
    return WorkList(replace(planned, cards=fresh), situation.at, works, dict(sorted(drawn.items())), dict(sorted(wasted.items())))


def _drawn(layout: PersonLayout) -> Iterable[Content]:
    """Everything that comes out of bottles."""
    for choice in layout.chosen:
        if choice.name in (ChoiceName.AFRESH, ChoiceName.ADD):
            yield from (content for laid in choice.laid for cavity in laid.card.cavities for content in cavity.contents)
        else:
            yield from (content for _, change in choice.changes for content in change.add)


def _works(choice: Choice, layout: PersonLayout) -> Iterable[CardWork]:
    """A line for each card that the choice is about, or for the card that it adds."""
    cards = {one.card.number: one.card.card for one in layout.differences}
    new = tuple(laid.card.number for laid in choice.laid if laid.was is None)
    if not choice.cards:
        yield CardWork(choice.name, None, new, ())
    for number in choice.cards:
        changes = [change for changed, change in choice.changes if changed == number]
        header = choice.name is ChoiceName.OPEN and not changes
        yield CardWork("header" if header else choice.name, cards[number], new, tuple(_medicines(cards[number], changes)))


def _medicines(card: Card, changes: Sequence[CavityChange]) -> Iterable[MedicineWork]:
    codes = sorted({content.medicine for change in changes for content in (*change.remove, *change.add)})
    for code in codes:
        out, into = _amounts(code, ((c, c.remove) for c in changes)), _amounts(code, ((c, c.add) for c in changes))
        yield MedicineWork(card, code, out, into, _others(card, code, changes))


def _amounts(code: MedicineCode, parts: Iterable[tuple[CavityChange, Sequence[Content]]]) -> dict[_Cell, Fraction]:
    found: dict[_Cell, Fraction] = {}
    for change, contents in parts:
        for content in contents:
            if content.medicine == code:
                cell = (change.row, change.column)
                found[cell] = found.get(cell, Fraction(0)) + content.quantity.count
    return found


def _others(card: Card, code: MedicineCode, changes: Sequence[CavityChange]) -> Mapping[_Cell, int]:
    """Pieces of other medicines in the cavities that are opened, as they lie there before the work."""
    opened = {(change.row, change.column) for change in changes}
    return {
        (cavity.row, cavity.column): many
        for cavity in card.cavities
        if (cavity.row, cavity.column) in opened
        and (many := sum(len(pieces_of(c.quantity.count)) for c in cavity.contents if c.medicine != code))
    }


def labels_of_tasks(tasks: Iterable[CardTask]) -> dict[CardNumber, frozenset[_Cell] | None]:
    """The cards that need labels for what was decided and can be done now: which cavities of each, besides the header."""
    return {task.card: task.opened for task in tasks if task.deed in {"open", "header"} and task.after is not None}


def note_of(person: PersonId, briefs: Iterable[Brief], tasks: Sequence[CardTask], said: tuple[str, Moment, str]) -> ChangeNote:
    """What people are told; `said`: what the change is about, when it was decided, by whom."""
    return ChangeNote(person, tuple(_noted(one) for one in briefs), tuple(_noted_cards(tasks)), *said)


def answer_of(
    person: PersonId, briefs: Iterable[Brief], prescribers: tuple[str, ...], steps: tuple[tuple[datetime, str, str], ...]
) -> ChangeAnswer:
    """What the prescriber is told; `steps`: when, what, by whom."""
    return ChangeAnswer(person, tuple(_noted(one) for one in briefs), prescribers, steps)


def _noted(one: Brief) -> NotedMedicine:
    times = ", ".join(f"{at:%H:%M}" for at in one.times[1])
    return NotedMedicine(one.kind.value, one.was, one.now, one.since, one.before, one.after, one.days, times)


def _noted_cards(tasks: Iterable[CardTask]) -> Iterable[NotedCard]:
    for task in tasks:
        if task.deed == "recall":
            yield NotedCard(task.card, "recall", Moment(*task.first) if task.first else None)
        elif task.card and task.deed != "kept":
            yield NotedCard(task.card, "recall here" if task.deed == "open" and task.out else task.deed, None)
        if not task.card:
            yield from (NotedCard(new, "add", None) for new in task.new)


def as_it_will_be(tasks: Iterable[CardTask], cards: Iterable[Card]) -> tuple[Card, ...]:
    """The cards for the headers of the others: one that is called back holds what it will hold once it is here."""
    after = {task.card: task.after for task in tasks if task.deed == "recall" and task.after is not None}
    return tuple(after.get(card.number, card) for card in cards)


def work_of_tasks(tasks: Sequence[CardTask], planned: PersonPlan, at: Moment) -> WorkList:
    """The work list of decided tasks. New cards have fill sheets of their own."""
    drawn: dict[MedicineCode, tuple[Fraction, ...]] = {}
    wasted: dict[MedicineCode, Fraction] = {}
    doing = [task for task in tasks if task.deed not in {"kept", "wait", "recall"}]
    for change in (change for task in doing for change in task.changes):
        for content in change.add:
            drawn[content.medicine] = (*drawn.get(content.medicine, ()), content.quantity.count)
        for content in change.remove:
            wasted[content.medicine] = wasted.get(content.medicine, Fraction(0)) + content.quantity.count
    works = tuple(CardWork(task.deed, task.before, task.new, tuple(_of_task(task))) for task in doing)
    return WorkList(replace(planned, cards=()), at, works, dict(sorted(drawn.items())), dict(sorted(wasted.items())))


def _of_task(task: CardTask) -> Iterable[MedicineWork]:
    return _medicines(task.before, task.changes) if task.before is not None else ()


def interims_of(layout: PersonLayout, situation: Situation) -> tuple[Interim, ...]:
    """A sheet for cards that are called back, or replaced while out: what is due by the new orders until what is right is there. And one
    for a card that is added while others are out: its doses that are due before it can be there, which are in no card until then."""
    out = {one.card.number for one in layout.differences if one.card.place in OUT}
    found = []
    for choice in (choice for choice in layout.chosen if choice.name in (ChoiceName.RECALL, ChoiceName.AFRESH, ChoiceName.ADD)):
        ready = choice.cost.ready_for
        cavities = [c for laid in choice.laid for c in laid.card.cavities if Moment(c.day, c.time) >= situation.at]
        due = sorted((c for c in cavities if ready is None or (c.day, c.time) < ready), key=lambda c: (c.day, c.time, c.column))
        doses = tuple(InterimDose(c.day, c.slot, c.time, c.contents) for c in due)
        cards = tuple(number for number in choice.cards if number in out)
        beside = choice.name is ChoiceName.ADD and bool(out and doses)
        if beside or (cards and (doses or choice.name is ChoiceName.RECALL)):
            found.append(Interim(layout.person.id, cards, situation.at, doses, Moment(*ready) if ready else None))
    return tuple(found)


def still_replaced(
    before: Iterable[Interim], replaced: frozenset[CardNumber], layout: PersonLayout, situation: Situation
) -> tuple[Interim, ...]:
    """The sheets for cards outside that an earlier decision has replaced and that are not back yet, by the orders as they are now: what
    lies in the cards that are here is given from the sheet until these are there."""
    out = {one.card.number for one in layout.differences if one.card.place in OUT}
    here = [laid.card for laid in layout.laid if laid.card.number not in out]
    cavities = sorted((c for card in here for c in card.cavities), key=lambda c: (c.day, c.time, c.column))
    known = [sheet for sheet in before if sheet.cards and replaced.issuperset(sheet.cards)]
    rest = tuple(sorted(replaced.difference(*(sheet.cards for sheet in known))))
    fresh = [Interim(layout.person.id, rest, situation.at, ())] if rest else []
    renewed = (_renewed(sheet, cavities, layout, situation) for sheet in (*known, *fresh))
    return tuple(sheet for sheet in renewed if sheet.doses or sheet.cards != rest)


def _renewed(sheet: Interim, cavities: Sequence[PackedCavity], layout: PersonLayout, situation: Situation) -> Interim:
    ready = [Moment(*choice.cost.ready_for) for choice in layout.chosen if choice.cost.ready_for is not None]
    latest = max((*ready, *((sheet.until,) if sheet.until else ())), default=None)
    until = latest if latest and latest > situation.at else None
    due = [c for c in cavities if situation.at <= Moment(c.day, c.time) and (until is None or Moment(c.day, c.time) < until)]
    doses = tuple(InterimDose(c.day, c.slot, c.time, c.contents) for c in due)
    return replace(sheet, at=situation.at, doses=doses, until=until)

"""A card that was called back is here: it is counted, cavity by cavity, against the record of doses given, and is to be put right from then
on for the same person. What is missing from it was given; nothing of it is ever stock again (R10, R11)."""

from dataclasses import dataclass, replace

from dosewright.actions.change_begun import change_begun
from dosewright.actions.doing import doing
from dosewright.actions.lay_out_change import Gathered, gather
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.actions.rewrite_sets import rewrite_sets
from dosewright.core.custody.cells import format_cells, format_spots
from dosewright.core.custody.changing import ChangeStanding
from dosewright.core.custody.event import Deed, Occasion
from dosewright.core.custody.follow import check_follows
from dosewright.core.custody.reconciling import Returned, reconcile
from dosewright.core.custody.returning import came_back_movements
from dosewright.core.custody.reworking import deeds_of_task, others_stay
from dosewright.core.custody.rights import Ability, check_right
from dosewright.core.rework.choices import Choice, ChoiceName
from dosewright.core.rework.layout import PersonLayout
from dosewright.core.rework.tasks import CardTask, tasks_of
from dosewright.core.rounds.left import check_counted_return
from dosewright.core.units.finding import Fact, Finding, Severity, blocks
from dosewright.core.units.ids import CardNumber
from dosewright.store.calendar import wall_moment
from dosewright.store.cards import StoredCard, lock_card, rewrite_card, save_event
from dosewright.store.changes import find_open_change, save_standing, save_tasks
from dosewright.store.people import lock_person
from dosewright.store.stock import lock_lots, save_movements

__all__ = ["CameBack", "take_back_card"]


@dataclass(frozen=True, slots=True)
class CameBack:
    """What was counted, what the record has as given, and why it is taken back although the two do not agree."""

    back: Returned
    reason: str = ""


@doing(Ability.TAKE_BACK_CARD, "card")
def take_back_card(number: CardNumber, on: Occasion, what: CameBack) -> Outcome:
    """The card is on the bench and held; where it was called back for a change, it is to hold what the orders ask from now on. Where count
    and record disagree, only a pharmacist takes it back, with a reason."""
    card = lock_card(number)
    lock_person(card.person.id)
    findings = _check(card, on, what)
    if blocks(findings):
        return not_done(findings)
    movements = came_back_movements(card.state, what.back.counted)
    lock_lots(movements)
    facts: dict[str, Fact] = {"cells": format_cells(what.back.counted), "recorded": format_spots(what.back.recorded), "reason": what.reason}
    card, entry = save_event(card, Deed.CAME_BACK, on, facts)
    save_movements(movements, entry)
    _put_right(card, on)
    return done(findings)


def _check(card: StoredCard, on: Occasion, what: CameBack) -> tuple[Finding, ...]:
    findings = check_follows(card.state, Deed.CAME_BACK) + check_counted_return(card.state.placed, what.back.counted)
    differs = reconcile(card.number, card.card.cavities, card.state.placed, what.back, wall_moment(on.at))
    if any(one.severity is Severity.DECIDE for one in differs):
        if not what.reason.strip():
            return (*findings, *differs, Finding("custody.no-reason", Severity.STOP))
        if check_right(on.by, Ability.DECIDE_CHANGE):
            return (*findings, *differs, Finding("change.only-a-pharmacist", Severity.STOP, {"card": card.number}))
    return (*findings, *differs)


def _put_right(card: StoredCard, on: Occasion) -> None:
    """What is to be done with it follows from what is in it now. Where it cannot be put right, or not without another card that was to stay
    as it is, the pharmacist decides anew."""
    change = find_open_change(card.person.id)
    if change is None:
        return
    found = gather(change, on, locked=True)
    choice = _open_choice(found, card.number)
    stored = ((one.card, one.state) for one in found.open.cards)
    if choice is None or not others_stay(found.layout.differences, stored, card.number, found.situation.at):
        save_standing(change.id, ChangeStanding.WAITING)
        return
    layout = _with(found.layout, choice)
    task = next(one for one in tasks_of(layout) if one.card == card.number)
    rewrite_sets(layout, (task,), found.situation, (card,))
    for deed, told in deeds_of_task(task, card.state, change.reason, change.id):
        card, _ = save_event(card, deed, on, told)
    if task.after is not None:
        rewrite_card(card.number, task.after)
    save_tasks(change.id, _instead(change.tasks, replace(task, out=True)))
    change_begun(card.person.id, on)


def _open_choice(found: Gathered, number: CardNumber) -> Choice | None:
    """To open the card and put it right, where that is lawful; a card that is right already only needs a new header, or nothing."""
    ways = (one for one in found.layout.choices if one.cards == (number,) and one.name is ChoiceName.OPEN and one.lawful)
    return next(ways, None)


def _with(layout: PersonLayout, choice: Choice) -> PersonLayout:
    return replace(layout, chosen=(choice,), laid=choice.laid)


def _instead(tasks: tuple[CardTask, ...], task: CardTask) -> tuple[CardTask, ...]:
    kept = tuple(task if one.card == task.card else one for one in tasks)
    return kept if any(one.card == task.card for one in tasks) else (*kept, task)

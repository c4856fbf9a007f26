"""A change is done when every card of the person holds exactly what the orders in force ask, and every unit is accounted for (R11, R17)."""

from collections.abc import Iterable
from fractions import Fraction

from dosewright.actions.doing import doing
from dosewright.actions.lay_out_change import Gathered, gather
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.actions.rewrite_sets import rewrite_sets
from dosewright.core.custody.changing import ChangeStanding, check_done, check_standing
from dosewright.core.custody.counting_again import count_again
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.reworking import deeds_of_task, renewed
from dosewright.core.custody.rights import Ability
from dosewright.core.rework.recount import check_units
from dosewright.core.supply.account import LotKey
from dosewright.core.supply.movement import Movement, MovementKind
from dosewright.core.units.finding import Finding, blocks
from dosewright.store.cards import rewrite_card, save_event
from dosewright.store.changes import StoredChange, load_moved_since, load_units_of, lock_change, save_change_done
from dosewright.store.ledger import append_entry
from dosewright.store.people import lock_person

__all__ = ["finish_change", "recount_change"]


@doing(Ability.FINISH_CHANGE, "change")
def finish_change(change: int, on: Occasion) -> Outcome:
    """Refused while a card waits for something, and while the recount finds any difference."""
    stored = lock_change(change)
    lock_person(stored.person.id)
    found = _renew(gather(stored, on, locked=True), on)
    findings = check_standing(change, stored.standing, {ChangeStanding.DECIDED, ChangeStanding.IN_WORK})
    findings += check_done(stored.person.id, (card.state for card in found.open.cards), recount_change(found))
    if blocks(findings):
        return not_done(findings)
    save_change_done(change, on)
    append_entry(on, "change done", ("change", str(change)), {"cards": tuple(card.number for card in found.open.cards)})
    return done(findings)


def _renew(found: Gathered, on: Occasion) -> Gathered:
    """Prescriptions that were renewed word for word while the change was in work: their units belong to the orders in force."""
    cards = {card.number: card for card in found.open.cards}
    tasks = renewed(found.layout, {number: card.state for number, card in cards.items()})
    for task in tasks:
        for deed, told in deeds_of_task(task, cards[task.card].state, "renewed", found.change.id):
            save_event(cards[task.card], deed, on, told)
        if task.after is not None:
            rewrite_card(task.card, task.after)
    rewrite_sets(found.layout, tasks, found.situation, (cards[task.card] for task in tasks))
    return gather(found.change, on, locked=True) if tasks else found


def recount_change(found: Gathered) -> tuple[Finding, ...]:
    """Every fault of the person's cards as their events say they are now, by code that shares nothing with what laid the change out: each
    dose from now on, what no order explains, limits, what was not to be touched; and the units of every lot since it was decided."""
    stored = [(card.card, card.state) for card in found.open.cards]
    cards = count_again(found.change.person, stored, found.situation, found.layout.alongside)
    return (*cards, *_units(found.change))


def _units(change: StoredChange) -> tuple[Finding, ...]:
    if not change.entry:
        return ()
    moved = load_moved_since(change.person.id, change.entry)
    drawn = _sums(moved, {MovementKind.PLACED})
    gone = _sums(moved, {MovementKind.TAKEN_TO_WASTE, MovementKind.PUT_BACK, MovementKind.GIVEN, MovementKind.RETURNED})
    return check_units(change.held, drawn, gone, load_units_of(change.person.id))


def _sums(moved: Iterable[Movement], kinds: set[MovementKind]) -> dict[LotKey, Fraction]:
    sums: dict[LotKey, Fraction] = {}
    for movement in moved:
        if movement.kind in kinds:
            key = (movement.medicine, movement.lot)
            sums[key] = sums.get(key, Fraction(0)) + movement.amount
    return sums

"""A pharmacist decides about a change: for every card that it touches one choice, with a reason where one is asked (R9, R17)."""

from dataclasses import dataclass, replace

from dosewright.actions.doing import doing
from dosewright.actions.lay_out_change import Gathered, gather, shown_as
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.actions.rewrite_sets import rewrite_sets
from dosewright.core.custody.change_sheets import interims_of, still_replaced
from dosewright.core.custody.changing import Cause, ChangeStanding, Deciding, check_deciding, check_standing
from dosewright.core.custody.event import Deed, Occasion
from dosewright.core.custody.reworking import deeds_of_past, deeds_of_task
from dosewright.core.custody.rights import Ability
from dosewright.core.packing.plan_values import Card
from dosewright.core.rework.asked import from_then_on
from dosewright.core.rework.layout import PersonLayout
from dosewright.core.rework.picked import Pick, pick
from dosewright.core.rework.proof import check_layout
from dosewright.core.rework.set_after import new_plan
from dosewright.core.rework.tasks import carried_on, tasks_of, with_new_headers
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.store.cards import load_set, rewrite_card, save_event, save_set
from dosewright.store.changes import load_units_of, lock_change, save_change_decided
from dosewright.store.ledger import append_entry
from dosewright.store.people import lock_person
from dosewright.store.pharmacy import load_pharmacy

__all__ = ["Decided", "chosen_layout", "decide_change"]


@dataclass(frozen=True, slots=True)
class Decided:
    """What the pharmacist chose: one of the ways for the whole (0: the recommended one, else the nth of the others), or a choice for each
    card; the reasons; what was shown; and by what name the sheet for cards that are called back is signed ("" where none is)."""

    said: Deciding
    way: int = 0
    picks: tuple[Pick, ...] = ()


@doing(Ability.DECIDE_CHANGE, "change")
def decide_change(change: int, on: Occasion, what: Decided) -> Outcome:
    """The cards that are here are to be put right from this moment on and cannot leave before they are; those that are out are called back,
    with a sheet of what to give until then; whatever waits has a name and a reason. `made`: the ids of new sets."""
    stored = lock_change(change)
    lock_person(stored.person.id)
    found = gather(stored, on, locked=True)
    layout, against = chosen_layout(found, what)
    findings = check_standing(change, stored.standing, {ChangeStanding.WAITING}) + check_deciding(what.said, shown_as(found), against)
    if findings:
        return not_done(findings)
    return done((), *_carry_out(found, layout, on, what.said))


def chosen_layout(found: Gathered, what: Decided) -> tuple[PersonLayout, tuple[Finding, ...]]:
    """The layout that was chosen, and everything against it, the recount's faults too."""
    ways = (found.layout, *found.layout.alternatives)
    layout = ways[what.way] if 0 <= what.way < len(ways) else found.layout
    layout, faults = pick(layout, what.picks, found.situation)
    recount = check_layout(layout, found.situation) if not layout.left else ()
    lost = tuple(
        Finding("change.unreadable", Severity.DECIDE, {"person": found.change.person.id, "card": one.number}, {"stage": one.stage.value})
        for one in found.open.unreadable
    )
    return layout, (*faults, *layout.findings, *recount, *lost)


def _carry_out(found: Gathered, layout: PersonLayout, on: Occasion, said: Deciding) -> tuple[str, ...]:
    change, tasks = found.change, tasks_of(layout)
    tasks = with_new_headers(tasks) if change.cause is Cause.MOVED_HOME else tasks
    held = load_units_of(change.person.id)
    facts: dict[str, Fact] = {"reason": said.reason, "choices": tuple(f"{task.card} {task.deed}" for task in tasks)}
    entry = append_entry(on, "change decided", ("change", str(change.id)), {**facts, "signed by": on.by.name})
    rewrite_sets(layout, tasks, found.situation, found.open.cards)
    stored = {card.number: card for card in found.open.cards}
    for task in (task for task in tasks if task.card in stored):
        card = stored[task.card]
        for deed, told in deeds_of_task(task, card.state, said.reason_for(task.card), change.id):
            card, _ = save_event(card, deed, on, told)
        if task.after is not None and task.deed not in {"recall", "wait"}:
            rewrite_card(task.card, task.after)
    for card in (card for number, card in stored.items() if number not in {task.card for task in tasks}):
        for deed, told in deeds_of_past(card.card, card.state, found.situation.at.day, said.reason, change.id):
            save_event(card, deed, on, told)
    tasks = (*tasks, *(task for task in change.tasks if task.card in stored and stored[task.card].state.replaced))
    tasks = carried_on(tasks, {number: card.state.disturbed for number, card in stored.items()})
    sets = tuple(_new_set(found, layout, cards, on) for cards in _new_cards(layout))
    gone = frozenset(number for number, card in stored.items() if card.state.replaced)
    interims = (*interims_of(layout, found.situation), *still_replaced(change.interims, gone, layout, found.situation))
    save_change_decided(change.id, (tasks, interims), said.reason, on, (entry, held))
    return tuple(str(made) for made in sets)


def _new_cards(layout: PersonLayout) -> tuple[tuple[Card, ...], ...]:
    """The cards that each choice makes, as they are numbered in the whole."""
    laid = {one.card.number: one.card for one in layout.laid}
    made = (tuple(laid[one.card.number] for one in choice.laid if one.was is None) for choice in layout.chosen)
    return tuple(cards for cards in made if cards)


def _new_set(found: Gathered, layout: PersonLayout, cards: tuple[Card, ...], on: Occasion) -> int:
    situation = found.situation
    first, last = min(card.first for card in cards), max(card.last for card in cards)
    still = (order for order in situation.after.orders if order.until is None or order.until > situation.at)
    orders = tuple(from_then_on(order, situation.at, situation.after.first) for order in still)
    request = replace(situation.after, orders=orders, first=first, days=(last - first).days + 1)
    plan = new_plan(layout, cards, request)
    set_id = save_set(plan, request, load_pharmacy().rules, on)
    append_entry(on, "set planned", ("set", str(set_id)), {"change": found.change.id, "basis": plan.basis, "first": first})
    for card in load_set(set_id).cards:
        save_event(card, Deed.PLANNED, on, {"set": set_id, "basis": plan.basis, "change": found.change.id})
    return set_id

"""A pharmacist takes up fewer dosing times: the orders concerned count at the new ones from a day on, in their own words as before."""

from dataclasses import replace

from dosewright.actions.doing import doing
from dosewright.actions.mark_touched import mark_touched
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.actions.plan_set import draw_up_request
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.planning import PlanAsk, check_settled
from dosewright.core.custody.rights import Ability
from dosewright.core.custody.taking_up import TAKEN_UP, TimesAsk, check_nothing_lost, check_taking_up, ended, facts_of_move, renamed
from dosewright.core.custody.unused import check_all_used
from dosewright.core.packing.dosing_times.propose import propose
from dosewright.core.packing.dosing_times.times_values import Move, Proposal
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import OrderId, PersonId
from dosewright.devices.time_rules import load_time_rules
from dosewright.store.calendar import wall_day
from dosewright.store.cards import lock_open_cards
from dosewright.store.dosing_times import give_timetable, load_words, lock_orders_of, save_revision
from dosewright.store.ledger import append_entry
from dosewright.store.orders import Verdict, load_confirmed, load_order, load_waiting, save_end, save_settled
from dosewright.store.people import lock_person
from dosewright.store.unused import load_waiting_unused

__all__ = ["CYCLE", "check_open_orders", "draw_up_proposal", "take_up_times"]

CYCLE = 28  # days over which doses and cards are counted


def draw_up_proposal(person: PersonId, on: Occasion, ask: TimesAsk) -> Proposal:
    """What the planner proposes from that day on, of the orders that a pharmacist confirmed. Its cards are counted as packed on that day:
    packed now they might be too old by the end, which says nothing about the times."""
    drawn = draw_up_request(person, PlanAsk(ask.first, CYCLE), on)
    request = replace(drawn, prepared_on=max(drawn.prepared_on, ask.first))
    return propose(request.people[0], request, load_time_rules(), ask.stay, load_words(request.orders))


def check_open_orders(person: PersonId, ask: TimesAsk) -> tuple[Finding, ...]:
    """Find every order that waits or could not be used: fewest dosing times of only some orders would be no answer (R13)."""
    waiting = check_settled(PlanAsk(ask.first, CYCLE), [stored.order for stored in load_waiting(person)])
    return waiting + check_all_used((stored.unused, stored.file) for stored in load_waiting_unused(person))


@doing(Ability.TAKE_UP_TIMES, "person")
def take_up_times(person: PersonId, on: Occasion, ask: TimesAsk) -> Outcome:
    """All moves of the proposal that was shown, or none; cards that they touch are out of date (R9). `made`: the ids of the new orders."""
    lock_orders_of(person)
    lock_person(person)
    cards, before = lock_open_cards(person), load_confirmed(person)
    proposal = draw_up_proposal(person, on, ask)
    if findings := check_open_orders(person, ask) + check_taking_up(proposal, ask, wall_day(on.at)):
        return not_done(findings)
    if proposal.widened:
        give_timetable(person, proposal.timetable)
    made = tuple(_take_up(move, on, ask) for move in proposal.moves)
    if lost := check_nothing_lost(before, load_confirmed(person), proposal.timetable, wall_day(on.at)):
        return not_done(lost)
    return done(mark_touched(person, on, before, cards), *made)


def _take_up(move: Move, on: Occasion, ask: TimesAsk) -> OrderId:
    """The order as it is ends where the one at the new times begins; both keep the words as received (R13)."""
    former = load_order(move.order.id).order
    made = save_revision(move.order)
    save_settled(renamed(move, made), Verdict("confirmed", reason=ask.agreed), on)
    save_end(ended(former, move), replaced_by=made)
    append_entry(on, TAKEN_UP, ("order", made), facts_of_move(move, ask))
    return made

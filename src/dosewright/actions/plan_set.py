"""A person's confirmed orders become cards for a run of days."""

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.event import Deed, Occasion
from dosewright.core.custody.planning import PlanAsk, check_cycle, check_days_free, check_plan, check_settled, facts_of_plan
from dosewright.core.custody.rights import Ability, check_right
from dosewright.core.custody.unused import check_all_used
from dosewright.core.packing.plan import plan_cycle
from dosewright.core.packing.request import Answer, PlanRequest
from dosewright.core.packing.verify import verify
from dosewright.core.paper.label_lines import with_label_lines
from dosewright.core.supply.lots import expiries_of_next
from dosewright.core.units.ids import PersonId
from dosewright.devices.fonts import load_fonts
from dosewright.store.answers import load_answers, save_answers
from dosewright.store.calendar import wall_day
from dosewright.store.cards import load_set, lock_open_cards, save_event, save_set
from dosewright.store.catalogue import load_catalogue
from dosewright.store.last_places import load_places
from dosewright.store.ledger import append_entry
from dosewright.store.orders import load_confirmed, load_waiting
from dosewright.store.people import load_person, load_timetable, lock_person
from dosewright.store.pharmacy import load_pharmacy, load_rules
from dosewright.store.set_count import count_sets
from dosewright.store.stock import load_stock_of
from dosewright.store.unused import load_waiting_unused

__all__ = ["draw_up_request", "plan_set"]


def draw_up_request(person: PersonId, ask: PlanAsk, on: Occasion) -> PlanRequest:
    """What the planner is asked: only confirmed orders enter (R13), and no cavity gets more than its label can say.

    The salt counts the sets: a card planned anew has a new number. Stock on hand says how long the cards keep, the last set where
    each medicine lay.
    """
    pharmacy = load_pharmacy()
    rules, orders = load_rules(pharmacy.rules), load_confirmed(person)
    medicines = load_catalogue({order.medicine for order in orders})
    request = PlanRequest(
        people=(load_person(person),),
        orders=orders,
        medicines=medicines,
        format=rules.card_format,
        profile=rules.profile,
        first=ask.first,
        days=ask.days,
        prepared_on=wall_day(on.at),
        rules=rules.suitability,
        pairs=rules.pairs,
        spacings=rules.spacings,
        timetable=load_timetable(person),
        salt=f"{pharmacy.salt}:{count_sets(person)}",
        answers=(*ask.answers, *_answered_before(person, ask)),
        expiries=expiries_of_next(load_stock_of(medicines), ask.last),
        places={person: load_places(person, ask.first)},
    )
    return with_label_lines(request, load_fonts())


def _answered_before(person: PersonId, ask: PlanAsk) -> tuple[Answer, ...]:
    """What a pharmacist has answered before, where nothing is answered now. A rule that has changed since asks again."""
    answered = {(answer.order, answer.about) for answer in ask.answers}
    return tuple(answer for answer in load_answers(person) if (answer.order, answer.about) not in answered)


@doing(Ability.PLAN_SET, "person")
def plan_set(person: PersonId, on: Occasion, ask: PlanAsk) -> Outcome:
    """The set is planned, recounted by strangers to the planner, and kept; a `stop`, or a `decide` without a reason, keeps it from being.
    Only a pharmacist answers those (R14).

    `made`: the set's id.
    """
    lock_person(person)
    if (ask.reasons or ask.answers) and (no_right := check_right(on.by, Ability.ANSWER_FINDING)):
        return not_done(no_right)
    if too_long := check_cycle(ask):
        return not_done(too_long)
    waiting = [stored.order for stored in load_waiting(person)]
    findings = check_days_free(ask, (stored.card for stored in lock_open_cards(person))) + check_settled(ask, waiting)
    findings += check_all_used((stored.unused, stored.file) for stored in load_waiting_unused(person))
    request = draw_up_request(person, ask, on)
    plan = plan_cycle(request)
    findings += check_plan(plan, verify(plan, request), ask.reasons)
    if findings:
        return not_done(findings)
    save_answers(ask.answers)
    set_id = save_set(plan, request, load_pharmacy().rules, on)
    append_entry(on, "set planned", ("set", str(set_id)), facts_of_plan(plan, ask))
    for card in load_set(set_id).cards:
        save_event(card, Deed.PLANNED, on, {"set": set_id, "basis": plan.basis})
    return done(plan.findings, str(set_id))

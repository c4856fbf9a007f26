"""The sheets of a decided change, made on demand: labels for what is opened, the work list, the sheet that holds until a card is right, and
the note that tells people what changes. Nothing is drawn or kept here: `make_sheet` does both."""

from collections.abc import Callable
from dataclasses import replace

from dosewright.actions.lay_out_change import what_changes
from dosewright.actions.make_sheet import Wanted, Way
from dosewright.actions.plan_set import draw_up_request
from dosewright.core.custody.change_sheets import answer_of, as_it_will_be, labelled_from, labels_of_tasks, note_of, work_of_tasks
from dosewright.core.custody.event import Actor, Occasion, Role
from dosewright.core.custody.planning import LONGEST, PlanAsk
from dosewright.core.packing.fingerprint import fingerprint
from dosewright.core.packing.plan_values import PersonPlan, Plan, Proof
from dosewright.core.packing.request import PlanRequest
from dosewright.core.paper.alike import tell_apart
from dosewright.core.paper.finish import Offered
from dosewright.core.paper.material import Material
from dosewright.core.paper.offer import offer_interim, offer_labels, offer_work
from dosewright.core.paper.offer_change import offer_change_answer, offer_change_note
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import StationId
from dosewright.devices.fonts import load_fonts
from dosewright.store.calendar import wall_moment
from dosewright.store.cards import StoredCard, load_request, load_set
from dosewright.store.catalogue import load_catalogue
from dosewright.store.changes import StoredChange, load_change, load_change_steps, load_open_cards
from dosewright.store.made_papers import SheetName
from dosewright.store.orders import load_confirmed
from dosewright.store.paper_sources import who_supplies
from dosewright.store.people import load_home_names, load_people

__all__ = ["CHANGE_SHEETS", "sheet_of_change"]

_NO_PROOF = Proof(0, 0, optimal=False, nodes=0, cards=0, cards_lower_bound=0)
_NOBODY = Actor("", "", Role.INSPECTOR)  # a request is drawn up as of a moment; nobody does anything by it
_NOTHING = Offered(b"", 0, (), ())


def sheet_of_change(change: int, kind: str) -> Wanted:
    """A sheet of that kind. Raises KeyError for a kind that no change has, Missing for no such change."""
    title, draw = CHANGE_SHEETS[kind]
    stored = load_change(change)
    name = SheetName(kind, f"change {change}", f"{title}, {stored.person.name}")

    def drawn(found: _Sources, way: Way) -> Offered:
        return draw((found[0], replace(found[1], printer=way.printer, copy=way.copy)))

    return Wanted(name, lambda: _sources(change), drawn, lambda found: (found[1].plan.basis,), labels=kind == "labels")


_Sources = tuple[StoredChange, Material]


def _sources(change: int) -> _Sources:
    stored = load_change(change)
    return stored, _material(stored)


def _labels(found: _Sources) -> Offered:
    change, material = found
    wanted = labels_of_tasks(change.tasks)
    if not wanted:
        return _NOTHING
    (mine,) = material.plan.people
    will_be = replace(mine, cards=as_it_will_be(change.tasks, mine.cards))
    plan = labelled_from(replace(material.plan, people=(will_be,)), _decided(change))
    return offer_labels(replace(material, plan=plan, relabel=wanted))


def _work(found: _Sources) -> Offered:
    change, material = found
    work = work_of_tasks(change.tasks, material.plan.people[0], _decided(change))
    return offer_work([work], material) if work.cards else _NOTHING


def _interim(found: _Sources) -> Offered:
    change, material = found
    return offer_interim(change.interims, material) if change.interims else _NOTHING


def _note(found: _Sources) -> Offered:
    change, material = found
    briefs = what_changes(change.person.id, change.before, wall_moment(change.taken_at))
    note = note_of(change.person.id, briefs, change.tasks, (change.cause.value, _decided(change), change.decided_by))
    codes = {code for one in briefs for code in (one.was, one.now)}
    request = replace(material.request, medicines={**load_catalogue(codes), **material.request.medicines})
    return offer_change_note(note, replace(material, request=request))


def _answer(found: _Sources) -> Offered:
    change, material = found
    briefs = what_changes(change.person.id, change.before, wall_moment(change.taken_at))
    codes = {code for one in briefs for code in (one.was, one.now)}
    request = replace(material.request, medicines={**load_catalogue(codes), **material.request.medicines})
    orders = (*change.before, *load_confirmed(change.person.id))
    prescribers = {order.prescriber for order in orders if order.medicine in codes and order.prescriber}
    answer = answer_of(change.person.id, briefs, tuple(sorted(prescribers)), load_change_steps(change))
    return offer_change_answer(answer, replace(material, request=request))


CHANGE_SHEETS: dict[str, tuple[str, Callable[[_Sources], Offered]]] = {
    "labels": ("New labels", _labels),
    "work": ("Work list", _work),
    "interim": ("Until the card is right", _interim),
    "note": ("What changes", _note),
    "answer": ("What was done, for the prescriber", _answer),
}


def _decided(change: StoredChange) -> Moment:
    return wall_moment(change.decided_at or change.taken_at)


def _material(change: StoredChange) -> Material:
    """All open cards of the person as they are planned now, and the orders that they answer."""
    cards = load_open_cards(change.person.id).cards
    request = _request(change, cards)
    sets = {card.set_id: load_set(card.set_id) for card in cards}
    beside = next((one.mine.alongside for one in reversed(sets.values())), ())
    person = PersonPlan(change.person.id, tuple(card.card for card in cards), beside, _NO_PROOF)
    plan = Plan("", request.first, request.days, request.profile.name, request.format.name, (person,), ())
    basis = next(iter(sets.values())).plan.basis if len(sets) == 1 else fingerprint(plan, request)
    homes, apart = load_home_names(), tell_apart(load_people())
    return Material(replace(plan, basis=basis), request, who_supplies(), load_fonts(), homes=homes, apart=apart)


def _request(change: StoredChange, cards: tuple[StoredCard, ...]) -> PlanRequest:
    """The latest set's request, over the days of all cards; where there is no card, that of the change."""
    days = [day for card in cards for day in (card.card.first, card.card.last)] or [_decided(change).day]
    first, last = min(days), max(days)
    sets = sorted({card.set_id for card in cards})
    if len(sets) == 1:
        return load_request(sets[0])
    ask = PlanAsk(first, min((last - first).days + 1, LONGEST))
    asked = draw_up_request(change.person.id, ask, Occasion(_NOBODY, change.decided_at or change.taken_at, StationId("")))
    lying = {content.medicine for card in cards for cavity in card.card.cavities for content in cavity.contents}
    return replace(asked, days=(last - first).days + 1, medicines={**load_catalogue(lying), **asked.medicines})

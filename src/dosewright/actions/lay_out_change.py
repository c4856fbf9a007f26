"""A change as it stands now: the person's cards wherever they are, the orders in force, everything that could be done about it.

Gathered from the store for the action that decides, and for the screen that asks. Nothing is decided or saved here.
"""

from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import lru_cache
from hashlib import sha256

from dosewright.actions.plan_set import draw_up_request
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.planning import PlanAsk
from dosewright.core.custody.whereabouts import as_open_card
from dosewright.core.interop.rework_rates_toml import parse_rates
from dosewright.core.packing.card_format import CardFormat
from dosewright.core.packing.request import PlanRequest
from dosewright.core.regimen.order import Order
from dosewright.core.rework.brief import Brief, Sides, brief
from dosewright.core.rework.layout import PersonLayout, lay_out_person
from dosewright.core.rework.on_demand import check_on_demand
from dosewright.core.rework.proof import check_layout
from dosewright.core.rework.rates import Rates
from dosewright.core.rework.situation import Situation
from dosewright.core.units.dosing_time import Moment, Timetable
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import PersonId
from dosewright.devices.shipped import read_shipped
from dosewright.store.calendar import wall_moment
from dosewright.store.cards import StoredCard
from dosewright.store.catalogue import load_catalogue
from dosewright.store.changes import OpenCards, StoredChange, load_open_cards, load_rates_text, was_planned
from dosewright.store.orders import load_confirmed
from dosewright.store.people import load_timetable
from dosewright.store.pharmacy import load_pharmacy, load_rules
from dosewright.store.value_json import format_value

__all__ = ["Gathered", "findings_of_layout", "gather", "load_rates", "shown_as", "what_changes"]


@dataclass(frozen=True, slots=True)
class Gathered:
    """Everything that a decision looks at. `layout` is what can be done; `faults` are the recount's, for the recommended combination."""

    change: StoredChange
    open: OpenCards
    situation: Situation
    layout: PersonLayout
    faults: tuple[Finding, ...]
    on_demand: tuple[Finding, ...]


def gather(change: StoredChange, on: Occasion, *, locked: bool = False) -> Gathered:
    """The change laid out as things stand at the occasion: doses that are due before it cannot change any more."""
    cards = load_open_cards(change.person.id, locked=locked)
    situation = _situation(change, cards.cards, on)
    layout = lay_out_person(change.person, situation)
    faults = () if layout.left else check_layout(layout, situation)
    return Gathered(change, cards, situation, layout, faults, check_on_demand(situation))


def findings_of_layout(found: Gathered) -> tuple[Finding, ...]:
    """What is found about the change as a whole, each once."""
    said: list[Finding] = []
    for one in (*found.layout.findings, *found.on_demand, *found.faults):
        if one not in said:
            said.append(one)
    return tuple(said)


def _situation(change: StoredChange, cards: tuple[StoredCard, ...], on: Occasion) -> Situation:
    now = wall_moment(on.at)
    after = _request(change.person.id, cards, on)
    before = replace(after, orders=change.before)
    mine = (one for one in cards if not one.state.replaced)  # nothing is given from the others, so that no dose is in them
    opened = (replace(as_open_card(one.card, one.state, change.person, now, after.medicines), form=_form(one, after)) for one in mine)
    return Situation(before, after, now, now, tuple(opened), load_rates())


def _form(card: StoredCard, after: PlanRequest) -> CardFormat | None:
    """The card's format, where it is another than cards have that are made now. One of the same name is the same, measured better."""
    form = load_rules(card.rules).card_format
    return form if form.name != after.format.name else None


def _request(person: PersonId, cards: tuple[StoredCard, ...], on: Occasion) -> PlanRequest:
    """The days of open cards, the orders as they are now, and every product that lies in a card."""
    first, last = _days(person, cards, wall_moment(on.at).day)
    asked = draw_up_request(person, PlanAsk(first, (last - first).days + 1), on)
    lying = {units.medicine for card in cards for units in card.state.placed}
    lying |= {content.medicine for card in cards for cavity in card.card.cavities for content in cavity.contents}
    lost = lying - asked.medicines.keys()
    return replace(asked, medicines={**asked.medicines, **load_catalogue(lost)}) if lost else asked


def _days(person: PersonId, cards: tuple[StoredCard, ...], today: date) -> tuple[date, date]:
    """From the first day of open cards to their last; from today on where a card that is over was to have it. No other day is a change's
    to fill: a set is planned for it, and would hold its doses a second time (R1). Where no card is open no day is left."""
    if not cards:
        return today - timedelta(days=1), today - timedelta(days=1)
    first = min(card.card.first for card in cards)
    begins = today if today < first and was_planned(person, today) else first
    return begins, max(card.card.last for card in cards)


def load_rates() -> Rates:
    """The pharmacy's own figures, else those that ship."""
    return _parsed(load_rates_text() or read_shipped("rework", "rates.toml"))


@lru_cache(maxsize=4)
def _parsed(text: str) -> Rates:
    return parse_rates(text)


def what_changes(person: PersonId, before: tuple[Order, ...], at: Moment, timetable: Timetable | None = None) -> tuple[Brief, ...]:
    """The difference between those orders and the ones in force, in five seconds' reading, from the moment on."""
    after = load_confirmed(person)
    medicines = load_catalogue({order.medicine for order in (*before, *after)})
    blends = load_rules(load_pharmacy().rules).suitability.blends
    return brief(Sides(before, after, at, timetable or load_timetable(person), medicines, tuple(blends)))


def shown_as(found: Gathered) -> str:
    """One name for what was shown: the orders, what happened to each card so far, and what is asked of each cavity. It does not change with
    the minute, but with a dosing time that goes by."""
    layout = found.layout
    cards = tuple((card.number, card.state.events) for card in found.open.cards)
    changes = tuple(format_value(one.changes) for one in layout.differences)
    choices = tuple((choice.name.value, choice.cards, choice.lawful) for choice in layout.choices)
    said = repr((cards, changes, choices, format_value(found.situation.after.orders)))
    return sha256(said.encode()).hexdigest()

"""The file of where cards are ⇄ open cards. In: JSON text and the plan. Out: every card of the plan with its place and its used cavities.

    {"cards": [{"number": "…", "place": "bench|shelf|delivery|home|person|missing", "used": [{"row": 1, "column": 2}]}]}

Without `used`, the cavities due before the moment are used. A card that the file does not name is taken to be sealed and in the
pharmacy, and a finding says so. Raises `PlanError` or `JsonError` for anything else.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from dosewright.core.interop.json_text import parse_json
from dosewright.core.interop.plan_object import PlanError, PlanObject
from dosewright.core.packing.plan_values import Card, Plan
from dosewright.core.rework.situation import Cell, OpenCard, Place
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import PersonId

__all__ = ["CardsIn", "cards_as_planned", "parse_card_states"]

_Stated = tuple[Place, frozenset[Cell] | None]


@dataclass(frozen=True, slots=True)
class CardsIn:
    """The plan's cards in its order, and a `decide` for each of which nothing was said."""

    cards: tuple[OpenCard, ...]
    findings: tuple[Finding, ...] = ()


def cards_as_planned(plan: Plan, at: Moment) -> CardsIn:
    """Every card sealed and in the pharmacy, the cavities before the moment used."""
    return CardsIn(tuple(_open(person.person, card, Place.SHELF, None, at) for person in plan.people for card in person.cards))


def parse_card_states(text: str, plan: Plan, at: Moment, names: Mapping[PersonId, str]) -> CardsIn:
    """The plan's cards as the text says they are."""
    top = PlanObject(parse_json(text), "state")
    cards: dict[str, Card] = {card.number: card for person in plan.people for card in person.cards}
    stated: dict[str, _Stated] = {}
    for entry in top.objects("cards"):
        number = entry.text("number")
        known = cards.get(number)
        if known is None or number in stated:
            wrong = "stands there twice" if number in stated else "is no card of the plan"
            raise PlanError(f'state.cards: "{number[:40]}" {wrong}.')
        stated[number] = _read(entry, known)
    top.finish()
    found = [(person.person, card, *stated.get(card.number, (Place.SHELF, None))) for person in plan.people for card in person.cards]
    unsaid = tuple(
        Finding("rework.place-assumed", Severity.DECIDE, {"person": person, "card": card.number}, {"name": names.get(person, person)})
        for person, card, _, _ in found
        if card.number not in stated and card.last >= at.day
    )
    return CardsIn(tuple(_open(person, card, place, used, at) for person, card, place, used in found), unsaid)


def _read(entry: PlanObject, card: Card) -> _Stated:
    place = entry.text("place")
    if place not in set(Place):
        raise PlanError(f'state.cards: card {card.number}: place "{place[:40]}" is none of {", ".join(Place)}.')
    used = frozenset(_cell(cell, card) for cell in entry.objects("used")) if entry.has("used") else None
    entry.finish()
    return Place(place), used


def _cell(cell: PlanObject, card: Card) -> Cell:
    found = cell.whole("row"), cell.whole("column")
    cell.finish()
    if found not in {(cavity.row, cavity.column) for cavity in card.cavities}:
        raise PlanError(f"state.cards: card {card.number} holds nothing in row {found[0]}, column {found[1]}.")
    return found


def _open(person: PersonId, card: Card, place: Place, used: frozenset[Cell] | None, at: Moment) -> OpenCard:
    before = frozenset((c.row, c.column) for c in card.cavities if Moment(c.day, c.time) < at)
    return OpenCard(card, person, place, before if used is None else used)

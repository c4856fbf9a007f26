"""Label sheets that are not a set's first: with lot and expiry in each cavity once it is filled, and for the rest of a cycle.

Comes in: the material of a set. Goes out: the material that `offer_labels` draws these from.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import timedelta

from dosewright.core.packing.plan_values import Card, PackedCavity
from dosewright.core.packing.profile import Profile, Sourced
from dosewright.core.paper.material import Material, Placed
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import CardNumber, OrderId

__all__ = ["LOTS", "check_rest", "lots_later", "rest_of_cycle", "with_lots"]

LOTS = "line.lot_expiry"


def with_lots(material: Material, placed: Mapping[tuple[CardNumber, OrderId], tuple[Placed, ...]]) -> Material:
    """Every cavity's label with lot and expiry of each medicine, whatever the profile asks: for places that require it in each cavity.

    A medicine without a lot is then a `stop`, as a required field without a value. Source: COMAR 10.34.36.08 B (Maryland assisted living).
    """
    line = Sourced("required", "COMAR 10.34.36.08 B", "edition not stated", "required", "retrieved")
    return replace(_of_profile(material, {**material.request.profile.fields, LOTS: line}), placed=placed)


def lots_later(material: Material) -> tuple[Material, tuple[Finding, ...]]:
    """The first labels of a set, before anything is filled: lots are not known yet. A `note` says that they are still to be labelled."""
    profile = material.request.profile
    if LOTS not in profile.required():
        return material, ()
    fields = {name: line for name, line in profile.fields.items() if name != LOTS}
    return _of_profile(material, fields), (Finding("paper.lots-to-come", Severity.NOTE),)


def _of_profile(material: Material, fields: Mapping[str, Sourced]) -> Material:
    profile: Profile = replace(material.request.profile, fields=fields)
    return replace(material, request=replace(material.request, profile=profile))


def rest_of_cycle(material: Material, at: Moment) -> Material:
    """The labels of what is left from that moment on: headers with the days and totals that are left, and only those cavities.

    For a card that begins again in the middle of its week. A card that is over by then has no labels. Empty cavities that are left say
    that nothing is to be taken.
    """
    people = tuple(
        replace(person, cards=tuple(_rest(card, at) for card in person.cards if _cells(card, at))) for person in material.plan.people
    )
    cells = {card.number: _cells(card, at) for person in material.plan.people for card in person.cards}
    return replace(material, plan=replace(material.plan, people=people), relabel=cells)


def check_rest(material: Material) -> tuple[Finding, ...]:
    """A `note` for each card for when it is needed: how many of its doses are gone is not known here, so all that keep are labelled."""
    cards = (card for person in material.plan.people for card in person.cards if card.as_needed)
    return tuple(
        Finding("paper.doses-gone-not-known", Severity.NOTE, {"card": card.number}, {"many": len(card.cavities)}) for card in cards
    )


def _rest(card: Card, at: Moment) -> Card:
    if card.as_needed:
        return replace(card, first=max(card.first, at.day), cavities=tuple(_still_good(card, at)))
    left = tuple(cavity for cavity in card.cavities if Moment(cavity.day, cavity.time) >= at)
    return replace(card, first=max(card.first, at.day), cavities=left)


def _still_good(card: Card, at: Moment) -> Iterator[PackedCavity]:
    """Doses for when they are needed that may still be taken: nothing says which are gone, so every one that keeps has its label."""
    return (cavity for cavity in card.cavities if cavity.day >= at.day)


def _cells(card: Card, at: Moment) -> frozenset[tuple[int, int]]:
    """The places whose moment is still to come; the columns' first days say which row is which day. Of a card for when it is needed, those
    whose last day is."""
    if card.as_needed:
        return frozenset((cavity.row, cavity.column) for cavity in _still_good(card, at))
    return frozenset(
        ((day - column.first).days + 1, column.column)
        for column in card.columns
        for n in range((card.last - column.first).days + 1)
        if card.first <= (day := column.first + timedelta(days=n)) <= card.last and Moment(day, column.time) >= at
    )

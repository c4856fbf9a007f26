"""Wednesday and Thursday: everybody's cards are planned and printed, and some are filled, checked, sealed, released, handed over.

Comes in: confirmed orders and stock. Goes out: sets at every stage, so that every screen has something to show. Needs Django set up.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import time, timedelta
from fractions import Fraction

from dosewright.actions.check_card import OwnCheck, check_card
from dosewright.actions.finish_filling import finish_filling
from dosewright.actions.hand_over_card import hand_over_card
from dosewright.actions.place_medicine import Placement, place_medicine
from dosewright.actions.plan_set import plan_set
from dosewright.actions.print_set import print_set
from dosewright.actions.release_card import release_card
from dosewright.actions.seal_card import seal_card
from dosewright.actions.send_back_card import send_back_card
from dosewright.actions.stop_order import stop_order
from dosewright.config.demo.bench import Bench, must
from dosewright.config.demo.medicines_file import gtin_of
from dosewright.config.demo.orders import CYCLE_DAYS, CYCLE_FIRST
from dosewright.core.checking.counts import Counts
from dosewright.core.custody.answering import finding_key
from dosewright.core.custody.near_miss import NearMissKind
from dosewright.core.custody.planning import PlanAsk
from dosewright.core.supply.scanning import Proof
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Finding, needs_a_person
from dosewright.core.units.ids import Gtin, MedicineCode, OrderId, PersonId
from dosewright.store.cards import StoredCard, StoredSet, load_set
from dosewright.store.people import load_people
from dosewright.store.stock import load_stock

__all__ = ["Planned", "change_an_order", "plan_everybody", "print_everything", "work_at_the_bench"]

_BECAUSE = "Talked over with the surgery on 24 February: goes on as ordered."


@dataclass(frozen=True, slots=True)
class Planned:
    """Sets that were planned, in order, and people who are left for the visitor with what stands in the way."""

    sets: tuple[int, ...]
    left: dict[PersonId, tuple[Finding, ...]]


def plan_everybody(bench: Bench) -> Planned:
    """Plan each person's cycle. Where a rule asks, the pharmacist's reason is given, but for The Lindens: there the visitor decides."""
    sets: list[int] = []
    left: dict[PersonId, tuple[Finding, ...]] = {}
    for person in sorted(load_people(), key=lambda one: (one.home or "~", one.id)):  # people at home last
        outcome = plan_set(person.id, bench.on("priya"), PlanAsk(CYCLE_FIRST, CYCLE_DAYS))
        if not outcome.done and person.home != "The Lindens":
            reasons = {finding_key(finding): _BECAUSE for finding in outcome.findings if needs_a_person((finding,))}
            outcome = plan_set(person.id, bench.on("priya"), PlanAsk(CYCLE_FIRST, CYCLE_DAYS, reasons=reasons))
        if outcome.done:
            sets.append(int(outcome.made[0]))
        else:
            left[person.id] = outcome.findings
    return Planned(tuple(sets), left)


def print_everything(bench: Bench, sets: Sequence[int]) -> tuple[int, ...]:
    """Labels, fill sheet and administration record of each set, kept in the store. The sets that could be printed, in order."""
    return tuple(set_id for set_id in sets if print_set(set_id, bench.on("tess")).done)


def work_at_the_bench(bench: Bench, sets: Sequence[int]) -> dict[str, int]:
    """The first sets get so far, each one less far than the one before. Goes out: cards by what was last done to them."""
    cards: dict[str, int] = {}
    for (deed, steps), set_id in zip(_SO_FAR, sets, strict=False):
        for step in steps:
            step(bench, set_id)
        cards[deed] = cards.get(deed, 0) + len(load_set(set_id).cards)
    return cards


def change_an_order(bench: Bench, set_id: int) -> OrderId:
    """One medicine of a set is stopped from the second week on: its cards are out of date until a pharmacist has decided (R9)."""
    order = load_set(set_id).cards[0].card.cavities[0].contents[0].order
    at = Moment(CYCLE_FIRST + timedelta(days=7), time(0, 0))
    must(stop_order(order, bench.on("priya"), at, "Stopped by the surgery by telephone, 26 February."))
    return order


def _fill(bench: Bench, set_id: int) -> None:
    """Every medicine in turn over all cards of the set, then each card is reported full."""
    for medicine in _medicines(load_set(set_id)):
        _place(bench, set_id, medicine)
    for card in load_set(set_id).cards:
        must(finish_filling(card.number, bench.on("tess")))


def _begin(bench: Bench, set_id: int) -> None:
    """The first half of the medicines is placed, then somebody is called away."""
    medicines = _medicines(load_set(set_id))
    for medicine in medicines[: (len(medicines) + 1) // 2]:
        _place(bench, set_id, medicine)


def _check(bench: Bench, set_id: int) -> None:
    for card in load_set(set_id).cards:
        must(check_card(card.number, bench.on("carys"), OwnCheck(_counted(card))))


def _send_back(bench: Bench, set_id: int) -> None:
    card = load_set(set_id).cards[0]
    reason = "Two halves of one tablet in the first row are crumbled."
    must(send_back_card(card.number, bench.on("carys"), NearMissKind.DAMAGED, reason))


def _seal(bench: Bench, set_id: int) -> None:
    for card in load_set(set_id).cards:
        must(seal_card(card.number, bench.on("milo")))


def _release(bench: Bench, set_id: int) -> None:
    for card in load_set(set_id).cards:
        must(release_card(card.number, bench.on("priya")))


def _hand_over(bench: Bench, set_id: int) -> None:
    found = load_set(set_id)
    for card in found.cards:
        must(hand_over_card(card.number, bench.on("len"), found.person.name))


# What was last done to a set's cards, and how they got there.
_SO_FAR: tuple[tuple[str, tuple[Callable[[Bench, int], None], ...]], ...] = (
    ("handed over", (_fill, _check, _seal, _release, _hand_over)),
    ("released", (_fill, _check, _seal, _release)),
    ("sealed", (_fill, _check, _seal)),
    ("checked", (_fill, _check)),
    ("filled", (_fill,)),
    ("sent back", (_fill, _send_back)),
    ("half filled", (_begin,)),
)


def _place(bench: Bench, set_id: int, medicine: MedicineCode) -> None:
    """From the earliest lot that has enough and lasts: its bottle is scanned first."""
    gtin = Gtin(gtin_of(medicine))
    for stock in load_stock(medicine):
        batch = stock.batch
        proof = Proof(gtin=gtin, named=medicine, scanned_lot=batch.lot, scanned_expiry=batch.expiry)
        outcome = place_medicine(set_id, bench.on("tess"), Placement(medicine, batch.lot, batch.expiry, proof))
        if outcome.done:
            return
    must(outcome)


def _medicines(found: StoredSet) -> tuple[MedicineCode, ...]:
    """What goes into the set's cards, in order of first need."""
    contents = (content for card in found.cards for cavity in card.card.cavities for content in cavity.contents)
    return tuple(dict.fromkeys(content.medicine for content in contents))


def _counted(card: StoredCard) -> Counts:
    """What a checker counts in each cavity of a card that is as it should be."""
    return {
        (cavity.row, cavity.column): sum((content.quantity.count for content in cavity.contents), Fraction(0))
        for cavity in card.card.cavities
    }

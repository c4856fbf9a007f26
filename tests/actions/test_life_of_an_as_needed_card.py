"""A card for an as-needed medicine at the bench: planned beside what is due, printed, filled, checked, released, back, and out of date."""

from datetime import date
from fractions import Fraction

import pytest
from tests import small_bench as bench
from tests.bench_fixtures import on

from dosewright.actions.check_card import OwnCheck, check_card
from dosewright.actions.finish_filling import finish_filling
from dosewright.actions.hand_over_card import hand_over_card
from dosewright.actions.place_medicine import place_medicine
from dosewright.actions.release_card import release_card
from dosewright.actions.seal_card import seal_card
from dosewright.actions.stop_order import stop_order
from dosewright.actions.take_return import take_return
from dosewright.core.custody.event import Role
from dosewright.core.custody.stage import Stage
from dosewright.core.supply.placement import Cell
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import OrderId
from dosewright.store.cards import load_set
from dosewright.store.ledger import check_ledger
from dosewright.store.papers import load_papers

pytestmark = pytest.mark.usefixtures("guarded")


def test_it_lives_as_every_card_does() -> None:
    needed = bench.as_needed_filled()
    set_id = bench.now(needed).set_id
    card = bench.now(needed).card
    assert card.as_needed
    assert len(card.cavities) == 21
    assert all(paper.pdf.startswith(b"%PDF") for paper in load_papers(set_id))
    bench.must(check_card(needed, on(Role.CHECKER, minutes=20), OwnCheck(bench.counts(needed))))
    bench.must(seal_card(needed, on(minutes=21)))
    bench.must(release_card(needed, on(Role.PHARMACIST, minutes=22)))
    bench.must(hand_over_card(needed, on(minutes=23), "Wilhelmina Okonedo-Hart"))
    left = {Cell(needed, cavity.row, cavity.column, OrderId("RX2")): Fraction(1) for cavity in card.cavities[5:]}
    uncounted = take_return(needed, on(minutes=30), left)
    assert not uncounted.done  # nothing of it was due, so that no cavity may be taken for given
    gone = {Cell(needed, cavity.row, cavity.column, OrderId("RX2")): Fraction(0) for cavity in card.cavities[:5]}
    bench.must(take_return(needed, on(minutes=31), left | gone))
    assert bench.now(needed).state.stage is Stage.RETURNED
    assert check_ledger() == ()


def test_a_wrong_count_is_found_by_the_check() -> None:
    needed = bench.as_needed_filled()
    seen = bench.counts(needed)
    seen[7, 3] = Fraction(2)
    assert not check_card(needed, on(Role.CHECKER, minutes=20), OwnCheck(seen)).done


def test_a_lot_that_does_not_last_as_long_as_the_card_is_refused() -> None:
    """R5: no date stands on a cavity, so that each unit must last until the card's own last day."""
    bench.opened_for_as_needed()
    bench.ordered(bench.NEEDED)
    set_id = bench.planned()
    bench.printed(set_id)
    (card,) = load_set(set_id).cards
    assert card.card.beyond_use == date(2026, 4, 27)  # eight weeks
    bench.must(bench.stocked(bench.METFORMIN, lot="EARLY", expiry=date(2026, 3, 20)))
    placed = place_medicine(set_id, on(minutes=5), bench.placement(bench.METFORMIN, lot="EARLY", expiry=date(2026, 3, 20)))
    assert not placed.done or not finish_filling(card.number, on(minutes=6)).done


def test_it_is_out_of_date_once_its_order_stops() -> None:
    """R9: nothing of it is due, and still it may not be checked until somebody has decided."""
    needed = bench.as_needed_filled()
    due = load_set(bench.now(needed).set_id).cards[0].number
    bench.must(stop_order(OrderId("RX2"), on(Role.PHARMACIST, minutes=10), Moment(date(2026, 3, 3)), "stopped by the prescriber"))
    assert bench.now(needed).state.out_of_date
    assert bench.now(due).state.out_of_date  # its header names what is in the other card
    assert not check_card(needed, on(Role.CHECKER, minutes=20), OwnCheck(bench.counts(needed))).done

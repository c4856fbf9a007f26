"""R8: the checker is not the filler, and only a pharmacist releases. The check is against the orders, by the checker's own counts."""

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
from dosewright.actions.send_back_card import send_back_card
from dosewright.actions.take_out_medicine import TakenOut, take_out_medicine
from dosewright.core.custody.event import Role
from dosewright.core.custody.near_miss import NearMissKind
from dosewright.core.custody.stage import Stage
from dosewright.core.supply.movement import Place
from dosewright.core.units.ids import CardNumber, Lot
from dosewright.store.ledger import load_card_events
from dosewright.store.near_misses import load_near_misses

pytestmark = pytest.mark.usefixtures("guarded")


def own(card: CardNumber, because: str = "") -> OwnCheck:
    return OwnCheck(bench.counts(card), because)


def test_r8_whoever_filled_a_card_may_not_check_it() -> None:
    set_id, card = bench.ready_to_fill()
    for medicine in (bench.BISOPROLOL, bench.METFORMIN):
        bench.must(place_medicine(set_id, on(Role.PHARMACIST), bench.placement(medicine)))
    bench.must(finish_filling(card, on(Role.TECHNICIAN)))
    assert bench.refused(check_card(card, on(Role.PHARMACIST, minutes=90), own(card, "nobody else is here"))) == {"checking.same-hands"}
    bench.must(check_card(card, on(Role.PHARMACIST, "pharmacist two"), own(card)))


def test_r8_one_unit_laid_by_a_second_pair_of_hands_is_enough() -> None:
    set_id, card = bench.ready_to_fill()
    bench.must(place_medicine(set_id, on(), bench.placement(bench.BISOPROLOL)))
    bench.must(place_medicine(set_id, on(Role.CHECKER), bench.placement(bench.METFORMIN)))
    bench.must(finish_filling(card, on()))
    assert bench.refused(check_card(card, on(Role.CHECKER), own(card))) == {"checking.same-hands"}


def test_r8_a_technician_may_not_check_at_all() -> None:
    card = bench.filled()
    assert bench.refused(check_card(card, on(Role.TECHNICIAN, "technician two"), own(card))) == {"custody.no-right"}


@pytest.mark.parametrize("role", [role for role in Role if role is not Role.PHARMACIST])
def test_r8_only_a_pharmacist_releases(role: Role) -> None:
    card = bench.sealed()
    assert bench.refused(release_card(card, on(role, minutes=30))) == {"custody.no-right"}
    assert bench.now(card).state.stage is Stage.SEALED


def test_the_release_bears_the_printed_name_the_moment_and_what_it_means() -> None:
    card = bench.released()
    signed = load_card_events(card)[-1]
    assert (signed.by.name, signed.at) == ("pharmacist one", on(minutes=22).at)
    assert "checked by somebody who did not fill it" in str(signed.facts["meaning"])


def test_r5_a_card_that_lay_on_the_shelf_past_its_last_day_is_neither_released_nor_handed_over() -> None:
    weeks = 9 * 7 * 24 * 60  # the shipped UK profile lets a card keep for eight
    card = bench.sealed()
    assert bench.refused(release_card(card, on(Role.PHARMACIST, minutes=weeks))) == {"checking.card-past"}
    bench.must(release_card(card, on(Role.PHARMACIST, minutes=22)))
    assert bench.refused(hand_over_card(card, on(minutes=weeks), "somebody")) == {"checking.card-past"}


def test_a_count_that_differs_keeps_the_card_from_being_accepted() -> None:
    card = bench.filled()
    counts = bench.counts(card)
    place = min(counts)
    wrong = check_card(card, on(Role.CHECKER), OwnCheck(counts | {place: counts[place] + 1}))
    assert bench.refused(wrong) == {"checking.count-differs"}
    missing = check_card(card, on(Role.CHECKER), OwnCheck({at: amount for at, amount in counts.items() if at != place}))
    assert bench.refused(missing) == {"checking.not-counted"}
    assert bench.now(card).state.stage is Stage.FILLED


def test_a_card_sent_back_is_filled_right_and_checked_anew_and_the_near_miss_is_kept() -> None:
    card = bench.filled()
    bench.must(send_back_card(card, on(Role.CHECKER), NearMissKind.MISSING, "row 3: the half is a crumb"))
    (miss,) = load_near_misses()
    assert (miss.card, miss.stage, miss.kind, miss.found_by) == (card, Stage.FILLED, NearMissKind.MISSING, "checker one")
    stored = bench.now(card)
    units = next(one for one in stored.state.placed if one.medicine == bench.METFORMIN and one.cell.row == 3)
    crumb = TakenOut(units.medicine, units.lot, {units.cell: Fraction(1, 2)}, Place.WASTE, "a crumb")
    bench.must(take_out_medicine(card, on(), crumb))
    bench.must(place_medicine(stored.set_id, on(), bench.placement(bench.METFORMIN)))
    bench.must(finish_filling(card, on()))
    bench.must(check_card(card, on(Role.CHECKER), own(card)))


def test_sending_back_needs_a_reason() -> None:
    card = bench.filled()
    assert bench.refused(send_back_card(card, on(Role.CHECKER), NearMissKind.OTHER, " ")) == {"custody.no-reason"}


def test_r10_what_is_taken_out_of_a_card_that_was_sealed_goes_to_waste() -> None:
    card = bench.sealed()
    bench.must(send_back_card(card, on(Role.PHARMACIST), NearMissKind.DAMAGED, "the seal tore"))
    units = next(one for one in bench.now(card).state.placed if one.medicine == bench.BISOPROLOL)
    out = {units.cell: Fraction(1)}
    to_stock = TakenOut(units.medicine, Lot("LOT42A"), out, Place.STOCK, "torn")
    assert bench.refused(take_out_medicine(card, on(), to_stock)) == {"supply.to-waste-only"}
    bench.must(take_out_medicine(card, on(), TakenOut(units.medicine, units.lot, out, Place.WASTE, "torn")))


def test_a_card_checked_before_it_was_sent_back_cannot_be_sealed_on_the_old_check() -> None:
    card = bench.checked()
    bench.must(send_back_card(card, on(Role.CHECKER), NearMissKind.EXTRA, "one too many"))
    assert bench.refused(seal_card(card, on())) == {"custody.wrong-stage"}

"""The check of some cavities only, where the profile lets a checker choose: what must be counted, and what the ledger keeps of it."""

from dataclasses import replace
from fractions import Fraction

import pytest
from tests import small_bench as bench
from tests.bench_fixtures import actor, on

from dosewright.actions.check_card import OwnCheck, check_card
from dosewright.actions.check_plan import load_check_plan
from dosewright.actions.finish_filling import finish_filling
from dosewright.actions.place_medicine import Placement, place_medicine
from dosewright.actions.send_back_card import send_back_card
from dosewright.actions.take_out_medicine import TakenOut, take_out_medicine
from dosewright.core.checking.check_plan import CheckPlan, Draw, Marks, Whole, Why, plan_check
from dosewright.core.custody.cells import parse_spots
from dosewright.core.custody.event import Deed, Role
from dosewright.core.custody.near_miss import NearMissKind
from dosewright.core.medicines.high_risk import alike_in, is_high_risk
from dosewright.core.medicines.suitability import NO_RULES
from dosewright.core.supply.movement import Place
from dosewright.core.supply.placement import Cell
from dosewright.core.supply.scanning import Proof
from dosewright.core.units.ids import CardNumber, OrderId
from dosewright.devices.high_risk import load_high_risk
from dosewright.store.catalogue import load_catalogue, load_medicine, save_medicine
from dosewright.store.ledger import load_card_events

pytestmark = pytest.mark.usefixtures("guarded")
CHECKER = actor(Role.CHECKER)


def plan_of(card: CardNumber, by: str = "") -> CheckPlan:
    return load_check_plan(bench.now(card), actor(Role.PHARMACIST, by) if by else CHECKER)


def counted(card: CardNumber, plan: CheckPlan) -> OwnCheck:
    return OwnCheck({spot: amount for spot, amount in bench.counts(card).items() if spot in plan.demanded})


def test_a_profile_that_does_not_permit_a_choice_asks_for_every_cavity_and_draws_no_seed() -> None:
    card = bench.filled()
    assert not plan_of(card).is_choice
    assert "seed" not in load_card_events(card)[-1].facts


def test_r8_the_plan_demands_every_half_and_half_of_the_rest_and_the_ledger_says_what_that_misses() -> None:
    card = bench.filled_for_a_choice()
    plan = plan_of(card)
    assert (len(plan.always), len(plan.drawn), plan.others) == (7, 4, 7)
    assert {why for reasons in plan.always.values() for why in reasons} == {Why.PART}
    short = dict(list(counted(card, plan).counts.items())[1:])
    assert bench.refused(check_card(card, on(Role.CHECKER), OwnCheck(short))) == {"checking.not-counted"}
    bench.must(check_card(card, on(Role.CHECKER), counted(card, plan)))
    said = load_card_events(card)[-1].facts
    assert said["missed if one is wrong"] == Fraction(3, 7)
    assert (said["cavities"], said["of"], said["always"], said["drawn"], said["others"]) == (11, 14, 7, 4, 7)

    # whoever reads the ledger later draws the same again
    again = plan_check(bench.now(card).filled, Marks(), Draw(50, str(said["seed"])))
    assert again.demanded == plan.demanded == parse_spots(said["counted"])


def test_whoever_counts_all_is_recorded_as_having_counted_all() -> None:
    card = bench.filled_for_a_choice()
    bench.must(check_card(card, on(Role.CHECKER), OwnCheck(bench.counts(card))))
    assert (said := load_card_events(card)[-1].facts)["cavities"] == 14
    assert "of" not in said


def test_after_a_count_that_differs_every_cavity_is_counted() -> None:
    card = bench.filled_for_a_choice()
    plan = plan_of(card)
    own = counted(card, plan)
    spot = min(own.counts)
    assert bench.refused(check_card(card, on(Role.CHECKER), OwnCheck({**own.counts, spot: Fraction(9)}))) == {"checking.count-differs"}
    assert plan_of(card).draw.whole is Whole.DIFFERED
    assert bench.refused(check_card(card, on(Role.CHECKER), own)) == {"checking.not-counted"}
    bench.must(check_card(card, on(Role.CHECKER), OwnCheck(bench.counts(card))))


def test_a_card_that_was_sent_back_is_counted_whole_and_what_was_corrected_is_singled_out() -> None:
    card = bench.filled_for_a_choice()
    bench.must(send_back_card(card, on(Role.CHECKER), NearMissKind.MISSING, "row 3"))
    assert bench.now(card).state.check_seed == ""
    units = next(one for one in bench.now(card).state.placed if one.medicine == bench.BISOPROLOL and one.cell.row == 3)
    bench.must(take_out_medicine(card, on(), TakenOut(units.medicine, units.lot, {units.cell: Fraction(1)}, Place.WASTE, "a crumb")))
    bench.must(place_medicine(bench.now(card).set_id, on(), bench.placement(bench.BISOPROLOL)))
    bench.must(finish_filling(card, on()))
    plan = plan_of(card)
    assert (plan.draw.whole, plan.is_choice) == (Whole.SENT_BACK, False)
    assert Why.CORRECTED in plan.always[units.cell.row, units.cell.column]


def test_what_was_laid_in_without_a_scan_is_singled_out_and_the_filler_alone_counts_all() -> None:
    set_id, card = bench.ready_for_a_choice()
    cell = {Cell(card, 2, 1, OrderId("RX1")): Fraction(1)}
    unscanned = Placement(bench.BISOPROLOL, bench.LOTS[bench.BISOPROLOL], bench.EXPIRY, Proof(reason="the code is torn"), cell)
    bench.must(place_medicine(set_id, on(), unscanned))
    bench.filled((set_id, card))
    assert {spot for spot, why in plan_of(card).always.items() if Why.UNSCANNED in why} == {(2, 1)}
    assert plan_of(card, "technician one").draw.whole is Whole.ALONE


def test_what_is_of_high_risk_is_singled_out_by_a_flag_or_by_the_list_that_ships() -> None:
    card = bench.filled_for_a_choice()
    save_medicine(replace(load_medicine(bench.BISOPROLOL), flags=frozenset({"high-risk"})))
    assert len([why for why in plan_of(card).always.values() if Why.HIGH_RISK in why]) == 7
    plain = load_catalogue([bench.METFORMIN])[bench.METFORMIN]
    for name, risky in (("warfarin", True), ("Lithium carbonate", True), ("metformin", False), ("calcipotriol", False)):
        assert is_high_risk(replace(plain, name=name), NO_RULES, load_high_risk()) is risky
    assert all(line.source and line.dated and line.evidence for line in load_high_risk())


def test_two_strengths_of_one_medicine_and_two_that_look_the_same_could_be_taken_for_each_other() -> None:
    bench.opened()
    one = load_medicine(bench.BISOPROLOL)
    stronger = replace(one, code="bisoprolol-10", strength="10 mg", mark="B 10", colour="pink")  # type: ignore[arg-type]
    twin = replace(one, code="amlodipine-5", name="amlodipine", mark="")  # type: ignore[arg-type]
    assert alike_in([one, stronger]) == {one.code, stronger.code}
    assert alike_in([one, twin]) == {one.code, twin.code}
    assert alike_in([one, load_medicine(bench.METFORMIN)]) == frozenset()


def test_the_seed_is_drawn_anew_each_time_the_card_is_full_and_never_before() -> None:
    set_id, card = bench.ready_for_a_choice()
    assert bench.now(card).state.check_seed == ""
    bench.filled((set_id, card))
    seeds = [str(event.facts["seed"]) for event in load_card_events(card) if event.deed is Deed.FILLED]
    assert [len(seed) for seed in seeds] == [32]

"""A card that a recall holds says so where work is looked for, before anybody opens it, and who brings it on."""

import pytest
from tests import small_bench as bench
from tests.bench_fixtures import on
from tests.web.conftest import SignIn
from tests.web.test_screens import words

from dosewright.actions.hand_over_card import hand_over_card
from dosewright.actions.recall_lot import lift_recall, recall_lot
from dosewright.actions.send_back_card import send_back_card
from dosewright.actions.take_out_medicine import TakenOut, take_out_medicine
from dosewright.core.custody.event import Role
from dosewright.core.custody.near_miss import NearMissKind
from dosewright.core.supply.movement import Place

pytestmark = pytest.mark.usefixtures("guarded")
LOT = bench.LOTS[bench.BISOPROLOL]
HELD = "1 held by a recall"


def recalled() -> None:
    bench.must(recall_lot(bench.BISOPROLOL, on(Role.PHARMACIST, minutes=30), LOT, "Class 2", "another strength in some bottles"))


def test_the_work_list_says_that_a_recall_holds_a_card_and_who_brings_it_on(sign_in: SignIn) -> None:
    card = bench.sealed()
    technician, pharmacist = sign_in(Role.TECHNICIAN), sign_in(Role.PHARMACIST)
    assert HELD not in words(technician.get("/"))
    recalled()
    assert f"{HELD} : a checker or a pharmacist" in words(technician.get("/"))
    page = pharmacist.get("/")
    assert HELD in words(page)
    assert f"/cards/{card}/send-back" in page.content.decode()
    assert f"/cards/{card}/release" not in page.content.decode()
    assert HELD in words(pharmacist.get("/?whose=blocked"))
    bench.must(send_back_card(card, on(Role.PHARMACIST, minutes=31), NearMissKind.DAMAGED, "its lot is recalled"))
    assert f"/cards/{card}/fill/take-out" in technician.get("/").content.decode()
    pieces = {units.cell: units.amount for units in bench.now(card).state.placed if units.medicine == bench.BISOPROLOL}
    bench.must(take_out_medicine(card, on(minutes=32), TakenOut(bench.BISOPROLOL, LOT, pieces, Place.WASTE, "recalled")))
    assert HELD not in words(technician.get("/"))


def test_deliveries_hold_back_what_is_recalled_and_say_whose_matter_it_is(sign_in: SignIn) -> None:
    card = bench.released()
    driver, pharmacist = sign_in(Role.DRIVER), sign_in(Role.PHARMACIST)
    assert f"/cards/{card}/hand-over" in driver.get("/deliveries").content.decode()
    recalled()
    page = driver.get("/deliveries")
    for said in ("0 cards may leave", HELD, "A lot in it is recalled, so it stays here. Whose matter it is: a pharmacist."):
        assert said in words(page)
    assert "/hand-over" not in page.content.decode()
    assert f"/cards/{card}/withdraw" in pharmacist.get("/deliveries").content.decode()


def test_a_card_on_its_way_says_that_a_lot_in_it_is_recalled(sign_in: SignIn) -> None:
    card = bench.released()
    bench.must(hand_over_card(card, on(minutes=20), "Wilhelmina Okonedo-Hart"))
    recalled()
    driver, said = sign_in(Role.DRIVER), "A lot in it is recalled: ring the pharmacy"
    assert said in words(driver.get("/deliveries"))
    bench.must(lift_recall(bench.BISOPROLOL, on(Role.PHARMACIST, minutes=40), LOT, "the maker took it back"))
    assert said not in words(driver.get("/deliveries"))

"""Counts that were begun before the card was opened again accept nothing: they are of a card that is no more."""

import re

import pytest
from django.test import Client
from tests import small_bench as bench
from tests.bench_fixtures import on
from tests.web.conftest import SignIn
from tests.web.test_screens import words

from dosewright.actions.finish_filling import finish_filling
from dosewright.actions.place_medicine import place_medicine
from dosewright.actions.send_back_card import send_back_card
from dosewright.actions.take_out_medicine import TakenOut, take_out_medicine
from dosewright.core.custody.event import Role
from dosewright.core.custody.near_miss import NearMissKind
from dosewright.core.custody.stage import Stage
from dosewright.core.supply.movement import Place
from dosewright.core.units.ids import CardNumber

pytestmark = pytest.mark.usefixtures("guarded")


def begun(checker: Client, card: CardNumber) -> dict[str, str]:
    """The form of counts as it was when the counting began, filled in right."""
    page = checker.get(f"/cards/{card}/check/counts").content.decode()
    seen = re.search(r'name="seen" value="(\d+)"', page)
    assert seen
    return {"seen": seen[1]} | {f"c{row}-{column}": str(float(asked)) for (row, column), asked in bench.counts(card).items()}


def filled_anew(card: CardNumber) -> None:
    """Somebody else finds a fault, and the card is filled again."""
    bench.must(send_back_card(card, on(Role.PHARMACIST, minutes=10), NearMissKind.BADLY_SPLIT, "a half is a crumb"))
    halves = {units.cell: units.amount for units in bench.now(card).state.placed if units.medicine == bench.METFORMIN}
    out = TakenOut(bench.METFORMIN, bench.LOTS[bench.METFORMIN], halves, Place.WASTE, "crumbs")
    bench.must(take_out_medicine(card, on(minutes=11), out))
    bench.must(place_medicine(bench.now(card).set_id, on(minutes=12), bench.placement(bench.METFORMIN)))
    bench.must(finish_filling(card, on(minutes=13)))


def test_counts_begun_before_the_card_was_opened_again_are_not_taken(sign_in: SignIn) -> None:
    card, checker = bench.filled(), sign_in(Role.CHECKER)
    old = begun(checker, card)
    filled_anew(card)
    answer = checker.post(f"/cards/{card}/check/counts", old | {"token": "t1"})
    assert answer.status_code == 422
    assert "after you began to count" in words(answer)
    # A slip of the keys on the way does not make them counts of the card as it is now.
    slip = checker.post(f"/cards/{card}/check/counts", old | {"c1-1": "1,500", "token": "t2"}).content.decode()
    assert f'name="seen" value="{old["seen"]}"' in slip
    assert bench.now(card).state.stage is Stage.FILLED
    assert checker.post(f"/cards/{card}/check/counts", begun(checker, card) | {"token": "t3"}).status_code == 302
    assert bench.now(card).state.stage is Stage.CHECKED

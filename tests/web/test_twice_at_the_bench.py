"""What hands do to a browser: pressing twice, going back, two tabs, a clock that was set back. Nothing is lost and nothing done twice."""

from datetime import timedelta
from typing import Any

from django.test import Client
from tests import small_bench as bench
from tests.web.conftest import SignIn

from dosewright.core.custody.event import Deed, Role
from dosewright.core.supply.account import check_accounts
from dosewright.devices.clock import FixedClock
from dosewright.store.card_units import load_units_in_cards
from dosewright.store.ledger import check_ledger, load_card_events
from dosewright.store.stock import load_movements, load_stock_by_lot

CELLS = [f"{row}.1=1=RX1" for row in range(1, 8)]
BOTTLE = {"medicine": "bisoprolol-5", "scan": "01062910415002131727063010LOT42A", "lot": "LOT42A", "expiry": "2027-06-30"}


def place(client: Client, card: str, token: str, cells: list[str] = CELLS) -> int:
    """A placement as one tab's form sends it."""
    return client.post(f"/cards/{card}/fill/place", {**BOTTLE, "cell": cells, "token": token}).status_code


def placements(card: Any) -> int:
    return [event.deed for event in load_card_events(card)].count(Deed.PLACED)


def sound() -> None:
    assert not [finding for finding in check_ledger() if finding.code != "custody.clock-back"]
    assert check_accounts(load_movements(), load_stock_by_lot(), load_units_in_cards()) == ()


def test_two_tabs_show_the_same_open_cavities_and_one_of_them_places(sign_in: SignIn) -> None:
    _, card = bench.ready_to_fill()
    client = sign_in(Role.TECHNICIAN)
    assert [place(client, card, tab) for tab in ("tab one", "tab two")] == [302, 422]
    assert placements(card) == 1
    sound()


def test_a_form_that_the_back_button_brought_up_again_is_the_same_form(sign_in: SignIn) -> None:
    _, card = bench.ready_to_fill()
    client = sign_in(Role.TECHNICIAN)
    assert place(client, card, "form 1") == 302
    taken = {"medicine": "bisoprolol-5", "lot": "LOT42A", "cell": CELLS, "to": "stock", "reason": "wrong card", "token": "form 2"}
    assert client.post(f"/cards/{card}/fill/take-out", taken).status_code == 302
    assert place(client, card, "form 1") == 302  # back, and sent again: answered as it was
    assert placements(card) == 1
    assert not bench.now(card).state.placed
    assert place(client, card, "form 3") == 302  # a form of its own counts
    assert len(bench.now(card).state.placed) == 7
    sound()


def test_a_form_of_a_stage_that_is_past_changes_nothing(sign_in: SignIn) -> None:
    card = bench.sealed()
    client = sign_in(Role.TECHNICIAN)
    before = len(load_card_events(card))
    assert place(client, card, "an old tab") == 422
    assert client.post(f"/cards/{card}/filled", {"token": "another old tab"}).status_code == 422
    assert len(load_card_events(card)) == before
    sound()


def test_a_clock_that_is_set_back_in_the_middle_is_noted_and_loses_nothing(sign_in: SignIn, settings: Any) -> None:
    _, card = bench.ready_to_fill()
    client = sign_in(Role.TECHNICIAN)
    assert place(client, card, "form 1", CELLS[:3]) == 302
    settings.BENCH_CLOCK = FixedClock(settings.BENCH_CLOCK.now() - timedelta(hours=5))
    assert place(client, card, "form 2", CELLS[3:]) == 302  # to the locked bench: a clock that jumps counts as too long away
    assert placements(card) == 1
    assert place(sign_in(Role.TECHNICIAN), card, "form 3", CELLS[3:]) == 302
    assert placements(card) == 2
    assert len(bench.now(card).state.placed) == 7
    assert {finding.code for finding in check_ledger()} == {"custody.clock-back"}
    sound()


def test_an_entry_keeps_its_place_whatever_the_clock_says(sign_in: SignIn, settings: Any) -> None:
    """The order of a card's life is the ledger's, never the clock's."""
    _, card = bench.ready_to_fill()
    for number, hours in enumerate((0, -7, 3)):
        settings.BENCH_CLOCK.advance(timedelta(hours=hours))
        assert place(sign_in(Role.TECHNICIAN), card, f"form {number}", CELLS[number : number + 1]) == 302
    placed = [event.facts["cells"] for event in load_card_events(card) if event.deed is Deed.PLACED]
    assert placed == [(cell,) for cell in CELLS[:3]]

"""One card from order to hand-over, and every step that is refused out of its turn."""

from collections.abc import Callable

import pytest
from tests import small_bench as bench
from tests.bench_fixtures import on

from dosewright.actions.check_card import OwnCheck, check_card
from dosewright.actions.finish_filling import finish_filling
from dosewright.actions.hand_over_card import hand_over_card
from dosewright.actions.outcome import Outcome
from dosewright.actions.release_card import release_card
from dosewright.actions.seal_card import seal_card
from dosewright.core.custody.event import Role
from dosewright.core.custody.stage import Stage
from dosewright.core.units.ids import CardNumber
from dosewright.store.ledger import check_ledger, load_card_events
from dosewright.store.papers import load_papers

pytestmark = pytest.mark.usefixtures("guarded")


def test_a_card_goes_from_order_to_hand_over_and_its_history_says_so() -> None:
    card = bench.handed_over()
    assert bench.now(card).state.stage is Stage.HANDED_OVER
    deeds = [event.deed.value for event in load_card_events(card)]
    assert deeds == ["planned", "printed", "placed", "placed", "filled", "checked", "sealed", "released", "handed over"]
    assert check_ledger() == ()


def test_what_was_printed_is_kept_byte_for_byte_with_its_hash() -> None:
    bench.opened()
    bench.ordered()
    set_id = bench.planned()
    bench.printed(set_id)
    papers = load_papers(set_id)
    assert {paper.kind for paper in papers} == {"labels", "fill", "record"}
    assert all(paper.pdf.startswith(b"%PDF") for paper in papers)
    bench.printed(set_id, "the printer jammed")
    again = load_papers(set_id)
    assert {(paper.kind, paper.copy) for paper in again} == {(kind, copy) for kind in ("labels", "fill", "record") for copy in (1, 2)}
    assert {paper.sha256 for paper in papers} == {paper.sha256 for paper in again if paper.copy == 1}  # nothing printed is replaced
    assert {paper.reason for paper in again if paper.copy == 2} == {"the printer jammed"}


STEPS: dict[str, tuple[Callable[[], CardNumber], Callable[[CardNumber], Outcome]]] = {
    "check before filling ends": (lambda: bench.ready_to_fill()[1], lambda card: check_card(card, on(Role.CHECKER), OwnCheck({}))),
    "finish a card with nothing in it": (lambda: bench.ready_to_fill()[1], lambda card: finish_filling(card, on())),
    "seal before the check": (bench.filled, lambda card: seal_card(card, on())),
    "release before the seal": (bench.checked, lambda card: release_card(card, on(Role.PHARMACIST))),
    "hand over before release": (bench.sealed, lambda card: hand_over_card(card, on(), "somebody")),
    "release twice": (bench.released, lambda card: release_card(card, on(Role.PHARMACIST))),
    "fill what is released": (bench.released, lambda card: finish_filling(card, on())),
}


@pytest.mark.parametrize("step", STEPS)
def test_no_step_is_taken_out_of_its_turn(step: str) -> None:
    build, attempt = STEPS[step]
    card = build()
    before = bench.now(card).state
    assert "custody.wrong-stage" in bench.refused(attempt(card))
    assert bench.now(card).state == before


def test_a_card_that_is_not_there_is_a_finding() -> None:
    bench.opened()
    assert bench.refused(seal_card(CardNumber("000000000000000"), on())) == {"custody.not-there"}

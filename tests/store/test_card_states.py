"""What a card is now is the same whether it is remembered or read: also after a rollback, by another hand, and in a changed ledger."""

from fractions import Fraction

import pytest
from django.db import connection, transaction
from pytest_django import DjangoAssertNumQueries
from tests import small_bench as bench
from tests.bench_fixtures import on

from dosewright.actions.finish_filling import finish_filling
from dosewright.actions.place_medicine import Placement, place_medicine
from dosewright.core.custody.event import Deed
from dosewright.core.custody.stage import Stage
from dosewright.core.custody.state import CardState, state_of
from dosewright.core.supply.placement import Cell
from dosewright.core.units.ids import CardNumber, OrderId
from dosewright.store import card_states
from dosewright.store.card_states import load_states
from dosewright.store.cards import load_card, save_event
from dosewright.store.guards import unguard_ledger
from dosewright.store.ledger import load_card_events
from dosewright.store.models import LedgerEntry

pytestmark = pytest.mark.usefixtures("guarded")


def read_whole(card: CardNumber) -> CardState:
    """By all its events, and nothing that is remembered."""
    return state_of(card, load_card_events(card))


def one_cell(card: CardNumber, day: int) -> Placement:
    """Bisoprolol into the cavity of one day."""
    return bench.placement(bench.BISOPROLOL, cells={Cell(card, day, 1, OrderId("RX1")): Fraction(1)})


def test_step_by_step_it_is_what_all_events_say() -> None:
    set_id, card = bench.ready_to_fill()
    for day in range(1, 8):
        bench.must(place_medicine(set_id, on(minutes=day), one_cell(card, day)))
        assert load_states([card]) == {card: read_whole(card)}
    bench.must(place_medicine(set_id, on(minutes=8), bench.placement(bench.METFORMIN)))
    bench.must(finish_filling(card, on(minutes=9)))
    assert load_states([card])[card] == read_whole(card)
    assert load_states([card])[card].stage is Stage.FILLED


def test_what_is_remembered_is_not_read_again(django_assert_num_queries: DjangoAssertNumQueries) -> None:
    set_id, card = bench.ready_to_fill()
    bench.must(place_medicine(set_id, on(minutes=1), one_cell(card, 1)))
    load_states([card])
    with django_assert_num_queries(1) as asked:
        load_states([card])
    assert f">= {LedgerEntry.objects.count()}" in asked.captured_queries[0]["sql"]


def test_a_refusal_changes_nothing_and_hides_nothing_that_comes_after() -> None:
    set_id, card = bench.ready_to_fill()
    assert not finish_filling(card, on()).done
    assert load_states([card])[card].events == read_whole(card).events
    bench.must(place_medicine(set_id, on(minutes=1), one_cell(card, 1)))
    assert load_states([card])[card] == read_whole(card)


def test_what_a_transaction_took_back_is_forgotten_also_where_another_entry_took_its_number() -> None:
    set_id, card = bench.ready_to_fill()
    with transaction.atomic():
        bench.must(place_medicine(set_id, on(minutes=1), one_cell(card, 1)))
        assert len(load_states([card])[card].placed) == 1
        transaction.set_rollback(True)
    assert load_states([card])[card].placed == ()
    with transaction.atomic():
        bench.must(place_medicine(set_id, on(minutes=1), one_cell(card, 1)))
        load_states([card])
        transaction.set_rollback(True)
    bench.must(place_medicine(set_id, on(minutes=2), one_cell(card, 2)))
    assert [units.cell.row for units in load_states([card])[card].placed] == [2]
    assert load_states([card])[card] == read_whole(card)


def test_of_an_entry_with_another_hash_nothing_is_remembered() -> None:
    set_id, card = bench.ready_to_fill()
    bench.must(place_medicine(set_id, on(minutes=1), one_cell(card, 1)))
    before = load_states([card])[card]
    unguard_ledger(connection)
    last = LedgerEntry.objects.filter(subject_id=card).latest("sequence")
    LedgerEntry.objects.filter(pk=last.pk).update(hash="f" * 64, who_id="somebody else")
    after = load_states([card])[card]
    assert [set(before.fillers), set(after.fillers)] == [{"technician one"}, {"somebody else"}]


def test_many_cards_are_read_at_once_each_with_its_own_events(monkeypatch: pytest.MonkeyPatch) -> None:
    set_id, card = bench.ready_to_fill()
    bench.must(place_medicine(set_id, on(minutes=1), one_cell(card, 1)))
    unknown = [CardNumber(f"none {number}") for number in range(120)]
    monkeypatch.setattr(card_states, "_MOST", 3)
    found = load_states([*unknown[:70], card, *unknown[70:]])
    assert found == {number: CardState(number) for number in unknown} | {card: read_whole(card)}
    assert load_states([card]) == {card: read_whole(card)}
    assert len(card_states._KNOWN) <= 3


def test_what_is_saved_twice_in_one_transaction_is_seen_in_it() -> None:
    _, card = bench.ready_to_fill()
    stored, _ = save_event(load_card(card), Deed.NOT_FOUND, on(minutes=1))
    assert stored.state == load_states([card])[card] == read_whole(card)
    stored, _ = save_event(stored, Deed.FOUND, on(minutes=2))
    assert stored.state == load_states([card])[card] == read_whole(card)

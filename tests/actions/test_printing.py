"""R6: paper is drawn outside the transaction, and kept only if the set is still the one that it was drawn from."""

from collections.abc import Callable

import pytest
from django.db import connection
from tests import small_bench as bench
from tests.bench_fixtures import on

from dosewright.actions import print_set as printing
from dosewright.actions.print_set import print_set
from dosewright.actions.stop_order import stop_order
from dosewright.actions.withdraw_card import withdraw_card
from dosewright.core.custody.event import Role
from dosewright.core.paper.material import Material
from dosewright.core.paper.offer import Offered, offer_labels
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import OrderId
from dosewright.store.cards import load_set
from dosewright.store.ledger import load_entries
from dosewright.store.models import Pharmacy
from dosewright.store.papers import load_papers

PHARMACIST = on(Role.PHARMACIST, minutes=10)


def ready() -> int:
    bench.opened()
    bench.ordered()
    return bench.planned()


def meanwhile(monkeypatch: pytest.MonkeyPatch, happens: Callable[[], object]) -> None:
    """While the labels are drawn, another station does something."""

    def drawing(material: Material) -> Offered:
        happens()
        return offer_labels(material)

    monkeypatch.setattr(printing, "offer_labels", drawing)


def moved() -> None:
    Pharmacy.objects.update(address="2 Quay Street, Ternmouth")


def withdrawn(set_id: int) -> None:
    bench.must(withdraw_card(load_set(set_id).cards[0].number, PHARMACIST, "the person moved away"))


@pytest.mark.usefixtures("guarded")
@pytest.mark.parametrize("change", ["address", "withdrawn"])
def test_r6_what_changed_while_the_paper_was_drawn_keeps_it_from_being_kept(change: str, monkeypatch: pytest.MonkeyPatch) -> None:
    set_id = ready()
    meanwhile(monkeypatch, moved if change == "address" else lambda: withdrawn(set_id))
    assert bench.refused(print_set(set_id, on())) == {"custody.changed-meanwhile"}
    assert load_papers(set_id) == ()
    assert [entry.event for entry in load_entries("set", str(set_id))] == ["set planned", "refused"]


@pytest.mark.usefixtures("guarded")
def test_r9_a_card_that_went_out_of_date_while_its_paper_was_drawn_is_not_printed(monkeypatch: pytest.MonkeyPatch) -> None:
    set_id = ready()
    meanwhile(monkeypatch, lambda: bench.must(stop_order(OrderId("RX1"), PHARMACIST, Moment(bench.MONDAY), "the heart rate fell")))
    assert "custody.out-of-date" in bench.refused(print_set(set_id, on()))
    assert load_papers(set_id) == ()


@pytest.mark.usefixtures("guarded")
def test_the_same_form_twice_is_kept_once_though_it_is_drawn_twice() -> None:
    set_id, occasion = ready(), on(token="form 1")
    first = bench.must(print_set(set_id, occasion))
    assert print_set(set_id, occasion) == first
    assert len(load_papers(set_id)) == len(first.made)


@pytest.mark.usefixtures("guarded")
def test_nothing_is_drawn_for_somebody_who_may_not_or_of_a_set_that_is_not_there(monkeypatch: pytest.MonkeyPatch) -> None:
    set_id = ready()
    drawn: list[int] = []
    meanwhile(monkeypatch, lambda: drawn.append(1))
    assert bench.refused(print_set(set_id, on(Role.DRIVER))) == {"custody.no-right"}
    assert bench.refused(print_set(set_id + 1, on())) == {"custody.not-there"}
    assert drawn == []


@pytest.mark.usefixtures("many_stations")
def test_no_transaction_is_open_while_paper_is_drawn(monkeypatch: pytest.MonkeyPatch) -> None:
    set_id = ready()
    open_then: list[bool] = []
    meanwhile(monkeypatch, lambda: open_then.append(connection.in_atomic_block))
    bench.must(print_set(set_id, on()))
    assert open_then == [False]

"""R9, R13: only what a pharmacist confirmed is planned; a card whose orders have changed is held until a decision is on record."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, time

import pytest
from tests import small_bench as bench
from tests.bench_fixtures import on

from dosewright.actions.check_card import OwnCheck, check_card
from dosewright.actions.confirm_reading import confirm_reading
from dosewright.actions.decide_card import decide_card
from dosewright.actions.hand_over_card import hand_over_card
from dosewright.actions.outcome import Outcome
from dosewright.actions.place_medicine import place_medicine
from dosewright.actions.plan_set import plan_set
from dosewright.actions.receive_medicines import receive_medicines
from dosewright.actions.receive_orders import receive_orders
from dosewright.actions.reject_order import reject_order
from dosewright.actions.release_card import release_card
from dosewright.actions.seal_card import seal_card
from dosewright.actions.stop_order import stop_order
from dosewright.core.custody.confirming import Confirmation
from dosewright.core.custody.event import Deed, Role
from dosewright.core.custody.planning import PlanAsk
from dosewright.core.custody.stage import Stage
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE, DosingTime, Moment
from dosewright.core.units.ids import CardNumber, OrderId
from dosewright.store.catalogue import load_medicine
from dosewright.store.ledger import load_card_events
from dosewright.store.models import OrderFile, OrderRow
from dosewright.store.orders import load_confirmed, load_order, load_orders_of

pytestmark = pytest.mark.usefixtures("guarded")

TUESDAY = Moment(date(2026, 3, 3))
PHARMACIST = on(Role.PHARMACIST, minutes=10)


def stop(order: str = "RX1", at: Moment = TUESDAY) -> Outcome:
    return bench.must(stop_order(OrderId(order), PHARMACIST, at, "the heart rate fell"))


def test_r9_a_card_being_filled_goes_out_of_date_in_the_same_step_as_its_order_stops() -> None:
    set_id, card = bench.ready_to_fill()
    bench.must(place_medicine(set_id, on(), bench.placement(bench.METFORMIN)))
    outcome = stop()
    assert [(finding.code, finding.where["card"]) for finding in outcome.findings] == [("rework.card-touched", card)]
    assert bench.now(card).state.out_of_date
    told = load_card_events(card)[-1]
    assert (told.deed, told.facts["medicines"]) == (Deed.OUT_OF_DATE, ("bisoprolol-5",))
    assert told.facts["doses"][0] == "2026-03-03 08:00 bisoprolol-5: 1 → 0"  # type: ignore[index]


HELD: dict[str, tuple[Callable[[], CardNumber], Callable[[CardNumber], Outcome]]] = {
    "placed into": (
        lambda: bench.ready_to_fill()[1],
        lambda card: place_medicine(bench.now(card).set_id, on(), bench.placement(bench.METFORMIN)),
    ),
    "checked": (bench.filled, lambda card: check_card(card, on(Role.CHECKER), OwnCheck(bench.counts(card)))),
    "sealed": (bench.checked, lambda card: seal_card(card, on())),
    "released": (bench.sealed, lambda card: release_card(card, on(Role.PHARMACIST))),
    "handed over": (bench.released, lambda card: hand_over_card(card, on(), "somebody")),
}


@pytest.mark.parametrize("deed", HELD)
def test_r9_it_is_held_at_every_step_until_a_decision_is_on_record(deed: str) -> None:
    build, attempt = HELD[deed]
    card = build()
    stop()
    assert "custody.out-of-date" in bench.refused(attempt(card))
    bench.must(decide_card(card, PHARMACIST, "wait", "one tablet more does no harm; agreed with Dr Example"))
    bench.must(attempt(card))


def test_a_card_that_is_planned_afresh_is_withdrawn_and_its_days_are_free_again() -> None:
    card = bench.filled()
    stop()
    taken = plan_set(bench.PERSON, on(), PlanAsk(bench.MONDAY, 7))
    assert "custody.days-already-planned" in bench.refused(taken)
    bench.must(decide_card(card, PHARMACIST, "afresh", "stopped"))
    assert bench.now(card).state.stage is Stage.WITHDRAWN
    anew = bench.planned()
    assert bench.printed(anew) != card


def test_a_card_that_is_out_may_be_called_back_but_not_withdrawn_where_it_lies() -> None:
    card = bench.handed_over()
    stop()
    assert bench.refused(decide_card(card, PHARMACIST, "afresh", "stopped")) == {"custody.unknown-choice"}
    bench.must(decide_card(card, PHARMACIST, "recall", "stopped"))


@pytest.mark.parametrize(("choice", "reason", "code"), [("wait", " ", "custody.no-reason"), ("open", "x", "custody.unknown-choice")])
def test_a_decision_needs_a_known_choice_and_a_reason(choice: str, reason: str, code: str) -> None:
    card = bench.filled()
    stop()
    assert bench.refused(decide_card(card, PHARMACIST, choice, reason)) == {code}
    assert bench.now(card).state.out_of_date


def test_nothing_is_decided_about_a_card_that_is_up_to_date() -> None:
    card = bench.filled()
    assert bench.refused(decide_card(card, PHARMACIST, "wait", "x")) == {"custody.not-out-of-date"}


def test_a_change_that_asks_the_same_or_comes_after_the_card_touches_nothing() -> None:
    card = bench.filled()
    assert stop(at=Moment(date(2026, 3, 9))).findings == ()
    assert not bench.now(card).state.out_of_date


def test_a_new_order_that_is_confirmed_touches_the_cards_of_its_days() -> None:
    card = bench.released()
    bench.ordered("p1,Wilhelmina Okonedo-Hart,1939-02-04,,,RX3,ramipril-5,Take 1 capsule in the morning,2026-03-05,,Dr A. Example,1003\n")
    assert bench.now(card).state.out_of_date


LATER = "p1,Wilhelmina Okonedo-Hart,1939-02-04,,,RX9,bisoprolol-5,Take 2 tablets in the morning,2026-03-04,,Dr A. Example,1009\n"


def received(*lines: str) -> Outcome:
    return receive_orders("more.csv", on(), (bench.HEADER + "".join(lines)).encode())


def test_a_second_order_of_one_medicine_asks_whether_it_replaces_the_first_or_counts_beside_it() -> None:
    bench.opened()
    bench.ordered()
    bench.must(received(LATER))
    assert bench.refused(confirm_reading(OrderId("RX9"), PHARMACIST, Confirmation())) == {"custody.same-medicine"}
    bench.must(confirm_reading(OrderId("RX9"), PHARMACIST, Confirmation(replaces=OrderId("RX1"))))
    by_id = {order.id: order for order in load_confirmed(bench.PERSON)}
    assert (by_id[OrderId("RX1")].until, by_id[OrderId("RX9")].since) == (Moment(date(2026, 3, 4)),) * 2
    assert load_order(OrderId("RX1")).standing == "confirmed"


def test_orders_for_one_medicine_that_are_meant_to_count_together_do() -> None:
    bench.opened()
    bench.ordered()
    bench.must(received(LATER))
    bench.must(confirm_reading(OrderId("RX9"), PHARMACIST, Confirmation(beside=True)))
    assert {order.until for order in load_confirmed(bench.PERSON)} == {None}


def test_r13_an_order_that_waits_keeps_its_days_from_being_planned() -> None:
    bench.opened()
    bench.ordered(bench.ORDERS["RX1"])
    bench.must(received(bench.ORDERS["RX2"]))
    assert "custody.order-waits" in bench.refused(plan_set(bench.PERSON, on(), PlanAsk(bench.MONDAY, 7)))
    bench.must(reject_order(OrderId("RX2"), PHARMACIST, "entered twice"))
    assert [order.id for order in load_confirmed(bench.PERSON)] == ["RX1"]
    bench.planned()


def test_r9_other_dosing_times_put_the_cards_that_follow_them_out_of_date() -> None:
    card = bench.filled()
    assert bench.codes(bench.set_up(STANDARD_TIMETABLE)) == set()
    assert not bench.now(card).state.out_of_date
    earlier = (DosingTime(STANDARD_TIMETABLE.slots[0].name, time(6)), *STANDARD_TIMETABLE.slots[1:])
    assert bench.codes(bench.set_up(replace(STANDARD_TIMETABLE, slots=earlier))) == {"rework.times-changed"}
    assert bench.now(card).state.out_of_date


UNCLEAR = "p1,Wilhelmina Okonedo-Hart,1939-02-04,,,RX7,ramipril-5,Take 1 or 2 as directed,2026-03-02,,Dr A. Example,1007\n"


def test_r13_words_without_one_reading_are_not_confirmed_and_never_planned() -> None:
    bench.opened()
    bench.must(received(UNCLEAR))
    assert load_order(OrderId("RX7")).status in {"decide", "refuse"}
    refused = bench.refused(confirm_reading(OrderId("RX7"), PHARMACIST, Confirmation()))
    assert refused & {"custody.reading-refused", "custody.reading-not-chosen"}
    assert load_confirmed(bench.PERSON) == ()


def test_what_was_received_is_kept_byte_for_byte_and_word_for_word() -> None:
    bench.opened()
    content = (bench.HEADER + bench.ORDERS["RX1"]).encode()
    outcome = bench.must(receive_orders("orders.csv", on(), content))
    row = OrderFile.objects.get(id=int(outcome.made[0]))
    assert bytes(row.content) == content
    bench.must(confirm_reading(OrderId("RX1"), PHARMACIST, Confirmation(since=Moment(date(2026, 3, 2), time(12)))))
    stored = load_order(OrderId("RX1"))
    assert (stored.order.text, stored.order.since) == ("Take 1 tablet in the morning", Moment(date(2026, 3, 2), time(12)))
    assert (stored.settled_by, stored.settled_at, stored.standing) == ("pharmacist one", PHARMACIST.at, "confirmed")


def test_the_same_file_twice_changes_nothing_and_says_so() -> None:
    bench.opened()
    bench.ordered()
    again = bench.must(received(*bench.ORDERS.values()))
    assert bench.codes(again) == {"custody.seen-before"}
    assert len(load_orders_of(bench.PERSON)) == 2


def test_an_order_that_comes_again_with_other_words_is_a_revision_beside_the_first() -> None:
    bench.opened()
    bench.ordered()
    bench.must(received(bench.ORDERS["RX1"].replace("Take 1 tablet", "Take 2 tablets").replace("2026-03-02", "2026-03-05")))
    first, second = (load_order(OrderId(name)) for name in ("RX1", "RX1~2"))
    assert (first.order.text, second.order.text) == ("Take 1 tablet in the morning", "Take 2 tablets in the morning")
    assert (second.standing, second.revision) == ("waiting", 2)


OTHERS = [("1939-02-04", "1939-04-02"), ("Wilhelmina Okonedo-Hart", "Wilhelm Okonedo-Hart")]


@pytest.mark.parametrize(("ours", "theirs"), OTHERS)
def test_no_order_comes_to_another_human_being_who_bears_the_same_id(ours: str, theirs: str) -> None:
    bench.opened()
    bench.ordered()
    assert bench.refused(received(LATER.replace(ours, theirs))) == {"custody.other-person"}
    assert len(load_orders_of(bench.PERSON)) == 2


def test_a_person_who_moved_is_noted_and_the_record_is_kept() -> None:
    bench.opened()
    bench.ordered()
    outcome = bench.must(received(LATER.replace("1939-02-04,,", "1939-02-04,The Lindens,12")))
    assert "custody.person-differs" in bench.codes(outcome)
    assert load_order(OrderId("RX9")).person.home is None


def test_a_code_never_comes_to_mean_another_product_or_a_packs_code_another_medicine() -> None:
    bench.opened()
    head, row, *_ = bench.MEDICINES.decode().splitlines()
    stronger = f"{head}\n{row.replace('5 mg', '10 mg')}\n".encode()
    assert bench.refused(receive_medicines("m.csv", on(), stronger)) == {"custody.other-product"}
    taken = f"{head}\n{row.replace('bisoprolol-5', 'bisoprolol-5b')}\n".encode()
    assert bench.refused(receive_medicines("m.csv", on(), taken)) == {"custody.pack-code-taken"}
    pink = f"{head}\n{row.replace('white', 'pink')}\n".encode()
    assert bench.must(receive_medicines("m.csv", on(), pink)).made == ("bisoprolol-5",)
    assert load_medicine(bench.BISOPROLOL).colour == "pink"


def test_an_order_is_settled_once() -> None:
    bench.opened()
    bench.ordered()
    assert "custody.already-settled" in bench.refused(confirm_reading(OrderId("RX1"), PHARMACIST, Confirmation()))
    assert "custody.already-settled" in bench.refused(reject_order(OrderId("RX1"), PHARMACIST, "x"))


FILES = [
    pytest.param(b"", "empty", id="an empty file"),
    pytest.param(b"\xff\xfe\x00", "UTF-8", id="no UTF-8"),
    pytest.param(b'{"resourceType": "Bundle", "entry": [', "line 1", id="JSON cut short"),
    pytest.param(b"who,what\n1,2\n", "", id="another table"),
]


@pytest.mark.parametrize(("content", "says"), FILES)
def test_a_file_that_cannot_be_read_is_kept_as_it_came_and_changes_nothing(content: bytes, says: str) -> None:
    bench.opened()
    outcome = receive_orders("bad", on(), content)
    assert bench.refused(outcome) == {"custody.wrong-file"}
    assert says in str(outcome.findings[0].facts["why"])
    assert bytes(OrderFile.objects.get().content) == content
    assert not OrderRow.objects.exists()

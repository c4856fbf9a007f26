"""R13 at the border of planning: only what a pharmacist confirmed, with the choice on record, and nothing against it left unsaid."""

import json
from typing import Any

import pytest
from tests import small_bench as bench
from tests.actions.test_receive_fhir import EVERY_MORNING, bundle, request
from tests.bench_fixtures import on

from dosewright.actions.confirm_reading import confirm_reading
from dosewright.actions.outcome import Outcome
from dosewright.actions.plan_set import draw_up_request, plan_set
from dosewright.actions.receive_orders import receive_orders
from dosewright.actions.reject_order import reject_order
from dosewright.core.custody.confirming import Confirmation
from dosewright.core.custody.event import Role
from dosewright.core.custody.planning import PlanAsk
from dosewright.core.regimen.words.say_plain import say_plain
from dosewright.core.units.ids import OrderId, PersonId
from dosewright.store.ledger import load_entries
from dosewright.store.orders import load_order, load_orders_of

pytestmark = pytest.mark.usefixtures("guarded")

PHARMACIST = on(Role.PHARMACIST, minutes=10)
WEEK = PlanAsk(bench.MONDAY, 7)
RX1, RX7, RX8, RX11 = OrderId("RX1"), OrderId("RX7"), OrderId("RX8"), OrderId("RX11")


def confirmed(order: OrderId, **said: object) -> Outcome:
    return confirm_reading(order, PHARMACIST, Confirmation(**said))  # type: ignore[arg-type]


def entry_of(order: OrderId) -> tuple[str, dict[str, Any]]:
    """Who confirmed it, and what the ledger holds of it."""
    (entry,) = [entry for entry in load_entries("order", order) if entry.event == "reading confirmed"]
    return f"{entry.who_name}, {entry.at:%H:%M}", json.loads(entry.body)


def test_r13_nothing_enters_a_plan_that_is_not_confirmed_whatever_it_waits_for() -> None:
    bench.asked()
    bench.must(confirmed(RX8, choice=0))
    bench.must(reject_order(RX7, PHARMACIST, "ordered twice"))
    for person in (PersonId("p1"), PersonId("p2")):
        standing = {stored.order.id: stored.standing for stored in load_orders_of(person)}
        assert "waiting" in standing.values() or "rejected" in standing.values()
        planned = {order.id for order in draw_up_request(person, WEEK, on()).orders}
        assert planned == {order for order, found in standing.items() if found == "confirmed"}


def test_the_ledger_holds_the_words_the_structure_its_number_who_and_when() -> None:
    bench.asked()
    bench.must(confirmed(RX8, choice=1))
    who, held = entry_of(RX8)
    assert (who, held["text"], held["choice"]) == ("pharmacist one, 09:10", "Take 1 tablet with dinner", 1)
    (structure,) = held["structure"]
    assert json.loads(structure)["timing"]["repeat"]["when"] == ["CD"]
    assert (held["wording"], held["restated"], held["replaces"]) == (None, False, None)


def test_what_stood_against_it_is_in_the_ledger_beside_the_reason() -> None:
    bench.asked()
    assert bench.refused(confirmed(RX11)) == {"daily-maximum", "custody.no-reason"}
    assert load_order(RX11).standing == "waiting"
    bench.must(confirmed(RX11, reason="weighs 90 kg, Dr Example agreed"))
    _, held = entry_of(RX11)
    assert (held["against"], held["reason"]) == (["daily-maximum"], "weighs 90 kg, Dr Example agreed")


def test_the_persons_other_orders_count_towards_the_day() -> None:
    bench.asked()
    bench.must(reject_order(RX11, PHARMACIST, "too much"))
    two = [
        bench.order_line(bench.IN_THE_LINDENS, name, "paracetamol-500", words)
        for name, words in (("P1", "Take 2 tablets in the morning"), ("P2", "Take 3 tablets at noon, in the evening and at bedtime"))
    ]
    first, second = bench.waiting(*two)
    bench.must(confirmed(first))
    assert "daily-maximum" in bench.refused(confirmed(second, beside=True))
    later = bench.order_line(bench.IN_THE_LINDENS, "P3", "paracetamol-500", "Take 2 tablets at noon", "2026-03-04")
    (replacing,) = bench.waiting(later)
    bench.must(confirmed(replacing, replaces=first))


def test_another_strength_of_what_the_person_has_is_asked_about() -> None:
    bench.asked()
    (order,) = bench.waiting(bench.order_line(bench.AT_HOME, "RX40", "bisoprolol-2.5", "Take 1 tablet in the morning", "2026-03-05"))
    assert bench.refused(confirmed(order)) == {"custody.same-substance"}
    bench.must(confirmed(order, replaces=RX1))
    until = load_order(RX1).order.until
    assert until is not None
    assert until.day.isoformat() == "2026-03-05"


@pytest.mark.parametrize("words", ["Take 7 mg in the morning", "Take 2 tablets in the morning, maximum 1 tablet in 24 hours"])
def test_what_the_reader_refuses_of_amounts_is_written_anew_with_a_reason(words: str) -> None:
    bench.opened()
    (order,) = bench.waiting(bench.order_line(bench.AT_HOME, "RX1", bench.BISOPROLOL, words))
    asked = load_order(order).reading
    assert asked is not None
    assert {question.code for question in asked.questions} <= {"read.not-in-units", "read.maximum"}
    assert bench.refused(confirmed(order, reason="x")) == {"custody.reading-not-chosen"}
    assert "custody.order-waits" in bench.refused(plan_set(bench.PERSON, on(), WEEK))


def with_words(text: str, **repeat: object) -> bytes:
    """A structured order with words beside it."""
    made = request("MR1", **(repeat or EVERY_MORNING))
    made["dosageInstruction"][0]["text"] = text  # type: ignore[index]
    return bundle(made)


def test_words_against_structure_are_decided_with_a_reason_and_then_planned() -> None:
    bench.opened()
    bench.must(receive_orders("orders.json", on(), with_words("Take 1 tablet twice a day")))
    order = OrderId("MR1")
    assert bench.refused(confirmed(order)) == {"custody.words-and-structure", "custody.no-reason"}
    assert bench.refused(confirmed(order, choice=1)) == {"custody.no-reason"}
    bench.must(confirmed(order, choice=1, reason="Dr Example: twice"))
    kept = load_order(order)
    assert (say_plain(kept.order.dosages), kept.order.text) == ("Take 1 tablet twice a day.", "Take 1 tablet twice a day")
    _, held = entry_of(order)
    assert (held["choice"], held["reason"]) == (1, "Dr Example: twice")
    bench.must(plan_set(bench.PERSON, on(), WEEK))


def test_words_that_the_reader_asks_about_are_laid_out_beside_the_structure() -> None:
    bench.opened()
    bench.must(receive_orders("orders.json", on(), with_words("Take 1 tablet with dinner")))
    order = OrderId("MR1")
    assert bench.refused(confirmed(order, reason="x")) == {"custody.words-and-structure"}
    bench.must(confirmed(order, choice=0, reason="the surgery's structure is right"))
    assert say_plain(load_order(order).order.dosages) == "Take 1 tablet in the morning."
    bench.must(plan_set(bench.PERSON, on(), WEEK))


def test_a_choice_for_one_instruction_keeps_the_others_of_its_order() -> None:
    bench.opened()
    made = request("MR1", **EVERY_MORNING)
    made["dosageInstruction"] = [*made["dosageInstruction"], {"text": "Take 1 or 2 tablets at bedtime"}]  # type: ignore[misc]
    bench.must(receive_orders("orders.json", on(), bundle(made)))
    bench.must(confirmed(OrderId("MR1"), choice=1))
    assert say_plain(load_order(OrderId("MR1")).order.dosages) == "Take 1 tablet in the morning and 2 tablets at bedtime."

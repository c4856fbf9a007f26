"""R1: an order of a file that could not be used is kept, and holds the planning of whose it is until a pharmacist has settled it."""

import pytest
from tests import small_bench as bench
from tests.actions.test_receive_fhir import EVERY_MORNING, bundle, request
from tests.bench_fixtures import on

from dosewright.actions.outcome import Outcome
from dosewright.actions.plan_set import plan_set
from dosewright.actions.receive_orders import receive_orders
from dosewright.actions.settle_unused import settle_unused
from dosewright.core.custody.event import Role
from dosewright.core.custody.planning import PlanAsk
from dosewright.core.custody.unused import UnusedStanding
from dosewright.core.units.ids import PersonId
from dosewright.store.ledger import check_ledger, load_entries
from dosewright.store.models import OrderFile, UnusedOrderRow
from dosewright.store.orders import load_orders_of
from dosewright.store.people import find_person
from dosewright.store.unused import load_unused, load_waiting_unused

pytestmark = pytest.mark.usefixtures("guarded")

WEEK = PlanAsk(bench.MONDAY, 7)
PHARMACIST = on(Role.PHARMACIST, minutes=10)
UNKNOWN = bench.ORDERS["RX2"].replace("metformin-500", "no-such-medicine")
OTHER = "p2,Arthur Bellweather,1941-05-06,,,RX8,bisoprolol-5,Take 1 tablet in the morning,2026-03-02,,Dr A. Example,2001\n"


def came_in(*lines: str, name: str = "orders.csv") -> Outcome:
    return receive_orders(name, on(), (bench.HEADER + "".join(lines)).encode())


def planning(person: PersonId = bench.PERSON) -> Outcome:
    return plan_set(person, on(), WEEK)


def held() -> int:
    """One good order, confirmed, and one that could not be used: the number under which it waits."""
    bench.opened()
    bench.ordered(bench.ORDERS["RX1"], UNKNOWN)
    (waiting,) = load_waiting_unused(bench.PERSON)
    return waiting.id


def test_r1_an_order_that_could_not_be_used_keeps_its_person_from_being_planned() -> None:
    held()
    assert bench.refused(planning()) == {"custody.order-not-used"}


def test_it_is_kept_with_its_words_its_file_and_what_was_found() -> None:
    stored = load_unused(held())
    assert (stored.file, stored.unused.person, stored.unused.order) == ("orders.csv", "p1", "RX2")
    assert stored.unused.text == "no-such-medicine · Take half a tablet in the evening"
    assert [(finding.code, finding.where["line"]) for finding in stored.unused.findings] == [("order.unknown-medicine", 3)]


@pytest.mark.parametrize("becomes", ["turned down", "supplied otherwise"])
def test_a_pharmacist_settles_it_with_a_reason_and_the_person_is_planned(becomes: str) -> None:
    number = held()
    bench.must(settle_unused(number, PHARMACIST, becomes, "Dr Example stopped it by telephone"))
    bench.must(planning())
    (entry,) = [entry for entry in load_entries("unused order") if entry.event == "unused order settled"]
    assert all(word in entry.body for word in (becomes, "by telephone", "no-such-medicine", "RX2", "p1"))
    row = UnusedOrderRow.objects.get(pk=number)
    assert (row.settled_by, row.reason) == (PHARMACIST.by.name, "Dr Example stopped it by telephone")


@pytest.mark.parametrize(
    ("becomes", "reason", "code"),
    [
        ("turned down", " ", "custody.no-reason"),
        ("replaced", "x", "custody.unknown-choice"),
        ("waiting", "x", "custody.unknown-choice"),
        ("", "x", "custody.unknown-choice"),
    ],
)
def test_settling_needs_a_known_choice_and_a_reason(becomes: str, reason: str, code: str) -> None:
    number = held()
    assert bench.refused(settle_unused(number, PHARMACIST, becomes, reason)) == {code}
    assert "custody.order-not-used" in bench.refused(planning())


def test_it_is_settled_once_and_by_a_pharmacist_only() -> None:
    number = held()
    assert bench.refused(settle_unused(number, on(Role.CHECKER), "turned down", "x")) == {"custody.no-right"}
    bench.must(settle_unused(number, PHARMACIST, "turned down", "x"))
    assert bench.refused(settle_unused(number, PHARMACIST, "supplied otherwise", "x")) == {"custody.already-settled"}
    assert bench.refused(settle_unused(number + 1, PHARMACIST, "turned down", "x")) == {"custody.not-there"}


def test_the_same_order_without_fault_takes_its_place() -> None:
    number = held()
    bench.ordered(bench.ORDERS["RX2"])
    assert load_unused(number).standing is UnusedStanding.REPLACED
    bench.must(planning())


def test_another_order_or_another_persons_does_not() -> None:
    number = held()
    bench.ordered(bench.ORDERS["RX2"].replace("RX2", "RX3"))
    bench.must(came_in(OTHER.replace("RX8", "RX2")))
    assert load_unused(number).standing is UnusedStanding.WAITING
    assert "custody.order-not-used" in bench.refused(planning())


def test_an_order_that_comes_in_broken_after_it_was_confirmed_holds_too() -> None:
    bench.opened()
    bench.ordered()
    came_in(UNKNOWN)
    assert bench.refused(planning()) == {"custody.order-not-used"}


def test_the_very_same_is_asked_about_once_and_other_words_anew() -> None:
    number = held()
    came_in(UNKNOWN, name="again.csv")
    assert [stored.id for stored in load_waiting_unused(bench.PERSON)] == [number]
    bench.must(settle_unused(number, PHARMACIST, "turned down", "not ours"))
    came_in(UNKNOWN, name="again.csv")
    assert load_waiting_unused() == ()
    came_in(UNKNOWN.replace("half a tablet", "1 tablet"), name="changed.csv")
    assert [stored.file for stored in load_waiting_unused()] == ["changed.csv"]


def test_a_file_of_which_nothing_can_be_used_is_kept_byte_for_byte_beside_its_refusal() -> None:
    bench.opened()
    outcome = came_in(UNKNOWN, name="all-broken.csv")
    assert bench.refused(outcome) == {"order.unknown-medicine"}
    row = OrderFile.objects.get(pk=int(outcome.made[0]))
    assert bytes(row.content) == (bench.HEADER + UNKNOWN).encode()
    assert [entry.event for entry in load_entries("file")][-2:] == ["orders kept, none used", "refused"]
    assert find_person(bench.PERSON) is not None
    assert load_orders_of(bench.PERSON) == ()
    assert "custody.order-not-used" in bench.refused(planning())
    assert check_ledger() == ()


@pytest.mark.parametrize("content", [b"", b"\xff\xfe\x00", b'{"resourceType": "Bundle", "entry": [', b"a,b\n1,2\n"])
def test_a_file_that_cannot_be_read_is_kept_too_and_holds_nobody(content: bytes) -> None:
    bench.opened()
    outcome = receive_orders("what.csv", on(), content)
    assert not outcome.done
    assert bytes(OrderFile.objects.get(pk=int(outcome.made[0])).content) == content
    assert load_waiting_unused() == ()


def test_an_order_of_nobody_knows_whom_holds_everybody_of_its_file_and_nobody_else() -> None:
    bench.opened()
    bench.ordered(OTHER)
    nameless = request("MR2", **EVERY_MORNING) | {"subject": {"reference": "Patient/nobody"}}
    bench.must(receive_orders("orders.json", on(), bundle(request("MR1", **EVERY_MORNING), nameless)))
    (waiting,) = load_waiting_unused(bench.PERSON)
    assert (waiting.unused.person, waiting.unused.holds) == ("", ("p1",))
    assert "custody.order-not-used" in bench.refused(planning())
    bench.must(planning(PersonId("p2")))


def test_a_broken_request_of_a_bundle_waits_with_its_words() -> None:
    bench.opened()
    broken = request("MR2", **EVERY_MORNING) | {"status": "no such status"}
    bench.must(receive_orders("orders.json", on(), bundle(request("MR1", **EVERY_MORNING), broken)))
    (waiting,) = load_waiting_unused(bench.PERSON)
    assert (waiting.unused.order, waiting.unused.place) == ("MR2", "MedicationRequest/MR2")
    assert all(word in waiting.unused.text for word in ("bisoprolol-5", "MORN", "no such status"))


def test_orders_of_somebody_who_is_another_human_being_here_wait_as_well() -> None:
    bench.opened()
    bench.ordered(bench.ORDERS["RX1"])
    came_in(OTHER.replace("p2", "p1"))
    (waiting,) = load_waiting_unused(bench.PERSON)
    assert (waiting.unused.order, [finding.code for finding in waiting.unused.findings]) == ("RX8", ["custody.other-person"])
    assert "Take 1 tablet in the morning" in waiting.unused.text
    assert bench.refused(planning()) == {"custody.order-not-used"}


def test_an_order_that_is_over_by_its_own_words_holds_nobody() -> None:
    bench.opened()
    stopped = request("MR2", **EVERY_MORNING) | {"status": "stopped"}
    bench.must(receive_orders("orders.json", on(), bundle(request("MR1", **EVERY_MORNING), stopped)))
    assert load_waiting_unused() == ()

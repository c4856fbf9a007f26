"""Fewer dosing times are taken up by a pharmacist: R3, R9, R13 hold, the words as received stay, and only what was shown is done."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from tests import small_bench as bench
from tests.bench_fixtures import on

from dosewright.actions import take_up_times as module
from dosewright.actions.outcome import Outcome
from dosewright.actions.plan_set import plan_set
from dosewright.actions.receive_medicines import receive_medicines
from dosewright.actions.receive_orders import receive_orders
from dosewright.actions.stop_order import stop_order
from dosewright.actions.take_up_times import draw_up_proposal, take_up_times
from dosewright.core.custody.event import Occasion, Role
from dosewright.core.custody.planning import PlanAsk
from dosewright.core.custody.taking_up import TAKEN_UP, TimesAsk, check_nothing_lost, ended, mark_of
from dosewright.core.packing.dosing_times.times_values import Proposal
from dosewright.core.regimen.expand import expand
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE, DosingTime, Moment, Timetable
from dosewright.core.units.ids import OrderId, SlotName
from dosewright.store.cards import load_set
from dosewright.store.ledger import check_ledger, load_entries
from dosewright.store.models import OrderRow
from dosewright.store.orders import load_confirmed
from dosewright.store.people import load_timetable

pytestmark = pytest.mark.usefixtures("guarded")

NEXT = date(2026, 3, 9)  # the Monday after the first cycle's first week
PHARMACIST = on(Role.PHARMACIST, minutes=10)
WHO = "p1,Wilhelmina Okonedo-Hart,1939-02-04,,,"
TWICE = WHO + "RX1,bisoprolol-5,Take 1 tablet twice a day,2026-03-02,,Dr A. Example,1001\n"
BED = WHO + "RX2,metformin-500,Take half a tablet at bedtime,2026-03-02,,Dr A. Example,1002\n"
ASK = TimesAsk(NEXT, agreed="Wilhelmina and her daughter")


@pytest.fixture
def ordered(guarded: None) -> None:
    bench.opened()
    bench.ordered(TWICE, BED)


def shown(ask: TimesAsk = ASK) -> TimesAsk:
    """The ask, with what the pharmacist sees now."""
    return replace(ask, shown=mark_of(proposal(ask), ask.first))


def proposal(ask: TimesAsk = ASK) -> Proposal:
    return draw_up_proposal(bench.PERSON, PHARMACIST, ask)


def take_up(ask: TimesAsk | None = None, by: Occasion = PHARMACIST) -> Outcome:
    return take_up_times(bench.PERSON, by, ask or shown())


def orders_of(row: str) -> OrderRow:
    return OrderRow.objects.get(id=row)


@pytest.mark.usefixtures("ordered")
def test_the_order_counts_at_its_new_times_from_that_day_and_as_before_until_then() -> None:
    outcome = bench.must(take_up())
    assert outcome.made == ("RX1~2",)
    doses = [dose for order in load_confirmed(bench.PERSON) for dose in expand(order, STANDARD_TIMETABLE, date(2026, 3, 8), 2).doses]
    assert [
        (dose.day.day, dose.slot) for dose in sorted(doses, key=lambda dose: (dose.day, dose.time)) if dose.medicine == bench.BISOPROLOL
    ] == [
        (8, "morning"),
        (8, "evening"),
        (9, "morning"),
        (9, "bedtime"),
    ]


@pytest.mark.usefixtures("ordered")
def test_r13_the_words_as_received_stay_and_who_confirmed_it_is_on_record() -> None:
    before = orders_of("RX1")
    bench.must(take_up())
    old, new = orders_of("RX1"), orders_of("RX1~2")
    assert (new.text, new.received, new.file_id, new.source) == (before.text, before.received, before.file_id, before.source)
    assert (new.standing, new.settled_by, new.reason) == ("confirmed", PHARMACIST.by.name, ASK.agreed)
    assert (old.replaced_by_id, old.settled_by, old.ends) == ("RX1~2", before.settled_by, NEXT)
    (entry,) = [entry for entry in load_entries("order", "RX1~2") if entry.event == TAKEN_UP]
    for said in ("RX1", "18:00 evening", "22:00 bedtime", "times.free-often", ASK.agreed, "Take 1 tablet twice a day"):
        assert said in entry.body
    assert check_ledger() == ()


@pytest.mark.usefixtures("ordered")
def test_r9_a_card_that_it_touches_is_out_of_date_and_one_before_it_is_not() -> None:
    """The set of the first week ends before the day; the one of the second holds doses that move."""
    first = bench.printed(bench.planned())
    second = bench.printed(bench.planned(NEXT))
    outcome = bench.must(take_up())
    assert [finding.where["card"] for finding in outcome.findings if finding.code == "rework.card-touched"] == [second]
    assert bench.now(second).state.out_of_date
    assert not bench.now(first).state.out_of_date


@pytest.mark.usefixtures("ordered")
def test_a_set_planned_after_it_has_fewer_columns_and_the_recount_agrees() -> None:
    assert len(load_set(bench.planned()).cards[0].card.columns) == 3
    bench.must(take_up())
    planned = load_set(int(bench.must(plan_set(bench.PERSON, on(), PlanAsk(NEXT, 7))).made[0]))
    assert [column.slot for column in planned.cards[0].card.columns] == ["morning", "bedtime"]


@pytest.mark.usefixtures("ordered")
def test_the_same_file_that_comes_again_asks_nothing_and_other_words_do() -> None:
    bench.must(take_up())
    again = receive_orders("again.csv", on(), (bench.HEADER + TWICE + BED).encode())
    assert bench.codes(again) == {"custody.seen-before"}
    changed = bench.must(receive_orders("new.csv", on(), (bench.HEADER + TWICE.replace("twice", "three times")).encode()))
    assert changed.made[1:] == ("RX1~3",)


@pytest.mark.usefixtures("ordered")
def test_a_second_proposal_knows_what_the_words_left_free() -> None:
    """The medicine at bedtime is stopped: the other may come back to the evening, for its own words still say twice a day."""
    bench.must(take_up())
    bench.ordered(WHO + "RX3,ramipril-5,Take 1 capsule in the evening,2026-03-02,,Dr A. Example,1003\n")
    bench.must(stop_order(OrderId("RX2"), PHARMACIST, Moment(NEXT), "no more need"))
    later = TimesAsk(NEXT + timedelta(days=7), agreed="her daughter")
    again = proposal(later)
    assert [(move.order.id, [slot.name for slot in move.proposed]) for move in again.moves] == [("RX1~2", ["morning", "evening"])]
    assert bench.must(take_up(shown(later))).made == ("RX1~3",)
    assert not proposal(later).moves


REFUSED = [
    ("nothing shown", lambda: ASK, "custody.times-changed"),
    ("another day shown", lambda: replace(shown(), first=NEXT + timedelta(days=1)), "custody.times-changed"),
    ("a day that has begun", lambda: shown(replace(ASK, first=date(2026, 3, 2))), "custody.times-day-begun"),
    ("nobody agreed", lambda: replace(shown(), agreed=" "), "custody.no-reason"),
    ("nothing moves", lambda: shown(replace(ASK, stay=(OrderId("RX1"),))), "custody.times-nothing-to-take-up"),
]


@pytest.mark.usefixtures("ordered")
@pytest.mark.parametrize(("ask", "code"), [(ask, code) for _, ask, code in REFUSED], ids=[name for name, _, _ in REFUSED])
def test_it_is_refused_on_record_and_nothing_is_changed(ask: object, code: str) -> None:
    before = list(OrderRow.objects.order_by("id").values())
    assert code in bench.refused(take_up(ask()))  # type: ignore[operator]
    assert list(OrderRow.objects.order_by("id").values()) == before
    assert [entry.event for entry in load_entries("person", "p1")][-1] == "refused"


@pytest.mark.usefixtures("ordered")
def test_what_changed_since_it_was_shown_is_shown_anew() -> None:
    ask = shown()
    bench.must(stop_order(OrderId("RX2"), PHARMACIST, Moment(NEXT), "no more need"))
    assert bench.refused(take_up(ask)) & {"custody.times-changed", "custody.times-nothing-to-take-up"}


@pytest.mark.usefixtures("ordered")
def test_r13_nothing_is_taken_up_while_an_order_waits() -> None:
    ask = shown()
    bench.must(receive_orders("more.csv", on(), (bench.HEADER + WHO + "RX3,ramipril-5,Take 1 capsule daily,2026-03-02,,,\n").encode()))
    assert "custody.order-waits" in bench.refused(take_up(ask))


@pytest.mark.usefixtures("ordered")
def test_r14_only_a_pharmacist_takes_it_up() -> None:
    for role in set(Role) - {Role.PHARMACIST}:
        assert bench.refused(take_up(by=on(role))) == {"custody.no-right"}


@pytest.mark.usefixtures("ordered")
def test_pressing_twice_does_it_once() -> None:
    twice = on(Role.PHARMACIST, minutes=11, token="once")
    ask = shown()
    assert take_up(ask, twice) == take_up(ask, twice)
    assert OrderRow.objects.filter(source="RX1").count() == 2


@pytest.mark.usefixtures("ordered")
def test_r3_what_would_lose_a_dose_is_not_saved(monkeypatch: pytest.MonkeyPatch) -> None:
    """The saved orders are counted once more: an end a day too early shows as a dose that is missing."""
    ask, early = shown(), Moment(NEXT - timedelta(days=1))
    monkeypatch.setattr(module, "ended", lambda order, move: replace(ended(order, move), until=early))
    assert bench.refused(take_up(ask)) == {"custody.times-lose-doses"}
    assert not OrderRow.objects.filter(id="RX1~2").exists()


def test_r3_amounts_are_counted_day_by_day_and_product_by_product() -> None:
    bench.opened()
    bench.ordered(TWICE, BED)
    before = load_confirmed(bench.PERSON)
    assert check_nothing_lost(before, before, STANDARD_TIMETABLE, NEXT) == ()
    assert check_nothing_lost(before, before[:1], STANDARD_TIMETABLE, NEXT)


def test_somebody_at_home_gets_the_standard_time_that_was_missing() -> None:
    """Their own times are 08:00 and 10:00; calcium must be four hours from levothyroxine, so noon is proposed, and becomes theirs."""
    bench.opened()
    eight = STANDARD_TIMETABLE.slots[0].time
    slots = DosingTime(SlotName("early"), eight, frozenset({"MORN"})), DosingTime(SlotName("coffee"), eight.replace(hour=10))
    bench.set_up(Timetable(slots, {1: (SlotName("early"),)}))
    more = (
        b"levo-50,levothyroxine,50 microgram,tablet,,,,,white,,Aldermoor,,28,,\n",
        b"calc,calcium carbonate,1.25 g,tablet,,,,,white,,Aldermoor,,28,,\n",
    )
    medicines = b"".join((bench.MEDICINES, *more))
    bench.must(receive_medicines("medicines.csv", on(Role.MANAGER), medicines))
    bench.ordered(
        WHO + "RX1,levo-50,Take 1 tablet in the morning,2026-03-02,,,\n", WHO + "RX2,calc,Take 1 tablet once daily,2026-03-02,,,\n"
    )
    assert [slot.name for slot in load_timetable(bench.PERSON).slots] == ["early", "coffee"]
    bench.must(take_up())
    assert "noon" in {slot.name for slot in load_timetable(bench.PERSON).slots}
    assert {dose.slot for order in load_confirmed(bench.PERSON) for dose in expand(order, load_timetable(bench.PERSON), NEXT, 1).doses} == {
        "early",
        "noon",
    }

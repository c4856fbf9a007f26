"""Four weekly cards of one person, as the worst case has them: the first used up, the second in use at home, the third and fourth on the
shelf; and a stop on day 10 of 28. Every step goes through the actions.

The case is common practice; the units that leave the cards (19 of 28 from day 10 on) are check value CV-7.3.
"""

from datetime import date, time
from fractions import Fraction

from tests import small_bench as bench
from tests.bench_fixtures import on

from dosewright.actions.check_card import OwnCheck, check_card
from dosewright.actions.decide_change import Decided, decide_change
from dosewright.actions.finish_filling import finish_filling
from dosewright.actions.hand_over_card import hand_over_card
from dosewright.actions.lay_out_change import Gathered, gather, shown_as
from dosewright.actions.outcome import Outcome
from dosewright.actions.place_medicine import place_medicine
from dosewright.actions.receive_card import receive_card
from dosewright.actions.release_card import release_card
from dosewright.actions.seal_card import seal_card
from dosewright.actions.stop_order import stop_order
from dosewright.actions.take_return import take_return
from dosewright.core.custody.changing import Deciding
from dosewright.core.custody.event import Occasion, Role
from dosewright.core.rework.picked import Pick
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import CardNumber, OrderId
from dosewright.store.cards import load_set
from dosewright.store.changes import load_change
from dosewright.store.models import ChangeRow

__all__ = ["DAY_10", "THE_DAY_BEFORE", "cards_of_four_weeks", "decide", "latest", "look", "occasion", "stopped_on_day_10"]

DAY_10 = Moment(date(2026, 3, 11), time(8))
THE_DAY_BEFORE = 8 * 24 * 60  # minutes after the first Monday, 9:00: Tuesday 10 March, 9:00
THREE_TIMES = "Take 1 tablet three times a day"


def occasion(role: Role = Role.PHARMACIST, name: str = "", *, minutes: int = 0) -> Occasion:
    """So many minutes after nine on the day before day 10."""
    return on(role, name, minutes=THE_DAY_BEFORE + minutes)


def cards_of_four_weeks() -> tuple[CardNumber, ...]:
    """Week 1 came back empty, week 2 is with the person, weeks 3 and 4 are released and on the shelf."""
    bench.opened()
    bench.ordered(bench.ORDERS["RX1"], bench.ORDERS["RX2"].replace("Take half a tablet in the evening", THREE_TIMES))
    set_id = bench.planned(days=28)
    bench.printed(set_id)
    for medicine in (bench.BISOPROLOL, bench.METFORMIN):
        bench.must(place_medicine(set_id, on(minutes=5), bench.placement(medicine)))
    numbers = tuple(card.number for card in load_set(set_id).cards)
    for number in numbers:
        bench.must(finish_filling(number, on(minutes=6)))
        bench.must(check_card(number, on(Role.CHECKER, minutes=20), OwnCheck(bench.counts(number))))
        bench.must(seal_card(number, on(minutes=21)))
        bench.must(release_card(number, on(Role.PHARMACIST, minutes=22)))
    for number in numbers[:2]:
        bench.must(hand_over_card(number, on(minutes=23), "Wilhelmina Okonedo-Hart"))
        bench.must(receive_card(number, on(Role.DRIVER, minutes=90)))
    empty = {units.cell: Fraction(0) for units in bench.now(numbers[0]).state.placed}
    bench.must(take_return(numbers[0], on(minutes=THE_DAY_BEFORE - 60), empty))
    return numbers


def stopped_on_day_10() -> tuple[CardNumber, ...]:
    """The same; bisoprolol is stopped from the morning of day 10 on, said the day before. The change is the first one."""
    numbers = cards_of_four_weeks()
    bench.must(stop_order(OrderId("RX1"), occasion(), DAY_10, "the heart rate fell"))
    return numbers


def latest() -> int:
    """The number of the change that was taken last; a database goes on counting where a test's rows were taken back."""
    return int(ChangeRow.objects.latest("pk").pk)


def look(change: int = 0, minutes: int = 0) -> Gathered:
    """The change, or the one taken last, as the desk lays it out."""
    return gather(load_change(change or latest()), occasion(minutes=minutes))


def decide(change: int = 0, *picks: Pick, way: int = 0, minutes: int = 0, reason: str = "agreed with Dr Example") -> Outcome:
    """The pharmacist decides as things were shown just now."""
    shown = shown_as(look(change, minutes))
    return decide_change(change or latest(), occasion(minutes=minutes), Decided(Deciding(reason, {}, shown), way, picks))

"""What a home's round list goes by while a card of somebody who lives there is called back, or replaced."""

from datetime import date, time
from fractions import Fraction

import pytest
from tests import small_bench as bench
from tests.bench_fixtures import on

from dosewright.actions.check_card import OwnCheck, check_card
from dosewright.actions.decide_change import Decided, decide_change
from dosewright.actions.finish_filling import finish_filling
from dosewright.actions.hand_over_card import hand_over_card
from dosewright.actions.lay_out_change import gather, shown_as
from dosewright.actions.place_medicine import place_medicine
from dosewright.actions.receive_card import receive_card
from dosewright.actions.release_card import release_card
from dosewright.actions.seal_card import seal_card
from dosewright.actions.stop_order import stop_order
from dosewright.actions.take_back_card import CameBack, take_back_card
from dosewright.core.custody.changing import Deciding
from dosewright.core.custody.event import Role
from dosewright.core.custody.reconciling import Returned
from dosewright.core.paper.material import Material
from dosewright.core.rework.choices import ChoiceName
from dosewright.core.rework.picked import Pick
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import CardNumber, OrderId
from dosewright.devices.fonts import load_fonts
from dosewright.store.changes import load_change
from dosewright.store.models import CardRow, ChangeRow
from dosewright.store.paper_sources import load_days

pytestmark = pytest.mark.usefixtures("guarded")
DECIDED = date(2026, 3, 3)
A_DAY = 24 * 60  # minutes


def decided(how: ChoiceName) -> CardNumber:
    """A card that is out; on Tuesday an order is stopped from Friday on, and what is done about it is decided."""
    card = bench.released()
    bench.must(hand_over_card(card, on(minutes=60), "Wilhelmina Okonedo-Hart"))
    bench.must(receive_card(card, on(Role.DRIVER, minutes=90)))
    pharmacist = on(Role.PHARMACIST, minutes=A_DAY)
    bench.must(stop_order(OrderId("RX1"), pharmacist, Moment(date(2026, 3, 6)), "the heart rate fell"))
    change = ChangeRow.objects.latest("pk").pk
    shown = shown_as(gather(load_change(change), pharmacist))
    bench.must(decide_change(change, pharmacist, Decided(Deciding("agreed", {}, shown), 0, (Pick(how, (card,)),))))
    return card


def listed(day: date) -> Material:
    """What the round list of the day is drawn from."""
    found = load_days(bench.PERSON, day, 1, day, load_fonts())
    assert found is not None
    return found


def came_back(card: CardNumber) -> None:
    """On Wednesday at nine: what was due is gone and written down, the rest is there."""
    stored, then = bench.now(card), (date(2026, 3, 4), time(9))
    due = {(c.row, c.column) for c in stored.card.cavities if (c.day, c.time) < then}
    counted = {u.cell: Fraction(0) if (u.cell.row, u.cell.column) in due else u.amount for u in stored.state.placed}
    bench.must(take_back_card(card, on(minutes=2 * A_DAY), CameBack(Returned(counted, frozenset(due)))))


def bring_out(card: CardNumber) -> None:
    """A new card is filled, checked, released, and with the person."""
    set_id = CardRow.objects.get(number=card).card_set_id
    bench.printed(set_id)
    bench.must(place_medicine(set_id, on(minutes=A_DAY + 5), bench.placement(bench.METFORMIN)))
    bench.must(place_medicine(set_id, on(minutes=A_DAY + 5), bench.placement(bench.BISOPROLOL)))
    bench.must(finish_filling(card, on(minutes=A_DAY + 6)))
    bench.must(check_card(card, on(Role.CHECKER, minutes=A_DAY + 20), OwnCheck(bench.counts(card))))
    bench.must(seal_card(card, on(minutes=A_DAY + 21)))
    bench.must(release_card(card, on(Role.PHARMACIST, minutes=A_DAY + 22)))
    bench.must(hand_over_card(card, on(minutes=A_DAY + 23), "Wilhelmina Okonedo-Hart"))


def test_nothing_is_given_from_a_card_that_is_called_back_until_it_has_come_back() -> None:
    card = decided(ChoiceName.RECALL)
    # also on a day on which the card holds just what the orders ask
    assert listed(date(2026, 3, 4)).called_back == {card: DECIDED}
    came_back(card)
    assert listed(date(2026, 3, 5)).called_back == {}


def test_a_card_that_is_replaced_counts_no_more_once_the_new_one_is_there() -> None:
    old = decided(ChoiceName.AFRESH)
    new = CardNumber(CardRow.objects.exclude(number=old).get().number)
    on_thursday = listed(date(2026, 3, 5))
    assert (on_thursday.called_back, {one.number for one in on_thursday.plan.people[0].cards}) == ({old: DECIDED}, {old, new})
    bring_out(new)
    then = listed(date(2026, 3, 5))
    assert (then.called_back, {one.number for one in then.plan.people[0].cards}) == ({}, {new})


def test_a_change_on_top_puts_the_new_cards_right_and_asks_nothing_of_those_that_they_replace() -> None:
    """Found by random lives: the old card, which nobody may use, counted as holding the doses, and the new one was to be emptied."""
    old = decided(ChoiceName.AFRESH)
    new = CardNumber(CardRow.objects.exclude(number=old).get().number)
    later = on(Role.PHARMACIST, minutes=A_DAY + 8 * 60 + 58)  # too late for the evening dose
    bench.must(stop_order(OrderId("RX2"), later, Moment(date(2026, 3, 7)), "not needed any more"))
    assert [bench.now(card).state.out_of_date for card in (old, new)] == [False, True]
    change = ChangeRow.objects.latest("pk").pk
    found = gather(load_change(change), later)
    assert {number for choice in found.layout.choices for number in choice.cards} == {new}
    bench.must(decide_change(change, later, Decided(Deciding("agreed", {}, shown_as(found)))))
    # then every dose still due lies in the new card, and whoever has the old one gets what falls due before that is ready
    left = {(c.day, x.medicine) for c in bench.now(new).card.cavities for x in c.contents}
    assert {day for day, medicine in left if medicine == bench.METFORMIN} == {date(2026, 3, n) for n in (3, 4, 5, 6)}
    assert {day for day, medicine in left if medicine == bench.BISOPROLOL} == {date(2026, 3, n) for n in (4, 5)}
    decided_now = load_change(change)
    ready = max(Moment(*choice.cost.ready_for) for choice in found.layout.chosen if choice.cost.ready_for)
    early = {Moment(c.day, c.time) for c in bench.now(new).card.cavities if found.situation.at <= Moment(c.day, c.time) < ready}
    assert early
    assert {Moment(dose.day, dose.time) for sheet in decided_now.interims for dose in sheet.doses} == early
    assert {task.card: task.deed for task in decided_now.tasks} == {old: "afresh", new: "open"}

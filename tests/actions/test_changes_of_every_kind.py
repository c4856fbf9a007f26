"""Changes of every kind, and what becomes of them: hospital and back, discharge, death, another home; twice, back-dated, several at once,
withdrawn; cards that nobody finds or can read; and what is refused."""

from dataclasses import replace
from datetime import date, time
from fractions import Fraction

import pytest
from tests import four_weeks
from tests import small_bench as bench
from tests.actions.test_change_life import back_from_home, nothing_lost, opened_counts, print_sheet, put_right
from tests.four_weeks import DAY_10, decide, latest, look, occasion

from dosewright.actions.change_rates import change_rates
from dosewright.actions.check_card import OwnCheck, check_card
from dosewright.actions.confirm_reading import confirm_reading
from dosewright.actions.decide_anew import reopen_change
from dosewright.actions.decide_change import Decided, decide_change
from dosewright.actions.end_orders import end_orders, resume_orders
from dosewright.actions.finish_change import finish_change, recount_change
from dosewright.actions.finish_filling import finish_filling
from dosewright.actions.lay_out_change import shown_as, what_changes
from dosewright.actions.look_for_card import say_found, say_not_found
from dosewright.actions.make_sheet import make_sheet
from dosewright.actions.move_home import move_home
from dosewright.actions.place_medicine import place_medicine
from dosewright.actions.print_set import print_set
from dosewright.actions.release_card import release_card
from dosewright.actions.rework_card import Removed, relabel_card, remove_units
from dosewright.actions.seal_card import seal_card
from dosewright.actions.set_up_pharmacy import set_up_pharmacy
from dosewright.actions.sheets_wanted import month_of_person
from dosewright.actions.stop_order import stop_order
from dosewright.actions.take_back_card import CameBack, take_back_card
from dosewright.actions.withdraw_change import withdraw_change
from dosewright.core.custody.changing import Cause, ChangeStanding, Deciding
from dosewright.core.custody.confirming import Confirmation
from dosewright.core.custody.ending import EndAsk
from dosewright.core.custody.event import Role
from dosewright.core.custody.reconciling import Returned
from dosewright.core.custody.stage import Stage
from dosewright.core.rework.brief import BriefKind
from dosewright.core.rework.choices import ChoiceName
from dosewright.core.rework.picked import Pick
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import Gtin, HomeId, OrderId
from dosewright.devices.shipped import read_shipped
from dosewright.store.calendar import wall_moment
from dosewright.store.cards import load_set
from dosewright.store.changes import load_change
from dosewright.store.ledger import load_entries
from dosewright.store.models import CardRow, LedgerEntry
from dosewright.store.orders import load_confirmed
from dosewright.store.people import load_timetable, save_home
from dosewright.store.pharmacy import load_pharmacy, load_rule_texts

pytestmark = pytest.mark.usefixtures("guarded")
TECHNICIAN = Role.TECHNICIAN


def kinds(minutes: int = 0) -> list[tuple[BriefKind, str, Fraction, Fraction]]:
    """What the desk says of it."""
    found = what_changes(bench.PERSON, load_change(latest()).before, wall_moment(occasion(minutes=minutes).at))
    return [(one.kind, one.was, one.before, one.after) for one in found]


def waiting() -> set[str]:
    """Codes of what a decision would meet."""
    return bench.refused(decide(reason=""))


def test_a_stay_in_hospital_suspends_every_order_and_resuming_brings_back_the_same_doses() -> None:
    four_weeks.cards_of_four_weeks()
    before = load_confirmed(bench.PERSON)
    bench.must(end_orders(bench.PERSON, occasion(), EndAsk(DAY_10, Cause.SUSPENDED, "admitted to hospital")))
    assert load_change(latest()).cause is Cause.SUSPENDED
    assert {(kind, was) for kind, was, _, _ in kinds()} == {(BriefKind.STOPPED, bench.BISOPROLOL), (BriefKind.STOPPED, bench.METFORMIN)}
    back = Moment(date(2026, 3, 18), time(8))
    bench.must(resume_orders(bench.PERSON, occasion(minutes=1), back, "discharged, nothing changed"))
    found = what_changes(bench.PERSON, before, wall_moment(occasion().at))
    assert [(one.was, one.kind, one.since, one.until) for one in found] == [
        (bench.BISOPROLOL, BriefKind.STOPPED, DAY_10, back),
        (bench.METFORMIN, BriefKind.STOPPED, DAY_10, back),
    ]
    assert bench.refused(resume_orders(bench.PERSON, occasion(minutes=2), back, "again")) == {"change.nothing-suspended"}


def test_after_a_death_no_card_holds_anything_that_is_due() -> None:
    four_weeks.cards_of_four_weeks()
    bench.must(end_orders(bench.PERSON, occasion(), EndAsk(Moment(date(2026, 3, 10)), Cause.DIED, "died on Monday night")))
    found = look()
    assert {choice.name for choice in found.layout.chosen} <= {ChoiceName.OPEN, ChoiceName.RECALL, ChoiceName.AFRESH}
    bench.must(decide(reason="the family was spoken to"))
    assert bench.refused(end_orders(bench.PERSON, occasion(), EndAsk(DAY_10, Cause.DIED, "again"))) == {"change.nothing-to-end"}


def test_a_discharge_with_another_regimen_is_one_change_of_all_orders() -> None:
    four_weeks.cards_of_four_weeks()
    bench.must(end_orders(bench.PERSON, occasion(), EndAsk(DAY_10, Cause.DISCHARGED, "discharge letter of 10 March")))
    new = "p1,Wilhelmina Okonedo-Hart,1939-02-04,,,RX9,ramipril-5,Take 1 capsule in the morning,2026-03-11,,Dr A. Example,1009\n"
    for order in bench.waiting(new):
        bench.must(confirm_reading(order, occasion(minutes=1), Confirmation()))
    assert {(kind, was) for kind, was, _, _ in kinds()} == {
        (BriefKind.STOPPED, bench.BISOPROLOL),
        (BriefKind.STOPPED, bench.METFORMIN),
        (BriefKind.STARTED, "ramipril-5"),
    }
    assert [entry.event for entry in load_entries("change", str(latest()))] == ["change taken", "change added to"]


def test_another_home_touches_every_card() -> None:
    numbers = four_weeks.cards_of_four_weeks()
    save_home(HomeId("lindens"), "The Lindens")
    bench.must(move_home(bench.PERSON, occasion(), HomeId("lindens"), "4", "moved in today"))
    assert load_change(latest()).cause is Cause.MOVED_HOME
    assert [bench.now(card).state.out_of_date for card in numbers[1:]] == [True] * 3
    assert bench.refused(move_home(bench.PERSON, occasion(), HomeId("lindens"), "4", "again")) == {"change.same-home"}
    assert bench.refused(move_home(bench.PERSON, occasion(), HomeId("nowhere"), "4", "x")) == {"custody.not-there"}
    bench.must(decide(reason="the dosing times are the same"))
    assert "change.card-not-right" in bench.refused(finish_change(latest(), occasion(minutes=1)))
    print_sheet("labels", 2)
    for card in numbers[2:]:  # those that are here get a new header; the one in her hands is told of by the note
        bench.must(relabel_card(card, occasion(TECHNICIAN, minutes=3)))
        assert bench.now(card).state.stage is Stage.RELEASED
    bench.must(finish_change(latest(), occasion(minutes=4)))


def test_the_same_stop_twice_is_one_change_and_nothing_new() -> None:
    four_weeks.stopped_on_day_10()
    assert bench.must(stop_order(OrderId("RX1"), occasion(minutes=1), DAY_10, "again")).findings == ()
    assert [entry.event for entry in load_entries("change", str(latest()))] == ["change taken"]


def test_a_change_that_counts_earlier_and_comes_later_moves_the_urgency_forward() -> None:
    four_weeks.stopped_on_day_10()
    earlier = Moment(date(2026, 3, 10), time(12))
    bench.must(stop_order(OrderId("RX2"), occasion(minutes=5), earlier, "stopped too"))
    assert load_change(latest()).first == earlier
    assert [kind for kind, *_ in kinds()] == [BriefKind.STOPPED] * 2


def test_a_back_dated_stop_touches_only_what_is_still_to_come() -> None:
    four_weeks.cards_of_four_weeks()
    bench.must(stop_order(OrderId("RX1"), occasion(), Moment(date(2026, 3, 4)), "was stopped on Wednesday; nobody told us"))
    found = look()
    assert found.change.first == Moment(date(2026, 3, 11), time(8))  # this morning's dose was due at 8:00, an hour ago
    assert min(change.when for one in found.layout.differences for change in one.changes) == (date(2026, 3, 11), time(8))


def test_a_change_is_withdrawn_while_nothing_was_done_and_the_cards_are_as_they_were() -> None:
    numbers = four_weeks.stopped_on_day_10()
    bench.must(withdraw_change(latest(), occasion(minutes=5), "meant for somebody else"))
    assert load_change(latest()).standing is ChangeStanding.WITHDRAWN
    assert [order.until for order in load_confirmed(bench.PERSON)] == [None, None]
    assert not any(bench.now(card).state.out_of_date for card in numbers)
    assert {bench.now(card).state.stage for card in numbers[2:]} == {Stage.RELEASED}


def test_once_a_card_is_opened_the_way_back_is_another_change() -> None:
    four_weeks.stopped_on_day_10()
    bench.must(decide())
    assert bench.refused(withdraw_change(latest(), occasion(minutes=5), "no")) == {"change.work-begun"}


def test_what_may_wait_needs_a_reason_and_is_counted_as_waiting_not_as_right() -> None:
    _, week_2, week_3, week_4 = four_weeks.stopped_on_day_10()
    picks = [Pick(ChoiceName.WAIT, (week_2,)), *(Pick(ChoiceName.OPEN, (card,)) for card in (week_3, week_4))]
    shown = shown_as(look())
    silent = decide_change(latest(), occasion(), Decided(Deciding("", {}, shown), 0, tuple(picks)))
    assert "custody.no-reason" in bench.refused(silent)
    bench.must(decide(latest(), *picks, reason="five more doses do no harm; Dr Example agrees"))
    assert bench.now(week_2).state.decision == "wait"
    print_sheet("labels")
    put_right(week_3, 10)
    put_right(week_4, 20)
    assert recount_change(look(minutes=30)) == ()
    bench.must(finish_change(latest(), occasion(minutes=30)))
    month = month_of_person(bench.PERSON, date(2026, 3, 1), occasion(minutes=40).at)
    record = make_sheet(month.name.subject, occasion(minutes=40), month)
    assert "paper.card-waits" in bench.codes(bench.must(record))  # it says what lies in the card, to the card's last day


def test_cards_of_the_format_before_keep_it_when_they_are_put_right() -> None:
    """Another card format is used from now on: out of those that are here something may still be taken, and their sheets fit them."""
    *_, week_4 = four_weeks.cards_of_four_weeks()
    set_id = bench.now(week_4).set_id
    was, known = load_set(set_id), load_pharmacy()
    texts = load_rule_texts(known.rules)
    deep = replace(texts, card_format=read_shipped("formats", "seven-by-four-deep.toml"))
    bench.must(set_up_pharmacy(known.name, occasion(Role.MANAGER), known, deep, load_timetable(bench.PERSON)))
    bench.must(stop_order(OrderId("RX1"), occasion(), DAY_10, "the heart rate fell"))
    assert {card.form.name for card in look().situation.cards if card.form} == {was.plan.format}
    bench.must(decide())
    now = load_set(set_id)
    assert (now.plan.format, now.rules) == (was.plan.format, was.rules)
    assert now.plan.basis != was.plan.basis


def test_every_card_has_one_choice_and_only_a_lawful_one() -> None:
    _, week_2, week_3, _ = four_weeks.stopped_on_day_10()
    assert "rework.not-chosen-once" in bench.refused(decide(latest(), Pick(ChoiceName.WAIT, (week_2,))))
    both = [Pick(ChoiceName.OPEN, (week_3,)), Pick(ChoiceName.WAIT, (week_3,))]
    assert "rework.not-chosen-once" in bench.refused(decide(latest(), *both))
    assert "rework.no-such-choice" in bench.refused(decide(latest(), Pick(ChoiceName.OPEN, (week_2,))))  # it is out
    assert "rework.no-such-choice" in bench.refused(decide(latest(), Pick(ChoiceName.MOVE, (week_3,))))  # never out of another card


def test_what_moved_on_since_it_was_shown_is_shown_anew() -> None:
    four_weeks.stopped_on_day_10()
    shown = shown_as(look())
    bench.must(stop_order(OrderId("RX2"), occasion(minutes=1), DAY_10, "stopped too"))
    stale = decide_change(latest(), occasion(minutes=2), Decided(Deciding("agreed", {}, shown)))
    assert "change.shown-differs" in bench.refused(stale)


def test_a_card_that_nobody_finds_is_listed_and_replaced_and_never_opened() -> None:
    _, _, week_3, _ = four_weeks.stopped_on_day_10()
    bench.must(say_not_found(week_3, occasion(minutes=1), "not on the shelf"))
    assert "change.missing-already" in bench.refused(say_not_found(week_3, occasion(minutes=1), "still not"))
    found = look(minutes=2)
    assert [choice.name for choice in found.layout.choices if choice.lawful and choice.cards == (week_3,)] == [ChoiceName.AFRESH]
    outcome = bench.must(decide(minutes=2, reason="filled afresh; looked everywhere"))
    assert len(outcome.made) == 1
    assert "custody.card-not-found" in bench.refused(remove_units(week_3, occasion(minutes=3), Removed(bench.BISOPROLOL, "WASTE-1")))
    bench.must(say_found(week_3, occasion(minutes=4), "behind the shelf"))


def test_a_card_whose_record_cannot_be_read_hides_none_of_the_others() -> None:
    _, _, week_3, _ = four_weeks.stopped_on_day_10()
    CardRow.objects.filter(number=week_3).update(value="{}")
    found = look()
    assert [one.number for one in found.open.unreadable] == [week_3]
    assert len(found.open.cards) == 2
    shown = shown_as(found)
    assert "change.unreadable" in bench.refused(decide_change(latest(), occasion(), Decided(Deciding("", {}, shown))))


def test_a_new_set_takes_the_place_of_cards_that_are_filled_afresh_and_can_be_printed_and_filled() -> None:
    _, week_2, week_3, week_4 = four_weeks.stopped_on_day_10()
    picks = [Pick(ChoiceName.RECALL, (week_2,)), *(Pick(ChoiceName.AFRESH, (card,)) for card in (week_3, week_4))]
    bench.must(bench.stocked(bench.METFORMIN, "K2208"))
    outcome = bench.must(decide(latest(), *picks))
    assert {bench.now(card).state.stage for card in (week_3, week_4)} == {Stage.WITHDRAWN}
    for made in map(int, outcome.made):
        bench.must(print_set(made, occasion(TECHNICIAN, minutes=1)))
        bench.must(place_medicine(made, occasion(TECHNICIAN, minutes=2), bench.placement(bench.METFORMIN, "K2208")))
        for card in load_set(made).cards:
            assert {c.medicine for cavity in card.card.cavities for c in cavity.contents} == {bench.METFORMIN}
            bench.must(finish_filling(card.number, occasion(TECHNICIAN, minutes=3)))
    nothing_lost()


def test_a_second_change_in_the_middle_of_work_is_laid_out_by_what_lies_in_the_cards() -> None:
    """One card is half put right when the other medicine's dose changes too: what is still in it, and only that, is to leave."""
    _, _, week_3, week_4 = four_weeks.stopped_on_day_10()
    bench.must(decide())
    bench.must(remove_units(week_3, occasion(TECHNICIAN, minutes=1), Removed(bench.BISOPROLOL, "WASTE-1")))
    bench.must(stop_order(OrderId("RX2"), occasion(minutes=2), Moment(date(2026, 3, 26)), "a short course after all"))
    assert load_change(latest()).standing is ChangeStanding.WAITING
    found = {one.card.number: one.changes for one in look(minutes=3).layout.differences}
    assert {content.medicine for change in found[week_4] for content in change.remove} == {bench.BISOPROLOL, bench.METFORMIN}
    assert found[week_3] == ()  # nothing more is to leave it, and its labels are still the old ones
    bench.must(decide(minutes=3))
    task = next(one for one in load_change(latest()).tasks if one.card == week_3)
    assert (task.deed, len(task.opened)) == ("open", 7)


def test_a_decision_that_cannot_be_done_is_made_anew() -> None:
    _, week_2, *_ = four_weeks.stopped_on_day_10()
    bench.must(decide())
    bench.must(say_not_found(week_2, occasion(minutes=1), "the home has thrown it away"))
    assert load_change(latest()).standing is ChangeStanding.WAITING
    bench.must(decide(minutes=2, reason="filled afresh"))
    bench.must(reopen_change(latest(), occasion(minutes=3), "it was found under the bed"))
    assert load_change(latest()).standing is ChangeStanding.WAITING
    assert "change.wrong-standing" in bench.refused(reopen_change(latest(), occasion(minutes=4), "again"))


def test_r10_what_leaves_a_card_is_never_put_into_a_bottle() -> None:
    _, _, week_3, _ = four_weeks.stopped_on_day_10()
    bench.must(decide())
    into_bottle = Removed(bench.BISOPROLOL, "0106291041500213", Gtin("06291041500213"))
    assert bench.refused(remove_units(week_3, occasion(TECHNICIAN, minutes=1), into_bottle)) == {"change.bottle-is-no-waste"}
    nowhere = remove_units(week_3, occasion(TECHNICIAN, minutes=1), Removed(bench.BISOPROLOL, ""))
    assert bench.refused(nowhere) == {"change.no-destination"}
    bench.must(remove_units(week_3, occasion(TECHNICIAN, minutes=1), Removed(bench.BISOPROLOL, "", reason="the container's code is torn")))


def test_a_card_that_was_opened_is_checked_medicine_by_medicine_by_another_hand_and_bears_new_labels() -> None:
    _, _, week_3, _ = four_weeks.stopped_on_day_10()
    bench.must(decide())
    bench.must(remove_units(week_3, occasion(TECHNICIAN, minutes=1), Removed(bench.BISOPROLOL, "WASTE-1")))
    bench.must(finish_filling(week_3, occasion(TECHNICIAN, minutes=2)))
    counts = bench.counts(week_3)
    assert "change.disturbed-not-counted" in bench.refused(check_card(week_3, occasion(Role.CHECKER, minutes=3), OwnCheck(counts)))
    opened = opened_counts(week_3)
    spot = next(iter(opened))
    seen = {**opened, spot: {**opened[spot], bench.BISOPROLOL: Fraction(1)}}
    wrong = check_card(week_3, occasion(Role.CHECKER, minutes=3), OwnCheck(counts, opened=seen))
    assert "change.disturbed-differs" in bench.refused(wrong)
    own = check_card(week_3, occasion(Role.PHARMACIST, "technician one", minutes=3), OwnCheck(counts, opened=opened))
    assert "checking.same-hands" in bench.refused(own)  # R8
    bench.must(check_card(week_3, occasion(Role.CHECKER, minutes=3), OwnCheck(counts, opened=opened)))
    assert bench.refused(seal_card(week_3, occasion(TECHNICIAN, minutes=4))) == {"custody.old-labels"}
    assert bench.refused(relabel_card(week_3, occasion(TECHNICIAN, minutes=4))) == {"change.no-labels"}
    print_sheet("labels", 4)
    bench.must(relabel_card(week_3, occasion(TECHNICIAN, minutes=5)))
    bench.must(seal_card(week_3, occasion(TECHNICIAN, minutes=6)))
    bench.must(release_card(week_3, occasion(minutes=7)))


def test_count_and_record_that_differ_are_a_pharmacist_s_to_explain() -> None:
    _, week_2, *_ = four_weeks.stopped_on_day_10()
    bench.must(decide())
    right = back_from_home(week_2, 40)
    unwritten = CameBack(Returned(right.back.counted, frozenset()), "the record is with the home")
    found = bench.refused(take_back_card(week_2, occasion(TECHNICIAN, minutes=40), unwritten))
    assert found == {"change.gone-not-recorded", "change.only-a-pharmacist"}
    assert "custody.no-reason" in bench.refused(take_back_card(week_2, occasion(minutes=40), CameBack(unwritten.back)))
    bench.must(take_back_card(week_2, occasion(minutes=40), unwritten))
    assert bench.now(week_2).state.stage is Stage.FILLING


def test_the_pharmacy_s_own_figures_count_and_nonsense_changes_nothing() -> None:
    four_weeks.stopped_on_day_10()
    before = look().layout.choices
    assert bench.refused(change_rates("pharmacy", occasion(), "[minutes]\n")) == {"change.rates-unreadable"}
    assert look().layout.choices == before


def test_the_recount_looks_at_what_lies_in_the_cards_whatever_was_decided() -> None:
    _, week_2, week_3, week_4 = four_weeks.stopped_on_day_10()
    picks = [Pick(ChoiceName.WAIT, (week_2,)), *(Pick(ChoiceName.OPEN, (card,)) for card in (week_3, week_4))]
    bench.must(decide(latest(), *picks))
    assert {one.code for one in recount_change(look(minutes=1))} >= {"rework.recount-dose", "rework.recount-order"}
    assert LedgerEntry.objects.filter(event="change done").count() == 0

"""Which choices there are for a card, which are lawful where it is, and what each says."""

from dataclasses import replace
from datetime import date, time
from fractions import Fraction

import pytest
from tests.core.packing.makers import SEVEN_BY_FOUR, dosage, medicine, order, request
from tests.core.rework.rework_makers import RATES, day, laid_out, open_cards, situation

from dosewright.core.packing.request import PlanRequest
from dosewright.core.rework.choices import Choice, ChoiceName
from dosewright.core.rework.layout import PersonLayout, check_absent, lay_out
from dosewright.core.rework.situation import OUT, Place, Situation
from dosewright.core.units.finding import Severity

BISO, METF, LEVO = medicine("Bisoprolol"), medicine("Metformin"), medicine("Levothyroxine")
DAILY, TWICE = order("o1", BISO, dosage(1, "MORN")), order("o2", METF, dosage(1, "MORN", "EVE"))
BEFORE = request([DAILY, TWICE], [BISO, METF, LEVO], days=7)
STOPPED = (TWICE,)
ADDED = (DAILY, TWICE, order("o3", LEVO, dosage(1, "NOON")))


def stop_with_cards(place: Place, before: PlanRequest = BEFORE) -> PersonLayout:
    (layout,) = laid_out(situation(before, STOPPED, day(4), place))
    return layout


def by_name(layout: PersonLayout) -> dict[str, Choice]:
    return {str(choice.name): choice for choice in layout.choices}


def lawful(layout: PersonLayout) -> set[str]:
    return {str(choice.name) for choice in layout.choices if choice.lawful}


@pytest.mark.parametrize("place", [Place.BENCH, Place.SHELF])
def test_a_card_in_the_pharmacy_may_be_opened(place: Place) -> None:
    layout = stop_with_cards(place)
    assert lawful(layout) == {"wait", "open", "move", "afresh"}
    assert [choice.name for choice in layout.chosen] == [ChoiceName.OPEN]


@pytest.mark.parametrize("place", sorted(OUT))
def test_a_card_that_is_out_is_called_back_or_replaced_and_never_opened_there(place: Place) -> None:
    layout = stop_with_cards(place)
    assert lawful(layout) == {"wait", "recall", "afresh"}
    assert {"open", "move"}.isdisjoint(by_name(layout))
    told = {found.code for found in by_name(layout)["recall"].findings}
    assert told == {"rework.recall", "rework.reissue"}


def test_a_card_that_is_called_back_must_be_there_before_the_first_dose_that_differs() -> None:
    recall = by_name(stop_with_cards(Place.HOME))["recall"]
    (found,) = [found for found in recall.findings if found.code == "rework.recall"]
    assert (found.facts["date"], found.facts["time"]) == (date(2026, 3, 5), time(8))


def test_a_stopped_medicine_on_the_delivery_shelf_is_put_right_before_it_leaves() -> None:
    """A stopped antihypertensive was handed out in a card that was ready on the shelf (ISMP Canada, 2021, on managing changes of packed
    medicines). That it cannot be handed out before somebody has decided: `test_state`, R9."""
    layout = stop_with_cards(Place.SHELF)
    assert by_name(layout)["wait"].waits
    assert layout.chosen[0].cost.at_risk == 0
    assert all(BISO.code != c.medicine for laid in layout.laid for cavity in laid.card.cavities for c in cavity.contents)


def test_a_missing_card_is_replaced_and_said_to_be_missing() -> None:
    layout = stop_with_cards(Place.MISSING)
    assert lawful(layout) == {"afresh"}
    assert {"rework.missing-replaced"} <= {found.code for found in layout.findings}


def test_waiting_is_never_chosen_and_says_which_doses_follow_the_old_order() -> None:
    wait = by_name(stop_with_cards(Place.SHELF))["wait"]
    (found,) = wait.findings
    assert (found.code, found.severity) == ("rework.wait", Severity.DECIDE)
    assert found.facts["doses"] == wait.cost.at_risk == 4
    assert found.facts["medicines"] == (BISO.label,)
    assert (found.facts["first"], found.facts["last"]) == (date(2026, 3, 5), date(2026, 3, 8))
    assert wait.waits


def test_waiting_is_not_chosen_even_where_everything_else_weighs_more() -> None:
    dear = replace(RATES, weights=replace(RATES.weights, cavity_disturbed=Fraction(10_000), unit_wasted=Fraction(10_000)))
    (layout,) = laid_out(replace(situation(BEFORE, STOPPED, day(4)), rates=dear))
    assert ChoiceName.WAIT not in {choice.name for choice in layout.chosen}


def test_a_card_is_added_for_additions_only() -> None:
    (layout,) = laid_out(situation(BEFORE, ADDED, day(4)))
    assert by_name(layout)["add"].lawful
    assert not by_name(layout)["open"].lawful
    assert "add" not in by_name(stop_with_cards(Place.SHELF))
    more = (replace(DAILY, dosages=(dosage(2, "MORN"),)), TWICE)
    assert "add" not in by_name(laid_out(situation(BEFORE, more, day(4)))[0])


def test_every_card_says_that_there_is_another_one() -> None:
    (layout,) = laid_out(situation(BEFORE, ADDED, day(4)))
    assert len(layout.laid) == 2
    assert all(laid.header for laid in layout.laid)


def test_whoever_has_a_card_is_told_of_the_other_one() -> None:
    (layout,) = laid_out(situation(BEFORE, ADDED, day(4), Place.HOME))
    added = by_name(layout)["add"]
    assert [found.code for found in added.findings] == ["rework.other-card"]


def test_an_addition_and_a_stop_together_are_both_done() -> None:
    (layout,) = laid_out(situation(BEFORE, (TWICE, ADDED[2]), day(4)))
    held = {c.medicine for laid in layout.laid for cavity in laid.card.cavities if cavity.day >= day(4).day for c in cavity.contents}
    assert held == {METF.code, LEVO.code}


def test_a_cavity_that_is_too_small_for_more_is_not_filled_further() -> None:
    """R4: the limit on pieces of an opened cavity holds for what is added."""
    tight = replace(BEFORE, format=replace(SEVEN_BY_FOUR, cavity=replace(SEVEN_BY_FOUR.cavity, max_units=2)))
    (layout,) = laid_out(situation(tight, (replace(DAILY, dosages=(dosage(4, "MORN"),)), TWICE), day(4)))
    assert [found.code for found in by_name(layout)["open"].findings] == ["rework.no-room"]
    assert [choice.name for choice in layout.chosen] == [ChoiceName.AFRESH]


def test_what_goes_in_may_not_outlive_itself() -> None:
    """R5: a lot that ends before the card does makes the card too short."""
    ends = replace(BEFORE, expiries={BISO.code: date(2026, 4, 1)})
    asked = situation(ends, (replace(DAILY, dosages=(dosage(2, "MORN"),)), TWICE), day(4))
    late = replace(asked, after=replace(asked.after, expiries={BISO.code: date(2026, 3, 6)}))
    (layout,) = lay_out(late)
    assert not by_name(layout)["open"].lawful


def test_a_card_moved_over_has_a_new_number_and_keeps_no_longer() -> None:
    layout = stop_with_cards(Place.SHELF)
    (old,) = open_cards(BEFORE, day(4))
    move = by_name(layout)["move"]
    (new,) = move.laid
    assert new.card.number != old.number
    assert move.withdrawn == (old.number,)
    assert new.card.beyond_use <= old.card.beyond_use
    assert new.card.first == day(4).day


def test_an_open_question_about_what_lies_in_a_card_stops_that_persons_change() -> None:
    question = replace(DAILY, dosages=())
    (layout,) = lay_out(situation(BEFORE, (question, TWICE), day(4)))
    assert layout.held
    assert "rework.unsettled" in {found.code for found in layout.findings}
    assert layout.choices == ()


def test_a_person_who_is_not_in_the_new_orders_is_named_and_left_alone() -> None:
    asked = situation(BEFORE, STOPPED, day(4))
    gone = replace(asked, after=replace(asked.after, people=(), orders=()))
    assert lay_out(gone) == ()
    assert [found.code for found in check_absent(gone)] == ["rework.person-absent"]


def test_a_person_without_any_order_has_everything_taken_out() -> None:
    """Died, or moved away: the person is there, and no order is in force."""
    (layout,) = laid_out(situation(BEFORE, (), day(4)))
    left = [c for laid in layout.laid for cavity in laid.card.cavities if cavity.day >= day(4).day for c in cavity.contents]
    assert left == []


def test_cards_that_were_wrong_before_are_said_to_be() -> None:
    asked = situation(BEFORE, STOPPED, day(4))
    wrong = replace(asked, before=replace(BEFORE, orders=(replace(DAILY, dosages=(dosage(2, "MORN"),)), TWICE)))
    (layout,) = laid_out(wrong)
    assert "rework.differed-before" in {found.code for found in layout.findings}


def test_a_card_out_is_ready_later_and_doses_until_then_are_at_risk() -> None:
    here = replace(situation(BEFORE, STOPPED, day(4, time(7)), Place.HOME))
    (layout,) = laid_out(here)
    recall = by_name(layout)["recall"]
    # Four hours to fetch it, four to bring it, some minutes: past 15:00, so the evening dose is the first that finds it right.
    assert recall.cost.ready_for == (date(2026, 3, 5), time(18))
    assert recall.cost.at_risk == 1


def test_minutes_follow_from_the_rates() -> None:
    """Four tablets out of four cavities: four pieces, four cavities, one check, seal and label; by hand from the shipped rates."""
    cost = by_name(stop_with_cards(Place.SHELF))["open"].cost
    assert cost.minutes == 4 * Fraction("0.12") + 4 * Fraction("0.1") + Fraction("2.2")
    assert (cost.placements, cost.disturbed, cost.waste) == (0, 4, {BISO.code: Fraction(4)})
    assert cost.errors == 4 * Fraction("0.00078") * Fraction("0.189")


def test_the_work_begins_when_it_can() -> None:
    asked: Situation = replace(situation(BEFORE, STOPPED, day(4)), now=day(4, time(7, 59)))
    (layout,) = laid_out(asked)
    assert by_name(layout)["open"].cost.ready_for == (date(2026, 3, 5), time(12))
    assert by_name(layout)["open"].cost.at_risk == 1


def test_a_card_that_stays_closed_beside_an_added_one_stays_as_it_is() -> None:
    """A medicine named alongside before, and now for the cards, changes no header's list: the closed card holds nothing of it."""
    liquid = order("o3", LEVO, dosage(1, "EVE", as_needed=True))
    before = replace(BEFORE, orders=(DAILY, liquid))
    dear = replace(RATES, minutes=replace(RATES.minutes, open_cavity=Fraction(1000)))
    regular = replace(liquid, dosages=(dosage(1, "MORN"),))
    (layout,) = laid_out(replace(situation(before, (DAILY, regular), day(4)), rates=dear))
    assert [choice.name for choice in layout.chosen] == [ChoiceName.ADD]
    kept = [laid for laid in layout.laid if laid.was is not None]
    assert {c.medicine for laid in kept for cavity in laid.card.cavities for c in cavity.contents} == {BISO.code}

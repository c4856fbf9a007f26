"""R2, R3, R17: exactly what comes out of which cavity and what goes in, when an order changes."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import time
from fractions import Fraction

import pytest
from tests.core.packing.makers import IRIS, dosage, medicine, order, request
from tests.core.rework.rework_makers import day, laid_out, open_cards, situation, sums

from dosewright.core.custody.change_sheets import interims_of
from dosewright.core.packing.plan_values import Content
from dosewright.core.packing.request import PlanRequest
from dosewright.core.regimen.dosage import Amount, Dosage, Repeat, TimeUnit, Timing, Weekday
from dosewright.core.regimen.order import Order
from dosewright.core.rework.cost import draws
from dosewright.core.rework.layout import PersonLayout
from dosewright.core.rework.pieces import pieces_of
from dosewright.core.rework.situation import OpenCard, Place
from dosewright.core.supply.whole_units import draw_whole_units
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import MedicineCode, OrderId, PersonId
from dosewright.core.units.person import Person
from dosewright.core.units.quantity import Quantity, Unit

BISO, METF, LEVO = medicine("Bisoprolol"), medicine("Metformin"), medicine("Levothyroxine")
HALF, ONE = Fraction(1, 2), Fraction(1)
DAILY = order("o1", BISO, dosage(1, "MORN"))
TWICE = order("o2", METF, dosage(1, "MORN", "EVE"))
BEFORE = request([DAILY, TWICE], [BISO, METF, LEVO])


def changed(*after: Order, at: Moment, before: PlanRequest = BEFORE) -> PersonLayout:
    (layout,) = laid_out(situation(before, after, at))
    return layout


def removed(layout: PersonLayout) -> dict[tuple[MedicineCode, Fraction], int]:
    return dict(sums(c for one in layout.differences for change in one.changes for c in change.remove))


def added(layout: PersonLayout) -> dict[tuple[MedicineCode, Fraction], int]:
    return dict(sums(c for one in layout.differences for change in one.changes for c in change.add))


def touched(layout: PersonLayout) -> list[tuple[int, time]]:
    """Day of the cycle and clock time of every cavity that changes."""
    moments = (change.when for one in layout.differences for change in one.changes)
    return sorted(((when[0] - BEFORE.first).days + 1, when[1]) for when in moments)


def test_cv_7_3_a_stop_on_day_10_of_28_removes_19_units() -> None:
    """Stop on day k of an n-day card: (n - k + 1) units a day are removed. All of it is waste."""
    layout = changed(TWICE, at=day(10))
    assert removed(layout) == {(BISO.code, ONE): 19}
    assert added(layout) == {}
    assert touched(layout) == [(number, time(8)) for number in range(10, 29)]
    assert sum(choice.cost.waste[BISO.code] for choice in layout.chosen) == 19


def test_cv_7_3_half_the_dose_from_day_10_adds_19_halves_out_of_10_tablets() -> None:
    layout = changed(replace(DAILY, dosages=(dosage("0.5", "MORN"),)), TWICE, at=day(10))
    assert removed(layout) == {(BISO.code, ONE): 19}
    assert added(layout) == {(BISO.code, HALF): 19}
    drawn = draws(choice.cost for choice in layout.chosen)
    assert drawn == {BISO.code: Fraction(19, 2)}
    assert draw_whole_units([drawn[BISO.code]]).whole == 10


@pytest.mark.parametrize(
    ("count", "pieces"),
    [("2", "1 1"), ("0.5", "1/2"), ("1.5", "1 1/2"), ("0.75", "1/2 1/4"), ("2.25", "1 1 1/4"), ("0", "")],
)
def test_an_amount_is_whole_units_and_what_is_broken_off(count: str, pieces: str) -> None:
    assert pieces_of(Fraction(count)) == tuple(Fraction(piece) for piece in pieces.split())


@pytest.mark.parametrize(
    ("was", "becomes", "out", "into"),
    [
        ("1", "2", {}, {ONE: 5}),
        ("2", "1", {ONE: 5}, {}),
        ("1", "1.5", {}, {HALF: 5}),
        ("1.5", "0.5", {ONE: 5}, {}),
        ("0.5", "1", {HALF: 5}, {ONE: 5}),
    ],
)
def test_what_may_stay_is_not_taken_out(was: str, becomes: str, out: dict[Fraction, int], into: dict[Fraction, int]) -> None:
    """Common practice, no source: a cavity is disturbed no more than the change needs."""
    before = request([order("o1", BISO, dosage(was, "MORN"))], [BISO], days=7)
    layout = changed(order("o1", BISO, dosage(becomes, "MORN")), at=day(3), before=before)
    assert removed(layout) == {(BISO.code, piece): many for piece, many in out.items()}
    assert added(layout) == {(BISO.code, piece): many for piece, many in into.items()}


def test_a_time_that_moves_leaves_one_cavity_and_enters_another() -> None:
    layout = changed(replace(DAILY, dosages=(dosage(1, "EVE"),)), TWICE, at=day(27))
    assert touched(layout) == [(27, time(8)), (27, time(18)), (28, time(8)), (28, time(18))]
    assert removed(layout) == added(layout) == {(BISO.code, ONE): 2}


def test_another_product_takes_the_place_of_the_first() -> None:
    other = medicine("Bisoprolol other maker")
    before = replace(BEFORE, medicines={**BEFORE.medicines, other.code: other})
    layout = changed(replace(DAILY, medicine=other.code), TWICE, at=day(28), before=before)
    assert (removed(layout), added(layout)) == ({(BISO.code, ONE): 1}, {(other.code, ONE): 1})


def test_a_suspended_order_leaves_its_days_and_is_back_in_place_when_resumed() -> None:
    """A stay in hospital: what was taken out for it goes in again from the day of return."""
    away = changed(replace(DAILY, until=day(20)), replace(DAILY, id=OrderId("o1b"), since=day(25)), TWICE, at=day(20))
    assert [number for number, _ in touched(away)] == [20, 21, 22, 23, 24]
    assert added(away) == {}


def test_a_new_prescription_for_the_same_moves_nothing_and_belongs_to_the_new_one() -> None:
    layout = changed(replace(DAILY, id=OrderId("o9")), TWICE, at=day(10))
    assert (touched(layout), layout.choices, layout.chosen) == ([], (), ())
    orders = {c.order for laid in layout.laid for cavity in laid.card.cavities for c in cavity.contents if c.medicine == BISO.code}
    assert orders == {"o9"}


def test_a_change_at_noon_leaves_that_mornings_dose() -> None:
    assert touched(changed(DAILY, at=day(28, time(12)))) == [(28, time(18))]


def test_a_back_dated_change_touches_only_cavities_that_are_not_used() -> None:
    """Told on day 15, counted from day 10: what was given meanwhile cannot be taken back, what is left is put right."""
    given = tuple(replace(card, used=used_until(card, day(15))) for card in open_cards(BEFORE, day(10)))
    (layout,) = laid_out(situation(BEFORE, [TWICE], day(10), cards=given))
    assert touched(layout) == [(number, time(8)) for number in range(15, 29)]


def used_until(card: OpenCard, at: Moment) -> frozenset[tuple[int, int]]:
    return frozenset((c.row, c.column) for c in card.card.cavities if Moment(c.day, c.time) < at)


def test_a_missed_dose_before_the_moment_is_left_where_it_is() -> None:
    missed = tuple(replace(card, used=frozenset()) for card in open_cards(BEFORE, day(10)))
    (layout,) = laid_out(situation(BEFORE, [TWICE], day(10), cards=missed))
    assert min(touched(layout)) == (10, time(8))


def test_a_dose_taken_before_its_time_is_not_packed_again_and_somebody_is_told() -> None:
    early = tuple(
        replace(card, used=card.used | {(c.row, c.column) for c in card.card.cavities if c.day == day(12).day})
        for card in open_cards(BEFORE, day(10))
    )
    more = replace(DAILY, dosages=(dosage(2, "MORN"),))
    (layout,) = laid_out(situation(BEFORE, [more, TWICE], day(10), cards=early))
    assert (12, time(8)) not in touched(layout)
    assert "rework.taken-early" in {found.code for found in layout.findings}


def test_nothing_of_a_corrected_medicine_stays_in_any_slot_of_any_card() -> None:
    """After a recall the morning doses were corrected and the evening ones were not (Health and Disability Commissioner, New Zealand,
    02HDC04619). Every slot of every card is corrected, or none."""
    four = order("o2", METF, dosage(1, "MORN", "NOON", "EVE", "HS"))
    layout = changed(DAILY, at=day(2), before=request([DAILY, four], [BISO, METF]))
    assert len(layout.differences) == 4
    assert removed(layout) == {(METF.code, ONE): 27 * 4}
    left = [c for laid in layout.laid for cavity in laid.card.cavities if cavity.day >= day(2).day for c in cavity.contents]
    assert {content.medicine for content in left} == {BISO.code}


def test_of_two_spouses_only_the_right_ones_cards_are_touched() -> None:
    """An 82-year-old took the spouse's cards, with a medicine that lowers glucose (coroner's report to prevent future deaths, Berkshire
    2024): a change of one order must not reach into the other's card, though both take the same medicine."""
    owen = Person(PersonId("p2"), "Owen Fenwick")
    his = order("h1", BISO, dosage(1, "MORN"), person=owen)
    both = request([DAILY, TWICE, his], [BISO, METF], people=(IRIS, owen))
    hers, of_owen = laid_out(situation(both, [TWICE, his], day(10)))
    assert removed(hers) == {(BISO.code, ONE): 19}
    assert (of_owen.choices, [one.changes for one in of_owen.differences]) == ((), [()])


def test_a_discharge_on_friday_with_a_short_course_and_a_dose_that_varies() -> None:
    """Friday discharge with a new short course and warfarin (Pharmaceutical Journal, opinion, "An outbreak of blisters"): neither goes into
    the cards that are there. The course has a card of its own, for its days; until that is at the home, a sheet says what to give; the
    varying dose stays out, and every header names it."""
    course, warfarin = medicine("Doxycycline"), medicine("Warfarin")
    before = replace(BEFORE, medicines={m.code: m for m in (BISO, METF, course, warfarin)})
    friday = day(12, time(12))
    five_days = replace(order("o8", course, dosage(1, "NOON")), since=friday, until=day(17, time(12)))
    varying = replace(order("o9", warfarin, dosage(1, "EVE", as_needed=True)), since=friday)
    layout = changed(DAILY, TWICE, five_days, varying, at=friday, before=before)
    new = [laid for laid in layout.laid if laid.was is None]
    packed = [content for laid in new for cavity in laid.card.cavities for content in cavity.contents]
    assert sums(packed) == {(course.code, ONE): 5}
    assert [entry.order for entry in layout.alongside] == ["o9"]
    assert all(laid.header for laid in layout.laid)
    out = situation(before, [DAILY, TWICE, five_days, varying], friday, Place.HOME)
    (at_home,) = laid_out(out)
    (sheet,) = interims_of(at_home, out)
    assert [(dose.day, dose.time, sums(dose.contents)) for dose in sheet.doses] == [(friday.day, friday.time, {(course.code, ONE): 1})]
    assert sheet.cards == ()  # none of them is called back


def test_a_medicine_that_is_added_on_days_of_an_empty_cavity_goes_into_it() -> None:
    weekly = order("o1", BISO, dosage(1, "MORN", days=[Weekday.MON]))
    before = request([weekly], [BISO, METF], days=7)
    layout = changed(weekly, order("o2", METF, dosage(1, "MORN")), at=day(3), before=before)
    assert added(layout) == {(METF.code, ONE): 5}


def test_what_goes_in_keeps_away_from_what_it_may_not_lie_with() -> None:
    """R4: a medicine that lies alone enters no cavity that holds another."""
    lonely = medicine("Lonely", flags=frozenset({"alone"}))
    before = request([DAILY], [BISO, lonely], days=7)
    layout = changed(DAILY, order("o2", lonely, dosage(1, "MORN")), at=day(3), before=before)
    assert added(layout) == {}
    assert {one.medicine for one in layout.unplaced} == {lonely.code}
    assert {choice.name for choice in layout.chosen if choice.laid[0].labels is None} == {"add"}


def test_doing_it_and_asking_again_finds_nothing() -> None:
    asked = situation(BEFORE, [replace(DAILY, dosages=(dosage("0.5", "MORN"),)), TWICE], day(10))
    (layout,) = laid_out(asked)
    done = tuple(OpenCard(laid.card, IRIS.id) for laid in layout.laid)
    (again,) = laid_out(replace(asked, before=asked.after, cards=done))
    assert (again.choices, [one.changes for one in again.differences]) == ((), [(), ()])


def test_a_change_that_is_withdrawn_gives_back_the_first_cards() -> None:
    asked = situation(BEFORE, [replace(DAILY, dosages=(dosage(2, "MORN"),)), TWICE], day(10))
    (layout,) = laid_out(asked)
    done = tuple(OpenCard(laid.card, IRIS.id) for laid in layout.laid)
    back = replace(asked, before=asked.after, after=replace(BEFORE, prepared_on=day(10).day), cards=done)
    (layout,) = laid_out(back)
    planned = {
        (c.day, c.time): held(c.contents) for card in open_cards(BEFORE, day(10)) for c in card.card.cavities if c.day >= day(10).day
    }
    now = {(c.day, c.time): held(c.contents) for laid in layout.laid for c in laid.card.cavities}
    assert now == planned


def held(contents: Iterable[Content]) -> list[tuple[OrderId, MedicineCode, Fraction]]:
    return [(c.order, c.medicine, c.quantity.count) for c in contents]


def test_what_was_taken_early_needs_no_place_any_more() -> None:
    """All of day 12 is taken: a stop of the other medicine opens the other days' cavities, and looks for no room on day 12."""
    early = tuple(
        replace(card, used=card.used | {(c.row, c.column) for c in card.card.cavities if c.day == day(12).day})
        for card in open_cards(BEFORE, day(10))
    )
    (layout,) = laid_out(situation(BEFORE, [TWICE], day(10), cards=early))
    assert layout.unplaced == ()
    assert {str(choice.name) for choice in layout.chosen} == {"open"}


def test_a_card_filled_afresh_keeps_the_rhythm_of_every_other_day() -> None:
    """The rhythm runs from where the order began, never from the new card's first day: the 3rd, 5th, 7th, … day stay such days."""
    repeat = Repeat(frequency=1, period=Fraction(2), period_unit=TimeUnit.DAY, when=("MORN",))
    amount = Amount(quantity=Quantity(ONE, Unit("tablet")))
    alternate = order("o1", BISO, Dosage(timing=Timing(repeat=repeat), amounts=(amount,)))
    layout = changed(alternate, at=day(10), before=request([alternate, TWICE], [BISO, METF]))
    fresh = [choice for choice in layout.choices if choice.name == "afresh"]
    assert fresh
    for choice in fresh:
        days = [(cavity.day - BEFORE.first).days + 1 for laid in choice.laid for cavity in laid.card.cavities]
        assert days
        assert all(number % 2 == 1 for number in days)

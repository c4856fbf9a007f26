"""What an order changes, in words: the numbers, from when, dosing time by dosing time; and the same as rows of a table."""

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

import pytest
from tests.core.custody.test_replacing import BISO_2, BISO_5, ONCE, OUTLOOK, TUESDAY, TWICE, an_order, tablets
from tests.core.regimen.regimen_makers import MONDAY, a_dosage, every, from_day

from dosewright.core.custody.replacing import Relation, Replacing, Side, compare_beside, compare_first, compare_replaced
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.quantity import Unit
from dosewright.core.units.safe_text import check_safe_text
from dosewright.web.changes import NOT_COUNTED, draw_change


def replaced(new: Order, old: Order, country: str = "GB") -> str:
    return draw_change(compare_replaced(Side(new, BISO_5), Side(old, BISO_5), OUTLOOK), country).sentence


SAID = [
    pytest.param(ONCE, TWICE, "From Tue 10 Mar 2026: 2 tablets a day become 1.", id="less"),
    pytest.param(replace(TWICE, since=Moment(TUESDAY)), ONCE, "From Tue 10 Mar 2026: 1 tablet a day becomes 2.", id="more"),
    pytest.param(
        an_order("new", BISO_5, tablets(Fraction(1, 2), "MORN"), since=TUESDAY),
        TWICE,
        "From Tue 10 Mar 2026: 2 tablets a day become half.",
        id="half",
    ),
    pytest.param(
        an_order("new", BISO_5, tablets(2, "NOON"), since=TUESDAY),
        TWICE,
        "From Tue 10 Mar 2026: 2 tablets a day as before, at other times.",
        id="at other times",
    ),
    pytest.param(
        replace(TWICE, since=Moment(TUESDAY)), TWICE, "From Tue 10 Mar 2026: nothing changes, 2 tablets a day.", id="nothing changes"
    ),
    pytest.param(
        an_order("new", BISO_5, a_dosage(every(1, 2, "d", when=("MORN",))), since=TUESDAY),
        TWICE,
        "From Tue 10 Mar 2026: in the first 14 days 28 tablets → 7; it differs from day to day.",
        id="every other day",
    ),
    pytest.param(
        an_order("new", BISO_5, replace(tablets(1, "MORN"), as_needed=True), since=TUESDAY),
        TWICE,
        "From Tue 10 Mar 2026: 2 tablets a day → only when needed.",
        id="when needed",
    ),
]


@pytest.mark.parametrize(("new", "old", "sentence"), SAID)
def test_the_sentence_has_the_day_and_the_units_a_day_before_and_after(new: Order, old: Order, sentence: str) -> None:
    assert replaced(new, old) == sentence


def test_a_first_order_begins_at_nought_and_says_so() -> None:
    drawn = draw_change(compare_first(Side(TWICE, BISO_5), OUTLOOK), "GB")
    assert drawn.sentence == "New, from Mon 2 Mar 2026: 0 → 2 tablets a day."
    alternate = an_order("new", BISO_5, a_dosage(every(1, 2, "d", when=("MORN",))))
    sentence = draw_change(compare_first(Side(alternate, BISO_5), OUTLOOK), "GB").sentence
    assert sentence == "New, from Mon 2 Mar 2026: in the first 14 days 0 → 7 tablets; it differs from day to day."


def test_a_course_tells_each_of_its_steps_and_that_it_ends() -> None:
    course = an_order("new", BISO_5, tablets(2, "MORN", bounds_period=from_day(MONDAY, date(2026, 3, 8))))
    drawn = draw_change(compare_first(Side(course, BISO_5), OUTLOOK), "GB")
    assert [part.sentence for part in drawn.parts] == [
        "New, from Mon 2 Mar 2026: 0 → 2 tablets a day.",
        "From Mon 9 Mar 2026: none.",
    ]


@pytest.mark.parametrize(
    ("country", "amounts"), [("GB", "1 mg a day becomes 500 micrograms a day"), ("US", "1 mg a day becomes 0.5 mg a day")]
)
def test_milligrams_are_written_as_the_country_writes_them(country: str, amounts: str) -> None:
    one = replace(BISO_5, strength="1 mg")
    half = replace(BISO_2, strength="0.5 mg")
    old, new = an_order("old", one, tablets(1, "MORN")), an_order("new", half, tablets(1, "MORN"), since=TUESDAY)
    drawn = draw_change(compare_replaced(Side(new, half), Side(old, one), OUTLOOK), country)
    assert drawn.sentence == f"From Tue 10 Mar 2026: {amounts}."
    assert check_safe_text(drawn.sentence.replace("→", "to"), country) == ()


def test_the_dosing_times_say_what_changes_and_what_stays_and_the_table_the_same() -> None:
    drawn = draw_change(compare_beside(Side(ONCE, BISO_5), Side(TWICE, BISO_5), OUTLOOK), "GB")
    times = [(one.slot, one.before, one.after, one.changed) for one in drawn.parts[0].times]
    assert times == [("morning", "1", "2", True), ("bedtime", "1", "1", False)]
    assert [(row.first, row.last, row.at.slot) for row in drawn.rows] == [(TUESDAY, None, "morning"), (TUESDAY, None, "bedtime")]


def test_each_stretch_of_like_days_is_told_and_all_days_where_there_are_too_many() -> None:
    ends = replace(TWICE, until=Moment(TUESDAY + timedelta(days=7)))
    drawn = draw_change(compare_replaced(Side(ONCE, BISO_5), Side(ends, BISO_5), OUTLOOK), "GB")
    assert [part.sentence for part in drawn.parts] == [
        "From Tue 10 Mar 2026: 2 tablets a day become 1.",
        "From Tue 17 Mar 2026: 0 tablets a day become 1.",
    ]
    weekly = an_order("new", BISO_5, a_dosage(every(1, 1, "wk", when=("MORN",))), since=MONDAY)
    days = draw_change(compare_first(Side(weekly, BISO_5), OUTLOOK), "GB").days
    assert [(day.day, len(day.times)) for day in days] == [(MONDAY + timedelta(days=n), int(n in (0, 7))) for n in range(14)]


def test_what_cannot_be_counted_is_said_and_not_drawn() -> None:
    unknown = Replacing(Relation.REPLACES, TWICE, Moment(date(2026, 3, 2)), Unit("tablet"), None)
    assert draw_change(unknown, "GB").sentence == NOT_COUNTED
    assert draw_change(unknown, "GB").rows == ()

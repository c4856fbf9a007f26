"""A line that contradicts itself is never read: how often against when, totals, maxima, strengths, a first dose and what follows it.

Source of the lines: pharmacy practice, from memory.
"""

import pytest
from tests.core.regimen.reading.brief_form import in_brief

from dosewright.core.regimen.reading.read import read
from dosewright.core.regimen.reading.reading_values import Reading, ReadingStatus, Setting


def reading_of(line: str, strength: str = "") -> Reading:
    return read(line, Setting("en", "GB", "tablet" if strength else "", strength))


def question_of(line: str, strength: str = "") -> str:
    reading = reading_of(line, strength)
    assert reading.status is not ReadingStatus.READ, in_brief(reading)
    return reading.questions[0].code.removeprefix("read.")


OFTEN_AND_WHEN = [
    f"Take 1 tablet {often} {when}"
    for often in ("twice daily", "bd", "two times a day", "2x daily", "b.i.d.", "2 (two) times a day")
    for when in ("at night", "nocte", "at bedtime", "in the morning", "mane", "with breakfast", "at 8am", "before breakfast", "on waking")
] + [
    "1 tds mane and nocte", "1 qds with breakfast, lunch and tea", "1 od mane and nocte", "one three times a day at 8am and 8pm",
    "one once daily morning and night", "1 tablet every 12 hours at 8am", "1 tablet every 8 hours twice daily", "1 qds 8 hourly",
    "1 tablet three times a day, 12 hours apart", "1 tablet daily every other day", "1 daily on the same day each week",
    "1 every second day, once a week", "1 tablet weekly on the same date each month",
]  # fmt: skip


@pytest.mark.parametrize("line", OFTEN_AND_WHEN)
def test_how_often_and_when_must_be_the_same_count(line: str) -> None:
    assert question_of(line) in ("contradiction", "twice-said")


SUPPLIED = [
    ("28 tablets. {}", "1 twice daily for 7 days"), ("28 tablets, {}", "1 twice daily for 7 days"), ("28 tablets: {}", "1 bd for 7 days"),
    ("{} (28 tablets)", "1 bd for 7 days"), ("{}. Supply 28", "1 bd for 7 days"), ("{} mitte 28", "1 bd 7/7"),
    ("{}, disp 28", "1 bd x 7 days"),
    ("{}. 28 tablets", "1 bd for 7 days"), ("{}. Quantity: 28 tablets", "1 bd for one week"), ("{}. Dispense 28 tablets", "1 bd x 1 week"),
]  # fmt: skip


@pytest.mark.parametrize(("supplied", "schedule"), SUPPLIED)
def test_what_is_supplied_must_be_what_is_taken(supplied: str, schedule: str) -> None:
    assert question_of(supplied.format(schedule)) == "total"
    right = in_brief(reading_of(supplied.replace("28", "14").format(schedule)))
    assert right.replace("tablet ", "").split()[:2] == ["1", "x2/1d"]


def test_what_is_supplied_without_a_length_says_nothing_that_can_be_checked() -> None:
    assert question_of("1 bd. Supply 56") == "total"
    assert question_of("56 tablets. 1 bd") == "no-match"
    assert question_of("2 tablets, 1 tablet daily for 2 days") == "no-match"  # two at once, and then one a day


IN_A_DAY = [
    "1 tablet twice daily (total 3 tablets daily)", "1 tablet tds (total 4 tablets a day)", "100 mg tds = 400 mg/day",
    "100 mg tds (400 mg daily)",
    "3 tablets daily: 1 twice a day", "3 tablets daily, 1 in the morning and 1 at night", "400 mg daily (100 mg three times a day)",
    "Take 2 tablets daily (one morning, two night)", "1 tablet every 6 hours, total 3 tablets a day",
]  # fmt: skip


@pytest.mark.parametrize("line", IN_A_DAY)
def test_a_stated_total_must_be_the_sum(line: str) -> None:
    assert question_of(line) == "total"


MOST = [
    f"{schedule}, {most}"
    for schedule in ("2 tablets three times a day", "2 tds", "2 tablets every 8 hours", "2 tablets morning, noon and night", "2 tds prn")
    for most in ("max 4 in 24 hours", "maximum 4 tablets daily", "not exceeding 4 a day", "max 4/24", "do not exceed 4 tablets in 24 hours")
    if not ("tablets" not in schedule and "tablets" in most)
] + [
    "1 qds max tds", "Take 2 tablets daily. Max 1 tablet a day", "1 every 4 hours, max 4 in 24 hours",
    "Take 2 prn, max 1 daily",
]  # fmt: skip


@pytest.mark.parametrize("line", MOST)
def test_a_maximum_below_the_schedule_is_a_question(line: str) -> None:
    assert question_of(line) == "maximum"


def test_a_maximum_below_the_most_that_an_interval_would_give_is_what_a_maximum_is_for() -> None:
    assert in_brief(reading_of("2 tablets every 4 hours when required, max 8 in 24 hours")) == "2 tablet x1/4h prn max 8 tablet/24h"
    assert in_brief(reading_of("1-2 qds prn max 6 daily")) == "1-2 x4/1d prn max 6 /1d"


NO_HALF = [
    "3 mg daily",
    "3mg od",
    "Take 3 mg in the morning",
    "2 mg mane, 3 mg nocte",
    "7 mg on Mondays",
    "3 milligrams at night",
    "2 x 3.5 mg daily mane",
]


@pytest.mark.parametrize("line", NO_HALF)
def test_mg_that_are_no_half_of_the_unit_ordered_are_a_question(line: str) -> None:
    assert question_of(line, strength="4 mg") == "not-in-units"


OTHER_STRENGTH = [
    "1 tablet (20 mg) daily",
    "Take one 20 mg tablet daily",
    "20 mg (2 tablets) daily",
    "Take 15 mg (5 x 2.5 mg tablets) weekly",
]


@pytest.mark.parametrize("line", OTHER_STRENGTH)
def test_a_strength_that_is_not_the_one_ordered_is_a_question(line: str) -> None:
    assert question_of(line, strength="4 mg") == "strength"


FIRST_DOSE = [
    f"{first}{joint}{then}"
    for first in ("2 stat", "Take 2 tablets at once", "2 tablets immediately", "Take two now", "2 straight away")
    for joint in (", then ", " then ", ". Then ", ", followed by ")
    for then in ("1 daily", "1 tablet twice a day for 5 days", "1 at night", "1 every 12 hours")
]  # fmt: skip


@pytest.mark.parametrize("line", FIRST_DOSE)
def test_after_a_first_dose_it_is_asked_when_the_regular_ones_begin(line: str) -> None:
    assert question_of(line) == "after-first"


SAID_WHEN = {
    "2 on day 1 then 1 daily from day 2": "2 x1/1d for 1d #1; 1 x1/1d #2",
    "Take 2 on the first day, then 1 daily for 4 days": "2 x1/1d for 1d #1; 1 x1/1d for 4d #2",
    "Day 1: 2 tablets, days 2 to 5: 1 tablet daily": "2 tablet x1/1d for 1d #1; 1 tablet x1/1d for 4d #2",
}


@pytest.mark.parametrize(("line", "expected"), SAID_WHEN.items())
def test_where_it_is_said_it_is_read(line: str, expected: str) -> None:
    assert in_brief(reading_of(line)) == expected


# Once read as another dose, without a question.
ANOTHER_DOSE = {
    "one an hour before food": "?no-frequency", "one an hour before breakfast": "1 x1/1d @ACM~60", "Take 2-weekly": "?no-quantity",
    "one 2-weekly": "1 x1/2wk", "3-monthly": "?no-quantity", "1 am and 1 am": "?twice-said", "one at night in the morning": "?one-or-two",
    "1 tab at 6 in the morning and 6 in the evening": "1 tablet x2/1d @06:00,18:00", "2 at 8am, 4 in the evening": "?word",
    "1 at 8am and 2 at night": "1 x1/1d @08:00; 2 x1/1d @HS", "1 tablet per hour": "?word", "Stop. 1 daily for 7 days": "?stop-when",
    "2 tablets daily. 1 in the morning and 1 at night": "?no-match", "1 tablet 3 months per day": "?not-understood",
    "2 tabs at 0 and 2 months": "?clock", "1+ daily": "?mixed", "1 daily, twice on Sundays": "?mixed", "1 6am-6pm": "?mixed",
    "1 daily and at night on Sundays": "?mixed", "Take 1 tablet at 8:30": "?word", "1 at morning tea": "?not-understood",
    "1 tab 8-12-6": "?pattern", "8-12-6": "?pattern", "7-12-18": "?pattern", "1 at night then 2 in the morning": "?phase-length",
    "1 nocte then 2 nocte": "?phase-length",
    "Take 1 tablet at 8:30 and 20:30": "1 tablet x2/1d @08:30,20:30",
}  # fmt: skip


@pytest.mark.parametrize(("line", "expected"), ANOTHER_DOSE.items())
def test_what_was_once_taken_for_another_dose(line: str, expected: str) -> None:
    assert in_brief(reading_of(line)) == expected

"""Every choice of a question can be said in plain words and shown as doses; every question points at letters of its line."""

from datetime import date

import pytest
from tests.core.regimen.reading.test_worked_directions import LINES, parts

from dosewright.core.regimen.dosage import Dosage, Repeat
from dosewright.core.regimen.expand import expand
from dosewright.core.regimen.expansion import ExpansionStatus
from dosewright.core.regimen.order import Order
from dosewright.core.regimen.reading.read import read
from dosewright.core.regimen.reading.reading_values import ReadingStatus, Setting
from dosewright.core.regimen.words.say_choice import say_choice
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE
from dosewright.core.units.ids import MedicineCode, OrderId, PersonId

READINGS = [(text, Setting(lang, country), read(text, Setting(lang, country))) for lang, country, text, _ in map(parts, LINES)]
CHOICES = [(text, setting, choice) for text, setting, reading in READINGS for one in reading.questions for choice in one.choices]


# "every 15 days" is heard as two weeks in French and Spanish, "every 8 days" as a week there and in German: said in English only.
IN_ENGLISH_ONLY = {"15 jours", "quinzaine", "15 días", "quincenal", "8 días", "8 Tage"}
# No language here has a sentence for these: an amount without a lowest, twice in so many weeks at two times of a day, one dose for days,
# an injection.
UNSAID = {
    "jusqu'à 3 cp par jour si besoin",
    "bis zu 3 Tabletten täglich bei Bedarf",
    "1 cp matin et soir 1 semaine sur 4",
    "alle 6 Monate 1 Spritze",
    "1 tablet morning and night twice a week",
    "1 tablet with meals 3 times a week Mon Wed Fri",
    "3 tablets as a single dose for 3 days",
}


def test_every_choice_of_the_worked_directions_has_its_plain_words() -> None:
    """In its own language, or in English where its own would be misheard."""
    unsaid = {text for text, _, choice in CHOICES if not say_choice(choice.dosages, "en")}
    assert unsaid == UNSAID
    foreign = {text for text, setting, choice in CHOICES if not say_choice(choice.dosages, setting.lang)} - UNSAID
    assert all(any(words in text for words in IN_ENGLISH_ONLY) for text in foreign), foreign
    assert len(CHOICES) > 120


def test_the_choices_of_one_question_are_never_said_alike() -> None:
    for text, setting, reading in READINGS:
        for question in reading.questions:
            said = [say_choice(choice.dosages, setting.lang) for choice in question.choices]
            assert len(set(said)) == len(said), (text, said)


def test_every_choice_has_the_doses_of_its_first_two_weeks_or_says_why_there_are_none() -> None:
    for text, _, choice in CHOICES:
        order = Order(OrderId(""), PersonId(""), MedicineCode(""), choice.dosages)
        expansion = expand(order, STANDARD_TIMETABLE, date(2026, 1, 5), 14)
        repeats = [dosage.timing.repeat for dosage in choice.dosages if dosage.timing and dosage.timing.repeat]
        dated = any(repeat.bounds_period or repeat.days_of_month for repeat in repeats)
        assert expansion.doses or dated or expansion.status in (ExpansionStatus.AS_NEEDED, ExpansionStatus.DECIDE), text


def test_a_question_or_a_refusal_carries_the_letters_it_is_about() -> None:
    for text, _, reading in READINGS:
        if reading.status is not ReadingStatus.READ:
            for question in reading.questions:
                start, end = question.span
                assert text[start:end].strip() or not text.strip(), (text, question)


@pytest.mark.parametrize(("line", "words"), [("Warfarin blorp", ["Warfarin", "blorp"]), ("see the yellow book", ["see", "yellow", "book"])])
def test_a_refusal_names_every_word_that_is_not_known(line: str, words: list[str]) -> None:
    reading = read(line, Setting("en", "GB"))
    assert reading.status is ReadingStatus.REFUSE
    assert [line[slice(*question.span)] for question in reading.questions] == words


def test_amounts_that_do_not_run_together_are_said_one_by_one() -> None:
    (question,) = read("1 tablet in the morning and 1 at night on Mondays", Setting("en", "GB")).questions
    assert {say_choice(choice.dosages, "en") for choice in question.choices} == {
        "On Mondays take 1 tablet in the morning and 1 tablet at bedtime.",
        "Take 1 tablet in the morning. Take 1 tablet at bedtime on Mondays.",
    }


BESIDE = [
    "Take 1 capsule 3 times a day for 7 days until all taken", "1 daily (blood pressure)", "Take 1 tablet 30-60 minutes before breakfast",
    "1 tablet an hour before bed", "Take 1 tablet twice a day 12 hours apart", "Take 4 tablets once weekly on the same day each week",
    "Take one at night. Warning: This medicine may make you sleepy. Do not drink alcohol",
]  # fmt: skip


@pytest.mark.parametrize("line", BESIDE)
def test_words_that_go_along_agree_with_the_schedule_they_were_read_with(line: str) -> None:
    """Else an order read without a question would be asked about when it is planned."""
    reading = read(line, Setting("en", "GB"))
    expansion = expand(Order(OrderId(""), PersonId(""), MedicineCode(""), reading.dosages), STANDARD_TIMETABLE, date(2026, 3, 2), 14)
    assert expansion.status is ExpansionStatus.SCHEDULED


@pytest.mark.parametrize(
    ("lang", "country", "line", "offered"),
    [
        ("en", "GB", "Take 1 tablet at 8 o'clock", [{"08:00"}, {"20:00"}]),
        ("en", "GB", "Take 1 tablet at 12 o'clock", [{"00:00"}, {"12:00"}]),
        ("en", "US", "1 tablet at 5:30", [{"05:30"}, {"17:30"}]),
    ],
)
def test_an_hour_that_may_be_two_is_offered_as_just_these(lang: str, country: str, line: str, offered: list[set[str]]) -> None:
    """The twelve-hour clock: h and h + 12."""
    (question,) = read(line, Setting(lang, country)).questions
    found = [{f"{clock:%H:%M}" for one in choice.dosages for clock in _repeat(one).time_of_day} for choice in question.choices]
    assert sorted(found, key=str) == sorted(offered, key=str)


@pytest.mark.parametrize(
    ("lang", "line"),
    [
        ("de", "1 Tablette morgens an Werktagen"),
        ("fr", "1 comprimé le matin les jours ouvrables"),
        ("es", "1 comprimido al mediodía los días laborables"),
    ],
)
def test_working_days_are_offered_to_friday_and_to_saturday(lang: str, line: str) -> None:
    """Monday to Saturday by law, to Friday in common use: BUrlG § 3; Code du travail L3133; from memory."""
    (question,) = read(line, Setting(lang, {"de": "DE", "fr": "FR", "es": "ES"}[lang])).questions
    days = [[day.number for day in _repeat(choice.dosages[0]).day_of_week] for choice in question.choices]
    assert sorted(map(len, days)) == [5, 6]
    assert all(week == list(range(week[0], week[0] + len(week))) for week in days)


def _repeat(dosage: Dosage) -> Repeat:
    assert dosage.timing
    assert dosage.timing.repeat
    return dosage.timing.repeat

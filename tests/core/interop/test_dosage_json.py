"""FHIR R4 Dosage in JSON: read whole or not at all, and written back the same."""

from datetime import UTC, date, datetime, time, timedelta
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.core.interop.dosage_strategies import anything, changed, dosages, places
from tests.core.regimen.regimen_makers import MONDAY, an_order, every

from dosewright.core.interop.dosage_json import format_dosage, parse_dosage, parse_dosages
from dosewright.core.interop.json_text import JsonValue, format_json, parse_json
from dosewright.core.regimen.dosage import Amount, Dosage, Period, Repeat, TimeUnit, Timing
from dosewright.core.regimen.expand import expand
from dosewright.core.regimen.expansion import ExpansionStatus
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE
from dosewright.core.units.finding import blocks
from dosewright.core.units.quantity import Quantity, Unit

LINES = (Path(__file__).parents[2] / "cases" / "doses.jsonl").read_text(encoding="utf-8").splitlines()
CASES = [line["dosage"] for line in map(parse_json, LINES) if isinstance(line, dict)]
SCHEDULED = parse_json(
    '{"sequence": 1, "timing": {"repeat": {"boundsPeriod": {"start": "2026-03-01"},'
    ' "frequency": 1, "period": 2, "periodUnit": "d", "when": ["MORN"]},'
    ' "code": {"coding": [{"system": "http://terminology.hl7.org/CodeSystem/v3-GTSAbbreviation", "code": "QOD"}]}},'
    ' "route": {"coding": [{"system": "http://snomed.info/sct", "code": "26643006"}], "text": "by mouth"},'
    ' "doseAndRate": [{"doseQuantity": {"value": 1, "unit": "tablet"}}],'
    ' "maxDosePerPeriod": {"numerator": {"value": 4, "unit": "tablet"}, "denominator": {"value": 1, "code": "d"}}}'
)


def status_of(value: JsonValue) -> str:
    """What becomes of a structure, as every border takes it."""
    found, findings = parse_dosages(value)
    return "refuse" if blocks(findings) else str(expand(an_order(*found), STANDARD_TIMETABLE, MONDAY, 14).status)


@settings(suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
@given(dosages().filter(lambda dosage: dosage != Dosage()))
def test_what_is_written_is_read_back(dosage: Dosage) -> None:
    found, findings = parse_dosage(parse_json(format_json(format_dosage(dosage))), "dosage")
    assert not blocks(findings)
    assert found == dosage


def test_the_structure_below_is_scheduled_before_anything_is_changed_in_it() -> None:
    assert status_of(SCHEDULED) == "scheduled"


@given(st.sampled_from(places(SCHEDULED)), st.text(min_size=1, max_size=8), anything)
def test_an_unknown_element_anywhere_stops_the_reading(path: tuple[str | int, ...], name: str, value: JsonValue) -> None:
    here: JsonValue = SCHEDULED
    for step in path:
        here = here[step]  # type: ignore[index]
    if isinstance(here, dict) and f"x{name}" not in here:
        assert status_of(changed(SCHEDULED, path, {**here, f"x{name}": value})) == "refuse"


@settings(max_examples=150)
@given(st.sampled_from(CASES), st.data(), anything)
def test_no_structure_whatever_raises(case: JsonValue, data: st.DataObject, value: JsonValue) -> None:
    """One of four answers, for a published structure with anything put anywhere in it."""
    structure = changed(case, data.draw(st.sampled_from(places(case))), value)
    assert status_of(parse_json(format_json(structure))) in set(ExpansionStatus)


@given(anything)
def test_nothing_that_is_no_dosage_is_scheduled(value: JsonValue) -> None:
    assert status_of(value) in {"refuse", "decide"}


STOPS = [
    pytest.param({"asNeeded": True}, "fhir.unknown-element", id="asNeeded of R5"),
    pytest.param({"doseQuantity": {"value": 1}}, "fhir.unknown-element", id="doseQuantity of STU3"),
    pytest.param({"modifierExtension": [{"url": "http://example.org/x"}]}, "fhir.modifier-extension", id="modifier on the dosage"),
    pytest.param(
        {"timing": {"modifierExtension": [{"url": "http://example.org/x"}], "repeat": {"count": 1}}},
        "fhir.modifier-extension",
        id="modifier on the timing",
    ),
    pytest.param(
        {"timing": {"extension": [{"url": "http://example.org/x"}], "repeat": {"count": 1}}},
        "fhir.unknown-extension",
        id="extension on the timing",
    ),
    pytest.param(
        {"timing": {"repeat": {"count": 1, "extension": [{"url": "http://example.org/x"}]}}},
        "fhir.unknown-extension",
        id="extension in the repeat",
    ),
    pytest.param(
        {"timing": {"repeat": {"count": 1, "_count": {"extension": [{"url": "http://example.org/x"}]}}}},
        "fhir.unknown-extension",
        id="extension on a number",
    ),
    pytest.param({"asNeededBoolean": True, "asNeededCodeableConcept": {"text": "pain"}}, "fhir.both-choices", id="as needed in two ways"),
    pytest.param({"doseAndRate": [{"doseQuantity": {"value": 1, "comparator": "<"}}]}, "fhir.comparator", id="fewer than one"),
    pytest.param({"doseAndRate": [{"doseQuantity": {"value": -1}}]}, "fhir.below-zero", id="below zero"),
    pytest.param({"doseAndRate": [{"doseQuantity": {"value": "1"}}]}, "fhir.wrong-value", id="a number as text"),
    pytest.param({"doseAndRate": [{"doseQuantity": {"unit": "tablet"}}]}, "fhir.value-missing", id="no number"),
    pytest.param({"doseAndRate": {"doseQuantity": {"value": 1}}}, "fhir.wrong-value", id="no list"),
    pytest.param({"timing": {"repeat": {"count": 0}}}, "fhir.wrong-value", id="count zero"),
    pytest.param({"timing": {"repeat": {"frequency": True}}}, "fhir.wrong-value", id="true times"),
    pytest.param({"timing": {"repeat": {"periodUnit": "day"}}}, "fhir.unknown-code", id="unit as a word"),
    pytest.param({"timing": {"repeat": {"when": ["morning"]}}}, "fhir.wrong-value", id="event as a word"),
    pytest.param({"timing": {"repeat": {"dayOfWeek": ["Mon"]}}}, "fhir.wrong-value", id="weekday in capitals"),
    pytest.param({"timing": {"repeat": {"timeOfDay": ["24:00:00"]}}}, "fhir.wrong-value", id="24 o'clock"),
    pytest.param({"timing": {"repeat": {"boundsPeriod": {"start": "2026-02-30"}}}}, "fhir.wrong-value", id="30 February"),
    pytest.param(
        {"timing": {"repeat": {"boundsPeriod": {"start": "2026-03-02"}, "boundsDuration": {"value": 1, "code": "d"}}}},
        "fhir.both-choices",
        id="bounds in two ways",
    ),
    pytest.param(
        {"timing": {"repeat": {"boundsDuration": {"value": 1, "unit": "course"}}}}, "fhir.no-unit-of-time", id="a length in courses"
    ),
    pytest.param(
        {"timing": {"repeat": {"boundsDuration": {"value": 1, "unit": "week", "code": "d"}}}},
        "fhir.no-unit-of-time",
        id="unit and code differ",
    ),
    pytest.param({"timing": {"repeat": {}}}, "fhir.not-an-object", id="an empty repeat"),
    pytest.param({"timing": {"event": ["tomorrow"]}}, "fhir.wrong-value", id="a day in words"),
    pytest.param({"text": "  "}, "fhir.empty", id="blank text"),
    pytest.param({"sequence": None}, "fhir.wrong-value", id="null"),
]


@pytest.mark.parametrize(("structure", "code"), STOPS)
def test_what_is_not_valid_or_not_understood_stops_the_reading(structure: JsonValue, code: str) -> None:
    """Source: HL7 FHIR R4 (4.0.1) Dosage, Timing, Quantity, extensibility."""
    _, findings = parse_dosages(structure)
    assert code in [finding.code for finding in findings]
    assert blocks(findings)


def test_everything_wrong_is_reported_at_once_with_its_path() -> None:
    _, findings = parse_dosages([{"asNeeded": True, "timing": {"repeat": {"count": 0, "when": ["X"]}}}])
    assert sorted(str(finding.where["path"]) for finding in findings) == ["dosage[0]", "dosage[0].timing.repeat", "dosage[0].timing.repeat"]


def repeat_of(text: str) -> Repeat:
    (dosage,), findings = parse_dosages(parse_json('{"timing": {"repeat": ' + text + "}}"))
    assert not findings
    assert dosage.timing is not None
    assert dosage.timing.repeat is not None
    return dosage.timing.repeat


def test_a_partial_start_keeps_both_its_ends_and_a_partial_end_its_last_day() -> None:
    found = repeat_of('{"boundsPeriod": {"start": "2026-02", "end": "2028-02"}}')
    assert found.bounds_period == Period(date(2026, 2, 1), date(2028, 2, 29), date(2026, 2, 28))
    assert repeat_of('{"boundsPeriod": {"start": "2026"}}').bounds_period == Period(date(2026, 1, 1), None, date(2026, 12, 31))


def test_a_clock_time_keeps_its_zone_and_may_leave_out_seconds_as_the_standard_does() -> None:
    found = repeat_of('{"boundsPeriod": {"start": "2026-03-02T08:00:00Z"}, "timeOfDay": ["10:00", "22:30:00"]}')
    assert found.bounds_period == Period(datetime(2026, 3, 2, 8, tzinfo=UTC))
    assert found.time_of_day == (time(10), time(22, 30))


def test_the_two_extensions_of_the_standard_are_understood() -> None:
    """Source: HL7 FHIR R4 (4.0.1) extensions timing-daysOfCycle and timing-dayOfMonth."""
    base = "http://hl7.org/fhir/StructureDefinition/"
    days = '[{"url": "day", "valueInteger": 1}, {"url": "day", "valueInteger": 8}]'
    cycle = repeat_of(f'{{"extension": [{{"url": "{base}timing-daysOfCycle", "extension": {days}}}], "period": 4, "periodUnit": "wk"}}')
    assert (cycle.days_of_cycle, cycle.cycle_length) == ((1, 8), 28)
    month = repeat_of(f'{{"extension": [{{"url": "{base}timing-dayOfMonth", "valuePositiveInt": 15}}], "when": ["MORN"]}}')
    assert month.days_of_month == (15,)


def test_a_cycle_beside_once_a_day_is_written_so_that_it_gives_the_same_doses() -> None:
    """The extension has no room for the cycle's length, so the period carries it."""
    repeat = every(1, 1, "d", when=("HS",), days_of_cycle=tuple(range(1, 22)), cycle_length=28)
    dosage = Dosage(timing=Timing(repeat=repeat), amounts=(Amount(Quantity(Fraction(1), Unit("tablet"))),))
    again, findings = parse_dosage(parse_json(format_json(format_dosage(dosage))), "dosage")
    ours, theirs = (expand(an_order(one, anchor=MONDAY), STANDARD_TIMETABLE, MONDAY, 90) for one in (dosage, again))
    assert not findings
    assert ours.doses == theirs.doses
    assert {(dose.day - MONDAY) % timedelta(days=28) < timedelta(days=21) for dose in ours.doses} == {True}
    assert len(ours.doses) == 21 * 3 + 6


def test_a_third_of_a_tablet_has_no_place_in_the_standard() -> None:
    dosage = Dosage(amounts=(Amount(Quantity(Fraction(1, 3), Unit("tablet"))),))
    with pytest.raises(ValueError, match="1/3"):
        format_dosage(dosage)


UNITS = [
    ("TAB", "tablet"),
    ("Tablets", "tablet"),
    ("ml", "mL"),
    ("mcg", "microgram"),
    ("µg", "microgram"),
    ("lozenge", "lozenge"),
    ("MG", "mg"),
]


@pytest.mark.parametrize(("written", "word"), UNITS)
def test_a_unit_has_one_word_however_it_is_spelt(written: str, word: str) -> None:
    (dosage,), _ = parse_dosages({"doseAndRate": [{"doseQuantity": {"value": 1, "unit": written}}]})
    assert dosage.amounts == (Amount(Quantity(Fraction(1), Unit(word))),)


def test_a_unit_and_a_code_that_name_different_things_are_a_question() -> None:
    quantity: dict[str, JsonValue] = {"value": 500, "unit": "tablet", "system": "http://unitsofmeasure.org", "code": "mg"}
    _, findings = parse_dosages({"doseAndRate": [{"doseQuantity": quantity}]})
    assert [finding.code for finding in findings] == ["fhir.unit-differs"]


def test_a_period_in_weeks_is_kept_as_it_was_written() -> None:
    assert repeat_of('{"frequency": 1, "period": 1.5, "periodUnit": "wk"}') == Repeat(
        frequency=1, period=Fraction(3, 2), period_unit=TimeUnit.WEEK
    )


@settings(max_examples=150)
@given(st.lists(dosages(), min_size=1, max_size=3), st.dates(), st.integers(0, 60))
def test_any_dosages_in_any_window_have_one_of_four_answers(found: list[Dosage], first: date, days: int) -> None:
    """Up to the last day of the calendar; and only a schedule has doses, all of them within the window and in order."""
    expansion = expand(an_order(*found), STANDARD_TIMETABLE, first, days)
    moments = [(dose.day, dose.time) for dose in expansion.doses]
    assert expansion.status in set(ExpansionStatus)
    assert moments == sorted(moments)
    assert all(0 <= (day - first).days < days for day, _ in moments)
    assert bool(expansion.findings) == (expansion.status in (ExpansionStatus.DECIDE, ExpansionStatus.REFUSE))

"""The timetable file: what it says, and one sentence for each mistake."""

import json
from datetime import time

import pytest
from hypothesis import given
from tests.core.interop.dosage_strategies import anything

from dosewright.core.interop.json_text import JsonError, JsonValue, format_json
from dosewright.core.interop.timetable_json import TimetableError, parse_timetable
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE, Timetable

MORNING, NIGHT = {"name": "morning", "time": "07:30", "when": ["MORN", "CM"]}, {"name": "night", "time": "21:00"}


def of(**fields: object) -> Timetable:
    return parse_timetable(json.dumps({"slots": [NIGHT, MORNING], **fields}))


def test_dosing_times_come_in_the_order_of_the_clock() -> None:
    found = of(once="night", twice=["night", "morning"])
    assert [(slot.name, slot.time) for slot in found.slots] == [("morning", time(7, 30)), ("night", time(21))]
    assert found.slots[0].when == {"MORN", "CM"}
    assert found.by_frequency == {1: ("night",), 2: ("night", "morning")}


def test_the_standard_choice_stands_where_the_file_leaves_it_out_and_the_names_are_there() -> None:
    assert of().by_frequency == {1: ("morning",)}
    slots = [{"name": slot.name, "time": slot.time.isoformat("minutes"), "when": sorted(slot.when)} for slot in STANDARD_TIMETABLE.slots]
    assert parse_timetable(json.dumps({"slots": slots})) == STANDARD_TIMETABLE


MISTAKES = [
    pytest.param([], "a timetable is an object", id="a list"),
    pytest.param({}, '"slots" must be a list', id="no slots"),
    pytest.param({"slots": []}, '"slots" must be a list', id="no dosing time"),
    pytest.param({"slots": [MORNING], "Once": "morning"}, '"Once" is not a field', id="an unknown field"),
    pytest.param({"slots": [MORNING | {"colour": "red"}]}, "slots[0] must be an object", id="an unknown field of a slot"),
    pytest.param({"slots": [{"time": "08:00"}]}, "slots[0].name", id="no name"),
    pytest.param({"slots": [{"name": " ", "time": "08:00"}]}, "slots[0].name", id="a blank name"),
    pytest.param({"slots": [MORNING, {"name": "late"}]}, "slots[1].time", id="no time"),
    pytest.param({"slots": [{"name": "late", "time": "25:00"}]}, "slots[0].time", id="25 o'clock"),
    pytest.param({"slots": [{"name": "late", "time": "22:00:30"}]}, "slots[0].time", id="half a minute"),
    pytest.param({"slots": [MORNING | {"when": ["MORNING"]}]}, "MORNING is not", id="an unknown event"),
    pytest.param({"slots": [MORNING | {"when": "MORN"}]}, "slots[0].when must be a list", id="an event without its list"),
    pytest.param({"slots": [MORNING, MORNING | {"time": "08:00"}]}, "the same name", id="a name twice"),
    pytest.param({"slots": [MORNING, MORNING | {"name": "early"}]}, "the same time", id="a time twice"),
    pytest.param({"slots": [MORNING, NIGHT | {"when": ["CM"]}]}, 'CM stands at both "morning" and "night"', id="an event twice"),
    pytest.param({"slots": [MORNING, NIGHT], "twice": ["morning"]}, '"twice" must name 2', id="one for twice"),
    pytest.param({"slots": [MORNING, NIGHT], "twice": ["morning", "morning"]}, '"twice" must name 2', id="the same one for twice"),
    pytest.param({"slots": [MORNING], "once": "noon"}, '"once" must name 1', id="a dosing time that is not there"),
]


@pytest.mark.parametrize(("file", "sentence"), MISTAKES)
def test_a_mistake_is_one_sentence_that_names_the_field(file: object, sentence: str) -> None:
    with pytest.raises(TimetableError) as stopped:
        parse_timetable(json.dumps(file))
    assert sentence in str(stopped.value)


@given(anything)
def test_anything_is_a_timetable_or_one_sentence(value: JsonValue) -> None:
    for text in (format_json(value), format_json({"slots": value}), format_json({"slots": [value], "once": value})):
        assert is_timetable_or_sentence(text)


def is_timetable_or_sentence(text: str) -> bool:
    try:
        return bool(parse_timetable(text).slots)
    except (TimetableError, JsonError) as error:
        return bool(str(error))

"""A timetable file → `Timetable`.

The file is `{"slots": [{"name": "morning", "time": "08:00", "when": ["MORN", …]}, …], "once": "morning", "twice": […]}`.

Comes in: the file's text. Goes out: the dosing times, or one sentence that names the field and what would be right. `once` to
`six` say which dosing times "so many times a day" means; where they are missing and the standard names are all there, those stand.
Source: contract for the timetable file; codes of HL7 FHIR R4 value set event-timing.
"""

from collections.abc import Iterable
from datetime import time

from dosewright.core.interop.fhir_element import parse_time
from dosewright.core.interop.json_text import JsonValue, parse_json
from dosewright.core.regimen.event_timing import EVENT_CODES
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE, DosingTime, Timetable
from dosewright.core.units.ids import SlotName

__all__ = ["TimetableError", "parse_timetable"]

_HOW_OFTEN = {"once": 1, "twice": 2, "three": 3, "four": 4, "five": 5, "six": 6}
_MOST_SLOTS = 48  # one each half hour


class TimetableError(ValueError):
    """A timetable that cannot be used. The message is one sentence naming the field and what would be right."""


def parse_timetable(text: str) -> Timetable:
    """The timetable that the file's text describes. Raises TimetableError, or JsonError where the text is not JSON."""
    value = parse_json(text)
    if not isinstance(value, dict):
        raise TimetableError('a timetable is an object: {"slots": [{"name": "morning", "time": "08:00"}]}.')
    for name in value:
        if name != "slots" and name not in _HOW_OFTEN:
            raise TimetableError(f'"{name}" is not a field of a timetable; it has "slots" and {_listed(_HOW_OFTEN)}.')
    slots = _parse_slots(value.get("slots"))
    _require_each_code_once(slots)
    return Timetable(slots, _parse_often(value, slots))


def _parse_slots(value: JsonValue) -> tuple[DosingTime, ...]:
    if not isinstance(value, list) or not value or len(value) > _MOST_SLOTS:
        raise TimetableError(f'"slots" must be a list of 1 to {_MOST_SLOTS} dosing times, each with "name" and "time".')
    slots = tuple(sorted((_parse_slot(one, f"slots[{place}]") for place, one in enumerate(value)), key=_clock))
    for what, values in (("name", [slot.name for slot in slots]), ("time", [slot.time for slot in slots])):
        if len(set(values)) < len(values):
            raise TimetableError(f'two dosing times in "slots" have the same {what}; each needs its own.')
    return slots


def _clock(slot: DosingTime) -> time:
    return slot.time


def _parse_slot(value: JsonValue, path: str) -> DosingTime:
    if not isinstance(value, dict) or not value.keys() <= {"name", "time", "when"}:
        raise TimetableError(f'{path} must be an object with "name", "time" and, where wanted, "when".')
    name, clock = value.get("name"), value.get("time")
    if not isinstance(name, str) or not name.strip():
        raise TimetableError(f"{path}.name must be a word such as morning.")
    parsed = parse_time(clock) if isinstance(clock, str) else None
    if parsed is None or parsed.second or parsed.microsecond:
        raise TimetableError(f"{path}.time must be a clock time such as 08:00.")
    return DosingTime(SlotName(name.strip()), parsed, _parse_when(value.get("when", []), path))


def _parse_when(value: JsonValue, path: str) -> frozenset[str]:
    if not isinstance(value, list):
        raise TimetableError(f"{path}.when must be a list of FHIR event-timing codes such as MORN.")
    for code in value:
        if not isinstance(code, str) or code not in EVENT_CODES:
            raise TimetableError(f"{path}.when: {code} is not a FHIR R4 event-timing code.")
    return frozenset(code for code in value if isinstance(code, str))


def _require_each_code_once(slots: tuple[DosingTime, ...]) -> None:
    seen: dict[str, SlotName] = {}
    for slot in slots:
        for code in sorted(slot.when):
            if code in seen:
                raise TimetableError(f'{code} stands at both "{seen[code]}" and "{slot.name}"; an event has one dosing time.')
            seen[code] = slot.name


def _parse_often(value: dict[str, JsonValue], slots: tuple[DosingTime, ...]) -> dict[int, tuple[SlotName, ...]]:
    names = {slot.name for slot in slots}
    often = {times: chosen for times, chosen in STANDARD_TIMETABLE.by_frequency.items() if names.issuperset(chosen)}
    for word, times in _HOW_OFTEN.items():
        if word in value:
            often[times] = _parse_chosen(value[word], word, times, names)
    return often


def _parse_chosen(value: JsonValue, word: str, times: int, names: set[SlotName]) -> tuple[SlotName, ...]:
    given = [value] if isinstance(value, str) else value
    chosen = tuple(SlotName(name) for name in given if isinstance(name, str)) if isinstance(given, list) else ()
    if len(chosen) != times or len(set(chosen)) != times or not names.issuperset(chosen):
        raise TimetableError(f'"{word}" must name {times} of the dosing times: {_listed(sorted(names))}.')
    return chosen


def _listed(words: Iterable[str]) -> str:
    return ", ".join(words)

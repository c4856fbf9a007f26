"""`dosewright read`: each line a direction as written, or JSON with the text and its setting; one JSON line comes back for each."""

import argparse
from collections.abc import Mapping, Sequence
from datetime import date

from dosewright.cli.files import Unreadable, read_text
from dosewright.core.interop.dosage_json import format_dosage
from dosewright.core.interop.findings_json import finding_in_json
from dosewright.core.interop.json_text import JsonError, Writable, format_json, parse_json
from dosewright.core.paper.say import say
from dosewright.core.regimen.dosage import Dosage
from dosewright.core.regimen.expand import expand
from dosewright.core.regimen.order import Dose, Order
from dosewright.core.regimen.reading.languages import LANGUAGES
from dosewright.core.regimen.reading.read import read
from dosewright.core.regimen.reading.reading_values import Choice, Question, Reading, ReadingStatus, Setting
from dosewright.core.regimen.words.say_choice import say_choice
from dosewright.core.regimen.words.say_plain import say_plain
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import MedicineCode, OrderId, PersonId
from dosewright.core.units.quantity import format_amount

__all__ = ["add_arguments", "run"]

_EXAMPLE = """example:
  echo 'Take 1 tablet in the morning and half at bedtime' | dosewright read --lang en --country GB -

A line may also be JSON: {"text": "1 bd", "lang": "en", "country": "GB", "form": "tablet", "strength": "5 mg"}

exit code: 0 every line has one reading; 1 a line needs a person; 2 the input cannot be read, nothing is written.
"""
_KEYS = ("text", "lang", "country", "form", "strength")
_CHOICE_FROM, _CHOICE_DAYS = date(2026, 1, 5), 14  # a Monday: two weeks of doses from it, where the choice names no day of its own


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Arguments of the subcommand."""
    parser.epilog = _EXAMPLE
    parser.add_argument("--lang", default="en", metavar="LANG", help=f"language of the lines: {', '.join(LANGUAGES)} (default en)")
    parser.add_argument(
        "--country", default="", metavar="COUNTRY", help="where they were written, as GB; it settles what differs by country"
    )
    parser.add_argument("file", nargs="?", default="-", metavar="FILE", help="one direction a line; - is standard input")


def run(args: argparse.Namespace) -> int:
    """Write one line for each line of input; exit code 0 or 1. Raises Unreadable before anything is written."""
    answers = [(text, setting, read(text, setting)) for text, setting in _lines(args.file, args.lang, args.country)]
    for text, setting, reading in answers:
        print(format_json(_in_json(text, setting, reading)))
    return 1 if any(reading.status is not ReadingStatus.READ for _, _, reading in answers) else 0


def _lines(path: str, lang: str, country: str) -> Sequence[tuple[str, Setting]]:
    name = "standard input" if path == "-" else path
    # Not splitlines(): a JSON string may hold U+2028, which is no end of line in JSON.
    lines = read_text(path).split("\n")
    if lines and not lines[-1]:
        lines.pop()
    if not lines:
        raise Unreadable(f"{name} is empty; each line must be a direction, or JSON with a text.")
    return [_line(line.removesuffix("\r"), f"{name}, line {number}", Setting(lang, country)) for number, line in enumerate(lines, 1)]


def _line(line: str, where: str, setting: Setting) -> tuple[str, Setting]:
    if not line.lstrip().startswith("{"):
        return line, setting
    try:
        value = parse_json(line)
    except JsonError as error:
        raise Unreadable(f"{where}, column {error.column}: {error.reason}") from error
    if not isinstance(value, dict):
        raise Unreadable(f"{where}: a line that starts with a brace must be one JSON object.")
    return _from_object(value, where, setting)


def _from_object(value: Mapping[str, object], where: str, setting: Setting) -> tuple[str, Setting]:
    unknown = [key for key in value if key not in _KEYS]
    if unknown:
        raise Unreadable(f"{where}, field {unknown[0]}: not known; a line has {', '.join(_KEYS)}.")
    for key, found in value.items():
        if not isinstance(found, str) and (found is not None or key == "text"):
            raise Unreadable(f"{where}, field {key}: must be text.")
    if "text" not in value:
        raise Unreadable(f"{where}: the field text is missing.")
    said = {key: str(found) for key, found in value.items() if key != "text" and found is not None}
    return str(value["text"]), Setting(
        said.get("lang") or setting.lang, said.get("country") or setting.country, said.get("form", ""), said.get("strength", "")
    )


def _in_json(text: str, setting: Setting, reading: Reading) -> dict[str, Writable]:
    return {
        "text": text,
        "status": str(reading.status),
        "dosage": [format_dosage(dosage) for dosage in reading.dosages],
        "plain": _plain(reading.dosages, setting),
        "assumed": [finding_in_json(finding) for finding in (*reading.assumed, *reading.notes)],
        "questions": [_question_in_json(question, setting) for question in reading.questions],
    }


def _plain(dosages: Sequence[Dosage], setting: Setting) -> dict[str, Writable]:
    """In English and in the line's own language; empty where there is nothing to say, or no plain sentence that says it."""
    said = {lang: say_plain(dosages, lang) for lang in dict.fromkeys(("en", setting.lang))}
    return {lang: sentence for lang, sentence in said.items() if sentence}


def _question_in_json(question: Question, setting: Setting) -> dict[str, Writable]:
    return {
        "code": question.code,
        "message": say(Finding(question.code, Severity.DECIDE, facts=question.facts)),
        "span": list(question.span),
        "choices": [_choice_in_json(choice, setting) for choice in question.choices],
    }


def _choice_in_json(choice: Choice, setting: Setting) -> dict[str, Writable]:
    """Its first two weeks of doses. `doses_status` says why there may be none: as needed, or a dosing time or a day still to be chosen."""
    first = _first_day(choice)
    expansion = expand(Order(OrderId(""), PersonId(""), MedicineCode(""), choice.dosages), STANDARD_TIMETABLE, first, _CHOICE_DAYS)
    said = {lang: say_choice(choice.dosages, lang) for lang in dict.fromkeys(("en", setting.lang))}
    return {
        "dosage": [format_dosage(dosage) for dosage in choice.dosages],
        "plain": {lang: sentence for lang, sentence in said.items() if sentence},
        "doses_status": str(expansion.status),
        "doses": [_dose_in_json(dose, first) for dose in expansion.doses],
    }


def _first_day(choice: Choice) -> date:
    """The day it starts on, where it names one."""
    repeats = [dosage.timing.repeat for dosage in choice.dosages if dosage.timing and dosage.timing.repeat]
    starts = [repeat.bounds_period.start for repeat in repeats if repeat.bounds_period and repeat.bounds_period.start]
    return min(starts, default=_CHOICE_FROM)


def _dose_in_json(dose: Dose, first: date) -> dict[str, Writable]:
    return {
        "day": (dose.day - first).days + 1,
        "weekday": dose.day.strftime("%a").lower(),
        "slot": dose.slot,
        "time": dose.time.strftime("%H:%M"),
        "quantity": format_amount(dose.quantity.count),
        "unit": dose.quantity.unit or None,
    }

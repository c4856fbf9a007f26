"""`dosewright doses`: each line a FHIR R4 Dosage, or the list of dosages of one order; one JSON line of dated doses comes back for each."""

import argparse
from collections.abc import Sequence
from datetime import date

from dosewright.cli.files import Unreadable, read_text
from dosewright.core.interop.dosage_json import parse_dosages
from dosewright.core.interop.findings_json import finding_in_json
from dosewright.core.interop.json_text import JsonError, JsonValue, Writable, format_json, parse_json
from dosewright.core.interop.timetable_json import TimetableError, parse_timetable
from dosewright.core.regimen.expand import expand
from dosewright.core.regimen.expansion import Expansion, ExpansionStatus
from dosewright.core.regimen.order import Dose, Order
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE, Timetable
from dosewright.core.units.finding import Severity, blocks, needs_a_person
from dosewright.core.units.ids import MedicineCode, OrderId, PersonId
from dosewright.core.units.quantity import format_amount

__all__ = ["add_arguments", "run"]

_MOST_DAYS = 36600  # a hundred years

_EXAMPLE = """example:
  echo '{"timing": {"repeat": {"when": ["MORN"], "frequency": 1, "period": 1, "periodUnit": "d"}},
         "doseAndRate": [{"doseQuantity": {"value": 1, "unit": "tablet"}}]}' | tr -d '\\n' |
    dosewright doses --from 2026-03-02 --days 7 -

exit code: 0 all lines are scheduled or as needed; 1 a line needs a person; 2 the input cannot be read, nothing is written.
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Arguments of the subcommand."""
    parser.epilog = _EXAMPLE
    parser.add_argument("--from", dest="first", required=True, metavar="DATE", type=_date, help="first day, as 2026-03-02")
    parser.add_argument("--days", required=True, metavar="N", type=_days, help=f"how many days, 1 to {_MOST_DAYS}")
    parser.add_argument(
        "--timetable", metavar="FILE", help="dosing times; without it morning 08:00, noon 12:00, evening 18:00, bedtime 22:00"
    )
    parser.add_argument("file", nargs="?", default="-", metavar="FILE", help="one Dosage or list of them a line; - is standard input")


def run(args: argparse.Namespace) -> int:
    """Write one line for each line of input; exit code 0 or 1. Raises Unreadable before anything is written."""
    timetable = _read_timetable(args.timetable)
    lines = _read_lines(args.file)
    answers = [_expand(value, timetable, args.first, args.days) for value in lines]
    for answer in answers:
        print(format_json(_in_json(answer)))
    return 1 if any(answer.status in _NEEDS_A_PERSON or needs_a_person(answer.findings) for answer in answers) else 0


_NEEDS_A_PERSON = (ExpansionStatus.DECIDE, ExpansionStatus.REFUSE)


def _read_timetable(path: str | None) -> Timetable:
    if path is None:
        return STANDARD_TIMETABLE
    try:
        return parse_timetable(read_text(path))
    except (JsonError, TimetableError) as error:
        raise Unreadable(f"{path}: {error}") from error


def _read_lines(path: str) -> Sequence[JsonValue]:
    name = "standard input" if path == "-" else path
    # Not splitlines(): a JSON string may hold U+2028, which is no end of line in JSON.
    lines = [(number, line) for number, line in enumerate(read_text(path).split("\n"), 1) if line.strip()]
    if not lines:
        raise Unreadable(f"{name} is empty; each line must be a FHIR Dosage or a list of them.")
    return [_parse_line(line, name, number) for number, line in lines]


def _parse_line(line: str, name: str, number: int) -> JsonValue:
    try:
        value = parse_json(line)
    except JsonError as error:
        raise Unreadable(f"{name}, line {number}, column {error.column}: {error.reason}") from error
    if not isinstance(value, dict | list):
        raise Unreadable(f"{name}, line {number}: a line must be a FHIR Dosage (an object) or a list of them.")
    return value


def _expand(value: JsonValue, timetable: Timetable, first: date, days: int) -> Expansion:
    dosages, findings = parse_dosages(value)
    if blocks(findings):
        return Expansion(ExpansionStatus.REFUSE, findings=findings)
    expansion = expand(Order(OrderId(""), PersonId(""), MedicineCode(""), dosages), timetable, first, days)
    if expansion.status is ExpansionStatus.REFUSE or not any(one.severity is Severity.DECIDE for one in findings):
        return Expansion(expansion.status, expansion.doses, expansion.assumed, (*findings, *expansion.findings))
    return Expansion(ExpansionStatus.DECIDE, findings=(*findings, *expansion.findings))


def _in_json(expansion: Expansion) -> dict[str, Writable]:
    return {
        "status": str(expansion.status),
        "doses": [_dose_in_json(dose) for dose in expansion.doses],
        "assumed": [finding_in_json(one) for one in expansion.assumed],
        "findings": [finding_in_json(one) for one in expansion.findings],
    }


def _dose_in_json(dose: Dose) -> dict[str, Writable]:
    return {
        "date": dose.day.isoformat(),
        "slot": dose.slot,
        "time": dose.time.strftime("%H:%M"),
        "quantity": format_amount(dose.quantity.count),
        "unit": dose.quantity.unit or None,
    }


def _date(text: str) -> date:
    try:
        if len(text) != 10:
            raise ValueError(text)
        return date.fromisoformat(text)
    except ValueError as error:
        raise argparse.ArgumentTypeError(f"{text!r} is not a date such as 2026-03-02") from error


def _days(text: str) -> int:
    if not (text.isascii() and text.isdigit() and len(text) <= 6 and 1 <= int(text) <= _MOST_DAYS):
        raise argparse.ArgumentTypeError(f"{text!r} is not a number of days from 1 to {_MOST_DAYS}")
    return int(text)

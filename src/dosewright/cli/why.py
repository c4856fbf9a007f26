"""`dosewright why`: why a card, or one cavity of it, holds what it holds; why no card fewer; what one change would save a card."""

import argparse
import re
from collections.abc import Iterator
from dataclasses import dataclass

from dosewright.cli.files import Unreadable, read_text
from dosewright.cli.plan_input import add_input_arguments, cycle_days, day, read_input
from dosewright.core.interop.json_text import JsonError
from dosewright.core.interop.plan_json import PlanError, parse_plan, parse_plan_head
from dosewright.core.packing.card_number import format_card_number
from dosewright.core.packing.explain import explain, explain_dosing_time
from dosewright.core.packing.plan_values import Card, PackedCavity
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.why import Reason, explain_cavity
from dosewright.core.paper.say import say
from dosewright.core.regimen.words.say_plain import say_plain
from dosewright.core.units.amount_words import format_quantity
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.person import Person
from dosewright.devices.other_formats import in_other_formats

__all__ = ["add_arguments", "run"]

_PLACE = re.compile(r"(\d{1,3}),(\d{1,3})")

_EXAMPLE = """example:
  dosewright why cycle/plan.json orders.json --medicines medicines.csv --card 667704912828209 --cavity 3,2

For a cavity: each content with its order's words as received, how they were read, the dose due then, and the rule that puts it on that day.
Without --cavity: why the card's dosing times need so many columns, why the set has no card fewer, and which one change would save a card.
Give the options that the plan was made with; days, card format and profile are the plan's own where they are not given.

exit code: 0 done; 1 something lies there that no order in force puts there; 2 the input cannot be read, or has no such card or cavity.
"""


@dataclass(frozen=True, slots=True)
class _Asked:
    """The card, whose it is, and the request that it was planned from."""

    card: Card
    person: Person
    request: PlanRequest


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Arguments of the subcommand."""
    parser.epilog = _EXAMPLE
    parser.add_argument("plan", metavar="PLAN", help="the plan.json that `plan` wrote")
    add_input_arguments(parser)
    add = parser.add_argument
    add("--card", required=True, metavar="NUMBER", type=_number, help="the card's number, with or without its gaps")
    add("--cavity", metavar="ROW,COLUMN", type=_place, help="one cavity, counted from 1 as the card is read: 3,2")
    add("--from", dest="first", metavar="DATE", type=day, help="first day (default: the plan's)")
    add("--days", metavar="N", type=cycle_days, help="how many days (default: the plan's)")
    add("--format", dest="card_format", metavar="NAME|FILE", help="card format (default: the plan's)")
    add("--profile", metavar="NAME|FILE", help="rules of a place (default: the plan's)")


def run(args: argparse.Namespace) -> int:
    """Print the reasons, a line each. Exit code 0 or 1. Raises Unreadable."""
    asked = _read(args)
    found = list(_of_card(asked) if args.cavity is None else _of_cavity(asked, *args.cavity))
    for line, _ in found:
        print(line)
    return 1 if any(severity is Severity.STOP for _, severity in found) else 0


_Line = tuple[str, Severity]


def _of_cavity(asked: _Asked, row: int, column: int) -> Iterator[_Line]:
    cavity = next((one for one in asked.card.cavities if (one.row, one.column) == (row, column)), None)
    if cavity is None:
        raise Unreadable(f"card {format_card_number(asked.card.number)} holds nothing in row {row}, column {column}.")
    part = f", part {cavity.part} of {cavity.parts}" if cavity.parts > 1 else ""
    yield f"{asked.person.name}, {_day(cavity)}, {cavity.time:%H:%M} {cavity.slot}{part}:", Severity.NOTE
    for reason in explain_cavity(cavity, asked.person, asked.request):
        yield from _of_content(reason, asked.request)
    yield from (_told(found) for found in explain_dosing_time(asked.person, asked.request, cavity.slot))


def _of_content(reason: Reason, request: PlanRequest) -> Iterator[_Line]:
    medicine = request.medicines.get(reason.content.medicine)
    label = medicine.label if medicine else reason.content.medicine
    yield f"- {label}, {format_quantity(reason.content.quantity)}, order {reason.content.order}", Severity.NOTE
    if reason.order and reason.dosage:
        yield f'  as received: "{reason.order.text or reason.dosage.text or "no text"}"', Severity.NOTE
        yield f"  as read: {say_plain(reason.order.dosages) or 'no plain words for the structure'}", Severity.NOTE
    yield from ((f"  {line}", severity) for line, severity in map(_told, reason.because))


def _of_card(asked: _Asked) -> Iterator[_Line]:
    card = asked.card
    yield f"{asked.person.name}, card {format_card_number(card.number)}, {card.first} to {card.last}:", Severity.NOTE
    slots = {column.slot for column in card.columns}
    for found in explain(asked.person, asked.request, in_other_formats(asked.request)):
        if found.where.get("slot") is None or found.where["slot"] in slots:
            yield _told(found)


def _told(found: Finding) -> _Line:
    return " ".join(say(found).split()), found.severity


def _day(cavity: PackedCavity) -> str:
    return f"{cavity.day:%a} {cavity.day.day} {cavity.day:%b %Y}"


def _read(args: argparse.Namespace) -> _Asked:
    text = read_text(args.plan)
    try:
        head = parse_plan_head(text)
        first, days = args.first or head.first, args.days or head.days
        given = read_input(args, first, days, args.profile or head.profile, args.card_format or head.format)
        plan = parse_plan(text, given.request.medicines)
    except JsonError as error:
        raise Unreadable(f"{args.plan}, {error}") from error
    except PlanError as error:
        raise Unreadable(f"{args.plan}: {error}") from error
    people = {person.id: person for person in given.request.people}
    for planned in plan.people:
        for card in planned.cards:
            if card.number == args.card and planned.person in people:
                return _Asked(card, people[planned.person], given.request)
    raise Unreadable(f"{args.plan} has no card {format_card_number(args.card)} of anybody in {args.orders}.")


def _number(text: str) -> str:
    return re.sub(r"[\s-]", "", text)


def _place(text: str) -> tuple[int, int]:
    found = _PLACE.fullmatch(text.replace(" ", ""))
    if not found:
        raise argparse.ArgumentTypeError(f"{text!r} is not a row and a column, such as 3,2")
    return int(found[1]), int(found[2])

"""`dosewright change`: existing cards against new orders, in one folder, written whole or not at all."""

import argparse
import re
import sys
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from datetime import date, datetime, time
from typing import TypeVar

from dosewright.cli.change_paper import CHANGE_PAPER, draw_change
from dosewright.cli.files import Unreadable, read_text, write_folder
from dosewright.cli.finding_line import line_of
from dosewright.cli.plan_input import PlanInput, day, read_input
from dosewright.core.interop.card_state_json import CardsIn, cards_as_planned, parse_card_states
from dosewright.core.interop.change_json import format_change, recommended
from dosewright.core.interop.json_text import JsonError
from dosewright.core.interop.plan_json import PlanError, parse_plan, parse_plan_head
from dosewright.core.interop.rework_rates_toml import parse_rates
from dosewright.core.interop.toml_text import TomlError
from dosewright.core.packing.plan_values import Plan
from dosewright.core.rework.layout import PersonLayout, check_absent, lay_out
from dosewright.core.rework.on_demand import check_on_demand
from dosewright.core.rework.plan_after import plan_after
from dosewright.core.rework.proof import check_layout
from dosewright.core.rework.rates import Rates
from dosewright.core.rework.situation import Situation
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Finding, Severity, needs_a_person
from dosewright.core.units.ids import PersonId
from dosewright.devices.shipped import read_shipped

__all__ = ["add_arguments", "run"]

_MOST_SHOWN = 40  # findings on standard error; all of them are in the file
_Made = TypeVar("_Made")
_MOMENT = re.compile(r"\d{4}-\d{2}-\d{2}T\d{2}:\d{2}")

_EXAMPLE = """example:
  dosewright change cycle/plan.json --before orders.json --after orders-new.json --at 2026-03-10T12:00 \\
    --medicines medicines.csv --cards where.json --out change

Doses at the moment or later follow the new orders. The new file holds all orders of everyone whose cards are to be judged, not only those
that changed. Give the options that the plan was made with; days, card format and profile are the plan's own where they are not given.

The folder gets rework.json; and, for everyone whose change can be done, labels.pdf (what must be labelled anew), work.pdf (what comes
out of which cavity and what goes in) and, where a card has to be called back, interim.pdf (what to give until it is right). Nothing is
decided by it: what is recommended is what the pharmacy's own weights rank first.

exit code: 0 done; 1 done, and something needs a person (rework.json says what); 2 the input cannot be read, nothing is written.
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Arguments of the subcommand."""
    parser.epilog = _EXAMPLE
    add = parser.add_argument
    add("plan", metavar="PLAN", help="the plan.json of the cards that exist")
    add("--before", required=True, metavar="ORDERS", help="the orders that the cards were made from: FHIR R4 Bundle (JSON) or orders CSV")
    add("--after", required=True, metavar="ORDERS", help="the orders as they are now, all of them")
    add("--at", required=True, metavar="MOMENT", type=_moment, help="from when the new orders count, as 2026-03-10T12:00")
    add("--now", metavar="MOMENT", type=_moment, help="when the work can begin (default: that moment)")
    add("--cards", metavar="STATE", help="where each card is and what is used; without it all are in the pharmacy, used up to that moment")
    add("--out", required=True, metavar="DIR", help="folder for the results; made if it is not there")
    add("--rates", metavar="FILE", help="minutes, error rates and weights of this pharmacy (default: the shipped ones)")
    add("--medicines", metavar="CSV", help="medicines CSV; without it no code is known, and every order is a finding")
    add("--timetable", metavar="FILE", help="dosing times; without it morning 08:00, noon 12:00, evening 18:00, bedtime 22:00")
    add("--prepared", metavar="DATE", type=day, help="day of the work, from which new cards keep (default: the day of the moment)")
    add("--lang", default="en", metavar="CODE", help="language of directions in words (default: en)")
    add("--country", metavar="CODE", help="country of directions in words (default: the profile's)")
    add("--format", dest="card_format", metavar="NAME|FILE", help="card format (default: the plan's)")
    add("--profile", metavar="NAME|FILE", help="rules of a place (default: the plan's)")


def run(args: argparse.Namespace) -> int:
    """Lay out, recount, draw, write. Exit code 0 or 1. Raises Unreadable before anything is written."""
    text = read_text(args.plan)
    head = _of_plan(args.plan, lambda: parse_plan_head(text))
    before, after = _read_orders(args, head, args.before, args.prepared), _read_orders(args, head, args.after, args.prepared or args.at.day)
    plan = _of_plan(args.plan, lambda: parse_plan(text, after.request.medicines))
    names = _names(plan, before, after)
    cards = _read_cards(args, plan, names)
    situation = Situation(before.request, after.request, args.at, args.now or args.at, cards.cards, _read_rates(args.rates))
    layouts, faults = _recounted(lay_out(situation, _broken(plan, after)), situation)
    then = plan_after(plan, layouts, situation)
    paper, drawn = draw_change(layouts, then, situation, after)
    laid = (finding for layout in layouts for finding in layout.findings)
    findings = _once((*after.findings, *cards.findings, *check_absent(situation), *check_on_demand(situation), *laid, *faults, *drawn))
    made = {"rework.json": format_change(layouts, situation, then, names, findings).encode(), **paper}
    write_folder(args.out, made, instead_of=CHANGE_PAPER)
    _report(layouts, findings, args.out)
    return 1 if needs_a_person(findings) else 0


def _of_plan(path: str, parse: Callable[[], _Made]) -> _Made:
    """What the file says, or the sentence that says why not."""
    try:
        return parse()
    except JsonError as error:
        raise Unreadable(f"{path}, {error}") from error
    except PlanError as error:
        raise Unreadable(f"{path}: {error}") from error


def _read_orders(args: argparse.Namespace, head: Plan, path: str, prepared: date | None) -> PlanInput:
    chosen = argparse.Namespace(**{**vars(args), "orders": path, "prepared": prepared})
    return read_input(chosen, head.first, head.days, args.profile or head.profile, args.card_format or head.format)


def _names(plan: Plan, *given: PlanInput) -> dict[PersonId, str]:
    known = {person.id: person.name for one in given for person in one.request.people}
    return {person.person: known.get(person.person, person.person) for person in plan.people} | known


def _read_cards(args: argparse.Namespace, plan: Plan, names: dict[PersonId, str]) -> CardsIn:
    if args.cards is None:
        return cards_as_planned(plan, args.at)
    text = read_text(args.cards)
    return _of_plan(args.cards, lambda: parse_card_states(text, plan, args.at, names))


def _read_rates(path: str | None) -> Rates:
    try:
        return parse_rates(read_shipped("rework", "rates.toml") if path is None else read_text(path))
    except TomlError as error:
        raise Unreadable(f"{path}, {error}") from error


def _broken(plan: Plan, after: PlanInput) -> frozenset[PersonId]:
    """People of whom an order was lost on the way in; everybody, where nobody can say whose it was."""
    named = {received.order.id for received in after.orders.received}
    lost = [found for found in after.orders.findings if found.severity is Severity.STOP and found.where.get("order") not in named]
    whose = [found.where.get("person") for found in lost]
    everyone = frozenset(person.id for person in after.request.people)
    return everyone if None in whose else everyone & frozenset(PersonId(str(person)) for person in whose)


def _recounted(layouts: Sequence[PersonLayout], situation: Situation) -> tuple[tuple[PersonLayout, ...], tuple[Finding, ...]]:
    """Nothing is offered for a person whose cards the recount does not find right."""
    checked: list[PersonLayout] = []
    faults: list[Finding] = []
    for layout in layouts:
        found = check_layout(layout, situation)
        explained = bool(layout.left) or any(finding.code == "rework.no-card" for finding in layout.findings)
        faults += [] if explained else found
        checked.append(layout if explained or not found else replace(layout, chosen=(), choices=(), held=True))
    return tuple(checked), tuple(faults)


def _once(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    found: list[Finding] = []
    for finding in findings:
        if finding not in found:
            found.append(finding)
    return tuple(found)


def _moment(text: str) -> Moment:
    """An argument that is a day and a clock time. Raises ArgumentTypeError."""
    try:
        if _MOMENT.fullmatch(text):
            found = datetime.fromisoformat(text)
            return Moment(day(text[:10]), time(found.hour, found.minute))
    except ValueError:
        pass
    raise argparse.ArgumentTypeError(f"{text!r} is not a moment such as 2026-03-10T12:00")


def _report(layouts: Sequence[PersonLayout], findings: tuple[Finding, ...], folder: str) -> None:
    touched = sum(bool(one.changes) for layout in layouts for one in layout.differences)
    cavities = sum(len(one.changes) for layout in layouts for one in layout.differences)
    name = recommended(layouts)
    print(f"{touched} cards and {cavities} cavities differ; recommended: {name or 'nothing'}: {folder}")
    grave = [found for found in findings if found.severity is not Severity.NOTE]
    for found in grave[:_MOST_SHOWN]:
        print(line_of(found), file=sys.stderr)
    if len(grave) > _MOST_SHOWN:
        print(f"… and {len(grave) - _MOST_SHOWN} more, in {folder}/rework.json", file=sys.stderr)

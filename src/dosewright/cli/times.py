"""`dosewright times`: fewer dosing times, proposed beside today's; one JSON line for each person. Nothing is changed by it."""

import argparse
import sys
from collections.abc import Iterable

from dosewright.cli.files import Unreadable, read_text
from dosewright.cli.finding_line import line_of
from dosewright.cli.plan_input import DEFAULT_FORMAT, DEFAULT_PROFILE, PlanInput, add_input_arguments, cycle_days, day, read_input
from dosewright.core.interop.proposal_json import format_proposal
from dosewright.core.interop.time_rules_toml import parse_time_rules
from dosewright.core.interop.toml_text import TomlError
from dosewright.core.medicines.time_of_day import TimeRules
from dosewright.core.packing.dosing_times.propose import propose
from dosewright.core.packing.dosing_times.times_values import Proposal
from dosewright.core.units.finding import Severity, needs_a_person
from dosewright.core.units.person import Person
from dosewright.devices.shipped import read_shipped

__all__ = ["add_arguments", "run"]

_CYCLE = 28  # days: four weeks, as `plan` is mostly asked

_EXAMPLE = """example:
  dosewright times orders.json --medicines medicines.csv --from 2026-03-30 > proposals.jsonl

A line of JSON for each person: today's dosing times, the fewest that their orders leave room for, each move with what it relies on, each
order that stays and why, the cards today and proposed, and the proof. An order moves only where its own words leave its time open, and no
rule or caution ties its medicine to a time of day. A pharmacist takes a proposal up, or leaves it: nothing is written but this.

exit code: 0 done; 1 done, and something needs a person (standard error says what); 2 the input cannot be read.
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Arguments of the subcommand."""
    parser.epilog = _EXAMPLE
    add_input_arguments(parser)
    add = parser.add_argument
    add("--from", dest="first", required=True, metavar="DATE", type=day, help="the day from which the new times would count")
    add("--days", default=_CYCLE, metavar="N", type=cycle_days, help=f"days of the cycle, to count doses and cards ({_CYCLE})")
    add("--format", dest="card_format", default=DEFAULT_FORMAT, metavar="NAME|FILE", help=f"card format ({DEFAULT_FORMAT})")
    add("--profile", default=DEFAULT_PROFILE, metavar="NAME|FILE", help=f"rules of a place ({DEFAULT_PROFILE})")
    add("--person", action="append", default=[], metavar="ID", help="only this person; may be given again")
    add("--stay", action="append", default=[], metavar="ORDER", help="leave this order where it is; may be given again")
    add("--time-rules", metavar="FILE", help="what is known about medicines' times of day, instead of the rules that ship")


def run(args: argparse.Namespace) -> int:
    """Write one line for each person; exit code 0 or 1. Raises Unreadable before anything is written."""
    given, rules = read_input(args, args.first, args.days, args.profile, args.card_format), _read_rules(args.time_rules)
    people = _people(args.person, given)
    _require_known("--stay", args.stay, (order.id for order in given.request.orders))
    proposals = [(person, propose(person, given.request, rules, args.stay)) for person in people]
    for person, proposal in proposals:
        print(format_proposal(proposal, person.name))
    return _report(given, [proposal for _, proposal in proposals])


def _read_rules(path: str | None) -> TimeRules:
    try:
        return parse_time_rules(read_text(path) if path else read_shipped("suitability", "times.toml"))
    except TomlError as error:
        raise Unreadable(f"{path}, {error}") from error


def _people(named: list[str], given: PlanInput) -> tuple[Person, ...]:
    _require_known("--person", named, (person.id for person in given.request.people))
    return tuple(person for person in given.request.people if not named or person.id in named)


def _require_known(option: str, named: Iterable[str], known: Iterable[str]) -> None:
    if strangers := sorted(set(named) - set(known)):
        raise Unreadable(f'{option} "{strangers[0]}" is not in the orders; give an id as the orders have it.')


def _report(given: PlanInput, proposals: list[Proposal]) -> int:
    found = (*given.findings, *(finding for proposal in proposals for finding in proposal.findings))
    for grave in (finding for finding in found if finding.severity is not Severity.NOTE):
        print(line_of(grave), file=sys.stderr)
    return 1 if needs_a_person(found) else 0

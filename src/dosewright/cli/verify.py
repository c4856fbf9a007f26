"""`dosewright verify`: recount a plan from its orders, by code that shares nothing with the planner."""

import argparse

from dosewright.cli.files import Unreadable, read_text
from dosewright.cli.finding_line import line_of
from dosewright.cli.plan_input import PlanInput, add_input_arguments, cycle_days, day, read_input
from dosewright.core.interop.json_text import JsonError
from dosewright.core.interop.plan_json import PlanError, parse_plan, parse_plan_head
from dosewright.core.packing.plan_values import Plan
from dosewright.core.packing.verify import verify
from dosewright.core.units.finding import Severity, needs_a_person

__all__ = ["add_arguments", "run"]

_EXAMPLE = """example:
  dosewright verify cycle/plan.json orders.json --medicines medicines.csv

Give the options that the plan was made with; days, card format and profile are the plan's own where they are not given.

exit code: 0 the plan is right, one line of counts; 1 it is not, or the orders have findings; 2 the input cannot be read.
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Arguments of the subcommand."""
    parser.epilog = _EXAMPLE
    parser.add_argument("plan", metavar="PLAN", help="the plan.json that `plan` wrote")
    add_input_arguments(parser)
    parser.add_argument("--from", dest="first", metavar="DATE", type=day, help="first day (default: the plan's)")
    parser.add_argument("--days", metavar="N", type=cycle_days, help="how many days (default: the plan's)")
    parser.add_argument("--format", dest="card_format", metavar="NAME|FILE", help="card format (default: the plan's)")
    parser.add_argument("--profile", metavar="NAME|FILE", help="rules of a place (default: the plan's)")
    parser.add_argument("--last-cycle", metavar="PLAN", help="accepted likewise; where a medicine lay last changes nothing in the recount")
    parser.add_argument("--explain", action="store_true", help="accepted likewise")
    parser.add_argument("--out", metavar="DIR", help="accepted, so that plan's options can be repeated; nothing is written")


def run(args: argparse.Namespace) -> int:
    """Print the counts, or the findings. Exit code 0 or 1. Raises Unreadable."""
    text = read_text(args.plan)
    try:
        head = parse_plan_head(text)
        given = read_input(
            args, args.first or head.first, args.days or head.days, args.profile or head.profile, args.card_format or head.format
        )
        plan = parse_plan(text, given.request.medicines)
    except JsonError as error:
        raise Unreadable(f"{args.plan}, {error}") from error
    except PlanError as error:
        raise Unreadable(f"{args.plan}: {error}") from error
    return _report(plan, given)


def _report(plan: Plan, given: PlanInput) -> int:
    faults = verify(plan, given.request)
    grave = [found for found in given.findings if found.severity is not Severity.NOTE]
    for found in (*faults, *grave):
        print(line_of(found))
    if not faults:
        print(_counts(plan))
    return 1 if faults or needs_a_person(given.findings) else 0


def _counts(plan: Plan) -> str:
    cards = [card for person in plan.people for card in person.cards]
    cavities = [cavity for card in cards for cavity in card.cavities]
    doses = sum(len(cavity.contents) for cavity in cavities)
    beside = sum(len(person.alongside) for person in plan.people)
    return (
        f"right: {len(plan.people)} people, {len(cards)} cards, {len(cavities)} filled cavities, {doses} doses in them, {beside} alongside"
    )

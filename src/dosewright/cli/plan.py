"""`dosewright plan`: orders to cards and paper, in one folder, written whole or not at all."""

import argparse
import sys
from collections.abc import Iterable
from dataclasses import replace

from dosewright.cli.files import write_folder
from dosewright.cli.finding_line import line_of
from dosewright.cli.last_cycle import LastCycle, read_last_cycle
from dosewright.cli.plan_input import DEFAULT_FORMAT, DEFAULT_PROFILE, PlanInput, add_input_arguments, cycle_days, day, read_input
from dosewright.cli.plan_paper import EVERY_PAPER, LANGUAGES, SIZES, More, draw_paper
from dosewright.core.interop.plan_json import format_findings, format_plan
from dosewright.core.packing.explain import explain
from dosewright.core.packing.plan import plan_cycle
from dosewright.core.packing.plan_values import Plan
from dosewright.core.packing.shorter import plan_what_keeps
from dosewright.core.packing.verify import verify
from dosewright.core.paper.person_sheet import PersonSheet
from dosewright.core.paper.say import say
from dosewright.core.units.finding import Finding, Severity, needs_a_person

__all__ = ["add_arguments", "run"]

_ONE_PRODUCT = ("duplicate.same-time", "duplicate.same-product")
_MOST_SHOWN = 40  # findings on standard error; all of them are in the files

_EXAMPLE = """example:
  dosewright plan orders.json --medicines medicines.csv --from 2026-03-02 --days 28 --out cycle \\
    --profile uk --format seven-by-four

The folder gets plan.json and findings.json; and labels.pdf, fill.pdf and record.pdf (administration record) for everyone whose set is
whole: every order in a card or named beside it, and the recount in agreement. Sheets of an earlier run in that folder are taken away.
With --person-sheet large (or giant) it gets person.pdf, with --check-sheet check.pdf.

exit code: 0 done; 1 done, and something needs a person (findings.json says what); 2 the input cannot be read, nothing is written.
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Arguments of the subcommand."""
    parser.epilog = _EXAMPLE
    add_input_arguments(parser)
    parser.add_argument("--from", dest="first", required=True, metavar="DATE", type=day, help="first day of the cycle, as 2026-03-02")
    parser.add_argument("--days", required=True, metavar="N", type=cycle_days, help="how many days")
    parser.add_argument("--out", required=True, metavar="DIR", help="folder for the results; made if it is not there")
    parser.add_argument("--format", dest="card_format", default=DEFAULT_FORMAT, metavar="NAME|FILE", help=f"card format ({DEFAULT_FORMAT})")
    parser.add_argument("--profile", default=DEFAULT_PROFILE, metavar="NAME|FILE", help=f"rules of a place ({DEFAULT_PROFILE})")
    parser.add_argument("--person-sheet", choices=sorted(SIZES), help="person.pdf too: each person's own sheet, in 18 (large) or 24 points")
    parser.add_argument("--person-lang", default="en", choices=LANGUAGES, help="language of the person's sheet (en)")
    parser.add_argument("--check-sheet", action="store_true", help="check.pdf too: for the second person's own counts")
    parser.add_argument("--explain", action="store_true", help="say why so many columns and cards, and what one change would save")
    parser.add_argument("--shorten", action="store_true", help="where cards would outlive what is in them, plan as many days as they keep")
    parser.add_argument(
        "--last-cycle",
        metavar="PLAN",
        help="plan.json of the last cycle: medicines keep places at no card's cost; sheets say what looks new",
    )


def run(args: argparse.Namespace) -> int:
    """Plan, recount, draw, write. Exit code 0 or 1. Raises Unreadable before anything is written."""
    given, last = _read(args)
    plan, asked = plan_what_keeps(given.request) if args.shorten else (plan_cycle(given.request), given.request)
    given = replace(given, request=asked)
    faults = verify(plan, given.request)
    paper, drawn = draw_paper(plan, given, faults, _more(args, given, last))
    findings = (*given.findings, *_not_said_twice(plan, given), *_unstated_starts(plan), *faults, *drawn)
    names = {person.id: person.name for person in given.request.people}
    made = {"plan.json": format_plan(plan, names, findings).encode(), "findings.json": format_findings(findings).encode(), **paper}
    write_folder(args.out, made, instead_of=EVERY_PAPER)
    _report(plan, findings, args.out)
    if args.explain:
        _explain(plan, given)
    return 1 if needs_a_person(findings) else 0


def _read(args: argparse.Namespace) -> tuple[PlanInput, LastCycle]:
    given = read_input(args, args.first, args.days, args.profile, args.card_format)
    last = read_last_cycle(args.last_cycle, given.request.medicines)
    return replace(given, request=replace(given.request, places=last.places)), last


def _more(args: argparse.Namespace, given: PlanInput, last: LastCycle) -> More:
    """The sheets that are only drawn when they are asked for. They bear the day of preparation: the same input gives the same bytes."""
    size = SIZES[args.person_sheet] if args.person_sheet else None
    person = PersonSheet(size, args.person_lang, given.request.prepared_on, last.products) if size else None
    return More(person, check=args.check_sheet)


def _explain(plan: Plan, given: PlanInput) -> None:
    """On standard output, for everyone who has a card."""
    with_cards = {planned.person for planned in plan.people if planned.cards}
    for person in given.request.people:
        if person.id in with_cards:
            for found in explain(person, given.request):
                print(" ".join(say(found).split()))


def _not_said_twice(plan: Plan, given: PlanInput) -> Iterable[Finding]:
    """Without what the files' own findings said already, with more: an order without directions, one medicine ordered twice."""
    open_orders = {received.order.id for received in given.orders.unsettled}
    twice = {
        frozenset((found.where["order"], found.facts["other"])) for found in given.findings if found.code == "order.same-medicine-twice"
    }
    for found in plan.findings:
        order = found.where.get("order")
        unread = order in open_orders and found.code in ("timing.no-dosage", "directions.refuse")
        if not unread and not (found.code in _ONE_PRODUCT and {order, found.facts["other_order"]} in twice):
            yield found


def _unstated_starts(plan: Plan) -> Iterable[Finding]:
    """A rhythm or a course counted from the cycle's first day would slip with the next cycle: a person must say where it began."""
    for found in plan.findings:
        if found.code == "assumed.anchor":
            yield Finding("order.start-not-stated", Severity.DECIDE, found.where, found.facts)


def _report(plan: Plan, findings: tuple[Finding, ...], folder: str) -> None:
    cards = [card for person in plan.people for card in person.cards]
    cavities = sum(len(card.cavities) for card in cards)
    print(f"{len(plan.people)} people, {len(cards)} cards, {cavities} filled cavities: {folder}")
    grave = [found for found in findings if found.severity is not Severity.NOTE]
    for found in grave[:_MOST_SHOWN]:
        print(line_of(found), file=sys.stderr)
    if len(grave) > _MOST_SHOWN:
        print(f"… and {len(grave) - _MOST_SHOWN} more, in {folder}/findings.json", file=sys.stderr)

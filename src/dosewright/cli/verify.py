"""`dosewright verify`: recount a plan from its orders, by code that shares nothing with the planner."""

import argparse
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import BrokenExecutor
from itertools import count, islice

from dosewright.cli.files import Unreadable, read_text
from dosewright.cli.finding_line import line_of
from dosewright.cli.plan_chunk import shared_of
from dosewright.cli.plan_homes import CHUNK, part_of, parts_of
from dosewright.cli.plan_input import PlanInput, add_input_arguments, cycle_days, day, read_input
from dosewright.cli.plan_lines import NotInLines, person_of, read_head, read_people
from dosewright.cli.progress import Progress
from dosewright.cli.recount_chunk import COUNTED, Recounted, RecountTask, counts_of, recount_chunk
from dosewright.cli.through import number_of_workers, processes, run_through, workers_here
from dosewright.core.interop.json_text import JsonError
from dosewright.core.interop.plan_json import PlanError, parse_plan, parse_plan_head
from dosewright.core.packing.fingerprint import fingerprint_of_sets
from dosewright.core.packing.plan_values import Plan
from dosewright.core.packing.verify import check_whole, verify
from dosewright.core.units.finding import Finding, Severity, needs_a_person

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
    parser.add_argument("--workers", type=number_of_workers, metavar="N", help="processes to recount with (default: one for each core)")
    parser.add_argument("--progress", action="store_true", help="show how far it is, also where standard error is no terminal")
    for name in ("--no-paper", "--resume"):
        parser.add_argument(name, action="store_true", help="accepted likewise")
    parser.add_argument("--out", metavar="DIR", help="accepted, so that plan's options can be repeated; nothing is written")


def run(args: argparse.Namespace) -> int:
    """Print the counts, or the findings. Exit code 0 or 1. Raises Unreadable."""
    try:
        return _verify(args)
    except JsonError as error:
        raise Unreadable(f"{args.plan}, {error}") from error
    except PlanError as error:
        raise Unreadable(f"{args.plan}: {error}") from error


def _verify(args: argparse.Namespace) -> int:
    """A person at a time where the file is laid out as it was written; as a whole where it is not, or where anything is wrong with it."""
    given: PlanInput | None = None
    try:
        head = read_head(args.plan)
        given = _given(args, head)
        return _report(given, *_recount(head, given, args))
    except (NotInLines, JsonError, PlanError):
        text = read_text(args.plan)
    head = parse_plan_head(text)
    given = given or _given(args, head)
    plan = parse_plan(text, given.request.medicines)
    return _report(given, verify(plan, given.request), _counted(plan))


def _given(args: argparse.Namespace, head: Plan) -> PlanInput:
    return read_input(args, args.first or head.first, args.days or head.days, args.profile or head.profile, args.card_format or head.format)


def _recount(head: Plan, given: PlanInput, args: argparse.Namespace) -> tuple[tuple[Finding, ...], Counter[str]]:
    """Through processes, some people at a time; the faults come in the order of the file whatever the number of processes."""
    workers = min(args.workers or workers_here(), max(1, len(parts_of(given))))
    executor, progress = processes(workers), Progress(len(given.request.people), 0, always=args.progress, what="recounted")
    done: dict[int, Recounted] = {}
    try:
        for number, found in run_through(executor, recount_chunk, _tasks(given, read_people(args.plan)), 2 * workers):
            done[number] = found
            progress.add(len(found.people))
    except BrokenExecutor as error:
        raise Unreadable("a process that was recounting ended before it was done; with fewer --workers it takes less memory.") from error
    finally:
        progress.end()
        executor.shutdown(wait=False, cancel_futures=True)
    parts = [done[number] for number in sorted(done)]
    right = fingerprint_of_sets({person: basis for part in parts for person, basis in part.bases.items()})
    people, numbers = [one for part in parts for one in part.people], [one for part in parts for one in part.numbers]
    whole = check_whole(head, people, numbers, right, given.request)
    counts = sum((Counter(part.counts) for part in parts), Counter[str]())
    misnumbered = (fault for part in parts if head.basis == right for fault in part.misnumbered)
    return (*whole, *misnumbered, *(fault for part in parts for fault in part.faults)), counts


def _tasks(given: PlanInput, lines: Iterator[str]) -> Iterator[tuple[int, RecountTask]]:
    people, shared = {person.id: person for person in given.request.people}, shared_of(given.request)
    for number in count():
        held = tuple(islice(lines, CHUNK))
        if not held:
            return
        known = dict.fromkeys(person for line in held if (person := person_of(line)) in people)
        yield number, RecountTask(shared, part_of(given.request, tuple(people[person] for person in known)), held)


def _report(given: PlanInput, faults: tuple[Finding, ...], counts: Counter[str]) -> int:
    grave = [found for found in given.findings if found.severity is not Severity.NOTE]
    for found in (*faults, *grave):
        print(line_of(found))
    if not faults:
        print(f"right: {', '.join(f'{counts[name]} {name}' for name in COUNTED)}")
    return 1 if faults or needs_a_person(given.findings) else 0


def _counted(plan: Plan) -> Counter[str]:
    return Counter(counts_of(plan.people))

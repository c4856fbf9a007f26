"""`dosewright plan`: orders to cards and paper, in one folder, written whole or not at all."""

import argparse
import contextlib
import signal
import sys
from collections.abc import Iterable, Iterator, Mapping, Sequence
from concurrent.futures import BrokenExecutor, Executor
from dataclasses import dataclass, field, replace
from itertools import chain
from types import FrameType

from dosewright.cli.files import Unreadable, write_folder
from dosewright.cli.last_cycle import LastCycle, read_last_cycle
from dosewright.cli.people_in_parts import read_in_parts
from dosewright.cli.plan_chunk import Told, tell
from dosewright.cli.plan_homes import InMemory, Means, Planned, key_of, parts_of, plan_homes
from dosewright.cli.plan_input import (
    DEFAULT_FORMAT,
    DEFAULT_PROFILE,
    PlanInput,
    add_input_arguments,
    cycle_days,
    day,
    read_setting,
    with_orders,
)
from dosewright.cli.plan_paper import EVERY_PAPER, LANGUAGES, SIZES, More, draw_paper
from dosewright.cli.progress import Progress
from dosewright.cli.through import number_of_workers, processes, workers_here
from dosewright.cli.work_folder import WorkFolder
from dosewright.core.interop.plan_json import findings_text, parse_person, plan_text
from dosewright.core.packing.plan import findings_of_request
from dosewright.core.packing.plan_values import Plan
from dosewright.core.packing.shorter import plan_what_keeps, what_was_cut
from dosewright.core.paper.person_sheet import PersonSheet
from dosewright.core.units.finding import Severity

__all__ = ["Asked", "add_arguments", "plan_orders", "plan_through", "run"]

_FEW = 8  # people: their sheets are drawn sooner than processes are started and have the fonts
_MOST_SHOWN = 40  # findings on standard error; all of them are in the files

_EXAMPLE = """example:
  dosewright plan orders.json --medicines medicines.csv --from 2026-03-02 --days 28 --out cycle \\
    --profile uk --format seven-by-four

The folder gets plan.json and findings.json; and labels.pdf, fill.pdf and record.pdf (administration record) for everyone whose set is
whole: every order in a card or named beside it, and the recount in agreement. Sheets of an earlier run in that folder are taken away.
With --person-sheet large (or giant) it gets person.pdf, with --check-sheet check.pdf.

Many people are planned, and their documents drawn, on all cores at once. What is finished is kept in .DIR.work beside DIR until the
results are whole: a run that was stopped goes on from there with --resume, and gives the same bytes. After any change of the input it
begins afresh.

exit code: 0 done; 1 done, and something needs a person (findings.json says what); 2 the input cannot be read, nothing is written;
130 or 143 stopped by a key or a signal, nothing is written.
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
    parser.add_argument("--workers", type=number_of_workers, metavar="N", help="processes to work with (default: one for each core)")
    parser.add_argument("--no-paper", action="store_true", help="plan.json and findings.json only")
    parser.add_argument("--resume", action="store_true", help="go on with a run into this folder that was stopped")
    parser.add_argument("--progress", action="store_true", help="show how far it is, also where standard error is no terminal")


def run(args: argparse.Namespace) -> int:
    """Plan, recount, draw, write. Exit code 0 or 1; 130 or 143 where it was stopped. Raises Unreadable before anything is written."""
    asked = _read(args)
    given = asked.given
    workers = min(args.workers or workers_here(), max(1, len(parts_of(given)), _documents(args, asked)))
    executor = processes(workers)
    try:
        with _stoppable():
            return plan_orders(args, asked, executor, workers)
    except _Stopped as stopped:
        print(f"dosewright plan: stopped; nothing is written. {_how_to_go_on(given)}", file=sys.stderr)
        return 128 + stopped.signal
    except BrokenExecutor as error:
        raise Unreadable(
            f"a process that was planning ended before it was done. {_how_to_go_on(given)} With fewer --workers it takes less memory."
        ) from error
    finally:
        executor.shutdown(wait=False, cancel_futures=True)


def _how_to_go_on(given: PlanInput) -> str:
    return "The same command with --resume goes on from what is finished." if len(parts_of(given)) > 1 else ""


class _Stopped(BaseException):
    """A key or a signal asked the program to stop."""

    def __init__(self, number: int) -> None:
        self.signal = number
        super().__init__(number)


@contextlib.contextmanager
def _stoppable() -> Iterator[None]:
    """Ctrl-C and TERM become `_Stopped` meanwhile, so that everything half-done is cleared away."""

    def stop(number: int, _frame: FrameType | None) -> None:
        raise _Stopped(number)

    before = {number: signal.signal(number, stop) for number in (signal.SIGINT, signal.SIGTERM)}
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)


@dataclass(frozen=True, slots=True)
class Asked:
    """What is planned, and the sheets beyond those that every plan gets."""

    given: PlanInput
    more: More = field(default_factory=More)


def _documents(args: argparse.Namespace, asked: Asked) -> int:
    """How many documents are worth a process each."""
    return 0 if args.no_paper or asked.given.people < _FEW else asked.more.many


def plan_orders(args: argparse.Namespace, asked: Asked, executor: Executor, workers: int) -> int:
    """The same through any executor: a cluster's in place of this machine's processes. `workers`: how many it has. Exit code 0 or 1."""
    given = asked.given
    if len(parts_of(given)) <= 1:
        return _plan_and_write(args, asked, InMemory(), executor, workers)
    folder = WorkFolder(args.out, key_of(given, explain=args.explain), resume=args.resume)
    try:
        code = _plan_and_write(args, asked, folder, executor, workers)
        folder.remove()
    finally:
        folder.close()
    return code


def plan_through(words: Sequence[str], executor: Executor, workers: int) -> int:
    """`dosewright plan` with these arguments through any executor (`["orders.csv", "--from", "2026-03-02", …]`). Exit code 0 or 1.

    Where the executor's tasks run, this package must be installed in the same version; no file needs to be there. Raises Unreadable.
    """
    parser = argparse.ArgumentParser(prog="dosewright plan")
    add_arguments(parser)
    args = parser.parse_args(words)
    return plan_orders(args, _read(args), executor, workers)


def _plan_and_write(args: argparse.Namespace, asked: Asked, parts: InMemory | WorkFolder, executor: Executor, workers: int) -> int:
    given = asked.given
    already = sum(len(list(parts.lines(number))) for number in parts_of(given) if parts.has(number))
    progress = Progress(given.people, already, always=args.progress)
    try:
        planned = plan_homes(given, parts, Means(executor, 2 * workers, progress.add, args.explain))
    finally:
        progress.end()
    head = Plan(planned.basis, given.request.first, given.request.days, given.request.profile.name, given.request.format.name, (), ())
    sheets = _Sheets() if args.no_paper else _sheets(head, planned, asked, executor)
    _write(args.out, head, planned, given, sheets)
    grave = _report((one for one in _told(given, planned, sheets) if one.severity != Severity.NOTE), args.out)
    for line in planned.explained():
        print(line)
    return 1 if grave else 0


@dataclass(frozen=True, slots=True)
class _Sheets:
    """The paper by file name, and what was found while drawing it."""

    files: Mapping[str, bytes] = field(default_factory=dict)
    told: tuple[Told, ...] = ()


def _sheets(head: Plan, planned: Planned, asked: Asked, executor: Executor) -> _Sheets:
    """Drawn from what the plan file says."""
    plan = replace(head, people=tuple(parse_person(line, asked.given.request.medicines) for line in planned.people()))
    files, found = draw_paper(plan, asked.given, planned.doubted, asked.more, executor)
    return _Sheets(files, tell(found))


def _told(given: PlanInput, planned: Planned, sheets: _Sheets) -> Iterator[Told]:
    """Everything that was found, in the order of the files."""
    return chain(tell((*given.findings, *findings_of_request(given.request))), planned.told(), sheets.told)


def _write(folder: str, head: Plan, planned: Planned, given: PlanInput, sheets: _Sheets) -> None:
    """All files, and one line of counts."""
    plan = plan_text(head, planned.people(), (one.text for one in _told(given, planned, sheets)))
    findings = findings_text(one.text for one in _told(given, planned, sheets))
    pieces = {"plan.json": map(str.encode, plan), "findings.json": map(str.encode, findings)}
    write_folder(folder, {**pieces, **sheets.files}, instead_of=EVERY_PAPER)
    print(f"{given.people} people, {planned.cards} cards, {planned.cavities} filled cavities: {folder}")


def _read(args: argparse.Namespace) -> Asked:
    setting = read_setting(args, args.first, args.days, args.profile, args.card_format)
    last = read_last_cycle(args.last_cycle, setting.request.medicines)
    if args.no_paper and not args.shorten and (in_parts := read_in_parts(args, setting, last.places)):
        return Asked(in_parts)
    given = with_orders(args, setting)
    request = replace(given.request, places=last.places)
    kept = plan_what_keeps(request)[1] if args.shorten else request
    given = replace(given, request=kept, findings=(*given.findings, *what_was_cut(request, kept)))
    return Asked(given, _more(args, given, last))


def _more(args: argparse.Namespace, given: PlanInput, last: LastCycle) -> More:
    """The sheets that are only drawn when they are asked for. They bear the day of preparation: the same input gives the same bytes."""
    size = SIZES[args.person_sheet] if args.person_sheet else None
    person = PersonSheet(size, args.person_lang, given.request.prepared_on, last.products) if size else None
    return More(person, check=args.check_sheet)


def _report(grave: Iterable[Told], folder: str) -> int:
    """The first of what needs a person, on standard error; how many there are."""
    many = 0
    for many, one in enumerate(grave, start=1):
        if many <= _MOST_SHOWN:
            print(one.line, file=sys.stderr)
    if many > _MOST_SHOWN:
        print(f"… and {many - _MOST_SHOWN} more, in {folder}/findings.json", file=sys.stderr)
    return many

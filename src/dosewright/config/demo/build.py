"""Build the whole demonstration into a folder, day by day, each step with its count. Django is set up before this is imported."""

from datetime import date
from pathlib import Path

from django.core.management import call_command

from dosewright.cli.files import write_folder
from dosewright.config.demo.bench import Bench
from dosewright.config.demo.opening import confirm_what_is_clear, open_pharmacy, receive_files, receive_lots
from dosewright.config.demo.sources import catalogue, people
from dosewright.config.demo.week import Planned, change_an_order, plan_everybody, print_everything, work_at_the_bench
from dosewright.core.interop.plan_json import format_plan
from dosewright.store.cards import load_set
from dosewright.store.papers import load_papers
from dosewright.store.unused import load_waiting_unused

__all__ = ["build"]

_MONDAY, _TUESDAY, _WEDNESDAY, _THURSDAY = (date(2026, 2, day) for day in (23, 24, 25, 26))
_CHANGED = 4  # whose order changes, counted among the printed sets: one that is filled and not yet checked


def build(folder: Path) -> None:
    """Tables, then the week. Prints a line a step."""
    call_command("migrate", verbosity=0)
    bench = Bench(_MONDAY)
    open_pharmacy(bench)
    orders, findings = receive_files(bench)
    _say("Monday", f"{len(catalogue())} medicines, {len(people())} people, {orders} orders came in; {findings} findings about the files")
    bench.begin(_TUESDAY)
    _say("Tuesday", f"{receive_lots(bench)} lots came in")
    confirmed, waiting = confirm_what_is_clear(bench)
    _say("", f"{confirmed} directions confirmed by the pharmacist, {waiting} wait for you")
    _say("", f"{len(load_waiting_unused())} orders that could not be used wait for you")
    bench.begin(_WEDNESDAY)
    planned = plan_everybody(bench)
    cards = sum(len(load_set(set_id).cards) for set_id in planned.sets)
    _say("Wednesday", f"{len(planned.sets)} sets planned, {cards} cards; {len(planned.left)} people wait for you")
    printed = print_everything(bench, planned.sets)
    _say("", f"{len(printed)} sets printed")
    bench.begin(_THURSDAY)
    _work(bench, printed)
    _write(folder, planned)


def _work(bench: Bench, printed: tuple[int, ...]) -> None:
    done = work_at_the_bench(bench, printed)
    _say("Thursday", ", ".join(f"{count} cards {deed}" for deed, count in done.items()))
    change_an_order(bench, printed[_CHANGED])
    _say("", "an order changed: its cards are out of date until you decide")


def _write(folder: Path, planned: Planned) -> None:
    """What was printed, byte for byte, and each plan as a file."""
    found = [load_set(set_id) for set_id in planned.sets]
    sheets = {f"{one.person.id}-{sheet.kind}.pdf": sheet.pdf for one in found for sheet in load_papers(one.id)}
    write_folder(str(folder / "paper"), sheets)
    plans = {f"{one.person.id}.json": format_plan(one.plan, {one.person.id: one.person.name}, one.plan.findings) for one in found}
    write_folder(str(folder / "plans"), {name: text.encode() for name, text in plans.items()})


def _say(day: str, what: str) -> None:
    print(f"{day:<10} {what}", flush=True)

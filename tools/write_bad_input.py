"""Write docs/bad-input.md: every bad input that is tried, and what `dosewright plan` answers to it. `python -m tools.write_bad_input`."""

import contextlib
import io
import os
import tempfile
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from tests.cli.bad_inputs import BAD_MEDICINES, BAD_OPTIONS, BAD_ORDERS, GOOD_ORDERS
from tests.core.interop.interop_makers import MEDICINES

from dosewright.config.command import main

__all__ = ["KEPT", "Answer", "answers", "page", "try_plan"]

PAGE = Path(__file__).resolve().parent.parent / "docs" / "bad-input.md"
KEPT = "what stood there before"  # in the results' folder, to see whether anything was touched
HEAD = """# Bad input

Everything below is tried with `dosewright plan` on every build, with right orders and medicines where the row does not spoil them.
Exit 2: the input cannot be read; one sentence, and nothing is written, not even beside what an earlier run left.
Exit 1: a part can be used; it is, and the findings name the rest (the first one is shown).
Made from the program's own answers by `python -m tools.write_bad_input`.

| input | answer | exit |
| --- | --- | --- |
"""


@dataclass(frozen=True, slots=True)
class Answer:
    """What the command said about one bad input: its exit code, its lines on standard error, and the files in the results' folder."""

    name: str
    exit_code: int
    lines: tuple[str, ...]
    files: dict[str, str]


def page() -> str:
    """The whole page, inputs in the order in which they are tried."""
    return HEAD + "".join(f"| {_cell(one.name)} | {_cell(_sentence(one))} | {one.exit_code} |\n" for one in answers())


def answers() -> Iterator[Answer]:
    """Try every bad input, each in a folder of its own."""
    for name, orders in BAD_ORDERS.items():
        yield try_plan(name, orders, MEDICINES)
    for name, medicines in BAD_MEDICINES.items():
        yield try_plan(name, GOOD_ORDERS, medicines)
    for name, options in BAD_OPTIONS.items():
        yield try_plan(name, GOOD_ORDERS, MEDICINES, options)


def try_plan(name: str, orders: str | bytes | Callable[[Path], None], medicines: str, options: Sequence[str] = ()) -> Answer:
    """Run the command on these files; the results' folder holds a plan of an earlier run already."""
    with tempfile.TemporaryDirectory() as folder, contextlib.chdir(folder):
        _lay(Path("orders"), orders)
        Path("medicines.csv").write_text(medicines, "utf-8")
        Path("out").mkdir()
        Path("out", "plan.json").write_text(KEPT, "utf-8")
        code, said = _run(
            ["plan", "orders", "--medicines", "medicines.csv", "--from", "2026-03-02", "--days", "28", "--out", "out", *options]
        )
        files = {entry: _held(Path("out", entry)) for entry in sorted(os.listdir("out"))}
    return Answer(name, code, tuple(said.splitlines()), files)


def _lay(path: Path, content: str | bytes | Callable[[Path], None]) -> None:
    if callable(content):
        content(path)
    else:
        path.write_bytes(content.encode("utf-8") if isinstance(content, str) else content)


def _run(words: Sequence[str]) -> tuple[int, str]:
    said = io.StringIO()
    with contextlib.redirect_stderr(said), contextlib.redirect_stdout(io.StringIO()):
        try:
            return main(words), said.getvalue()
        except SystemExit as stopped:  # argparse: bad usage
            return int(stopped.code or 0), said.getvalue()


def _held(path: Path) -> str:
    return path.read_bytes().decode("utf-8", "replace")


def _sentence(answer: Answer) -> str:
    """The one sentence of a refusal, without the command's name; the first finding of the rest."""
    line = answer.lines[-1] if answer.exit_code == 2 else answer.lines[0]
    for start in ("dosewright plan: error: ", "dosewright plan: "):
        line = line.removeprefix(start)
    return line


def _cell(text: str) -> str:
    return text.replace("|", "\\|")


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")

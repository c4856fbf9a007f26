"""`dosewright demo`: build Tern Street Pharmacy from nothing, by the same actions that the bench uses, then serve it.

Comes in: a folder of its own (out/demo). Goes out: a store at `store/`, the files that came in at `received/`, every sheet of paper at
`paper/`, and how to sign in. Built again, it is the same. It lives in the week before Monday 2 March 2026, at the visitor's time of day.
"""

import argparse
import importlib
import os
import shutil
from datetime import UTC, date
from pathlib import Path

import django

from dosewright.cli.files import Unreadable, write_folder
from dosewright.config.demo.files import demo_files
from dosewright.config.demo.staff import PASSWORD, STAFF
from dosewright.devices.clock import SystemClock

__all__ = ["VISITOR_DAY", "add_arguments", "run"]

VISITOR_DAY = date(2026, 2, 27)  # the Friday before the cycle; what was built before it happened from Monday to Thursday
_MARK = ".tern-street"  # in a folder that this command made and may make anew

_EXAMPLE = """example:
  dosewright demo                       build, then serve at http://127.0.0.1:8000
  dosewright demo --no-serve            build only, into out/demo
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Where to, and whether to serve."""
    parser.epilog = _EXAMPLE
    parser.add_argument("--out", default="out/demo", metavar="DIR", help="folder of its own; what an earlier demo left there is replaced")
    parser.add_argument("--no-serve", action="store_true", help="build only")


def run(args: argparse.Namespace) -> int:
    """Exit code 0. Raises Unreadable for a folder that holds something else."""
    folder = Path(args.out).absolute()
    _make_room(folder)
    write_folder(str(folder / "received"), demo_files())
    _point_at(folder)
    django.setup()
    importlib.import_module("dosewright.config.demo.build").build(folder)
    _say_how_to_sign_in(folder)
    return 0 if args.no_serve else _serve()


def _make_room(folder: Path) -> None:
    if folder.exists() and any(folder.iterdir()) and not (folder / _MARK).is_file():
        raise Unreadable(f"{folder} holds something that no demo made; name an empty folder with --out.")
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    (folder / _MARK).write_text("This folder is made by `dosewright demo` and is replaced when it runs again.\n", encoding="utf-8")


def _point_at(folder: Path) -> None:
    """The running system's settings, for this process only: a store of its own, whatever the environment says, and the story's days."""
    today = SystemClock().now().astimezone(UTC).date()
    os.environ |= {
        "DOSEWRIGHT_HOME": str(folder / "store"),
        "DATABASE_URL": "",
        "DOSEWRIGHT_CLOCK_DAYS": str((VISITOR_DAY - today).days),
        "DOSEWRIGHT_IDLE_MINUTES": "120",
        "DJANGO_SETTINGS_MODULE": "dosewright.config.settings",
    }


def _say_how_to_sign_in(folder: Path) -> None:
    print(f"\nSign in with the password {PASSWORD} as")
    for member in STAFF:
        print(f"  {member.username:<6} {member.name}, {member.role.value}")
    print(f"\nWhat came in: {folder / 'received'}. Bring in changes.csv to see cards go out of date; bottles.csv has what a scanner types.")
    print(f"What was printed: {folder / 'paper'}. The plans: {folder / 'plans'}.\n", flush=True)


def _serve() -> int:
    command = importlib.import_module("dosewright.config.serve")
    parser = argparse.ArgumentParser()
    command.add_arguments(parser)
    return int(command.run(parser.parse_args([])))

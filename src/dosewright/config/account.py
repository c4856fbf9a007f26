"""`dosewright account add|close|password USERNAME`: who may sign in. The first accounts are made here, before anybody can."""

import argparse
import getpass
import sys

from dosewright.cli.files import Unreadable
from dosewright.config.running import set_up_store
from dosewright.core.custody.event import Role
from dosewright.core.units.ids import HomeId

__all__ = ["add_arguments", "run"]

_EXAMPLE = """example:
  dosewright account add priya --name "Priya Raman" --role pharmacist
  printf '%s' "$PASSWORD" | dosewright account password priya --password-stdin
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What to do, and with whom."""
    parser.epilog = _EXAMPLE
    parser.add_argument("what", choices=("add", "close", "password"))
    parser.add_argument("username")
    parser.add_argument("--name", help="add: the name as it is printed")
    parser.add_argument("--role", choices=[role.value for role in Role], help="add: what they may do")
    parser.add_argument("--home", help="add: the home of a carer, by its id")
    parser.add_argument("--another-because", default="", help="add: how it is known that they are not the one of the same name")
    parser.add_argument("--password-stdin", action="store_true", help="read the password from standard input instead of asking for it")


def run(args: argparse.Namespace) -> int:
    """0: done. Raises Unreadable with the reason where it cannot be."""
    set_up_store()
    return {"add": _add, "close": _close, "password": _password}[args.what](args)


def _add(args: argparse.Namespace) -> int:
    from dosewright.actions.add_account import add_account  # noqa: PLC0415  Django must be set up first
    from dosewright.config.console import at_the_machine, report  # noqa: PLC0415
    from dosewright.store.accounts import NewAccount  # noqa: PLC0415

    if not args.name or not args.role:
        raise Unreadable("add needs --name and --role.")
    who = NewAccount(args.username, args.name, Role(args.role), HomeId(args.home) if args.home else None, args.another_because)
    return report(add_account(args.username, at_the_machine(), who, _ask(args)), f"{args.name} may sign in as {args.username}.")


def _close(args: argparse.Namespace) -> int:
    from dosewright.actions.close_account import close_account  # noqa: PLC0415
    from dosewright.config.console import at_the_machine, report  # noqa: PLC0415

    return report(close_account(args.username, at_the_machine()), f"{args.username} may sign in no more.")


def _password(args: argparse.Namespace) -> int:
    from dosewright.actions.set_password import set_password  # noqa: PLC0415
    from dosewright.config.console import at_the_machine, report  # noqa: PLC0415

    return report(set_password(args.username, at_the_machine(), _ask(args)), f"{args.username} has a new password.")


def _ask(args: argparse.Namespace) -> str:
    if args.password_stdin:
        return sys.stdin.readline().rstrip("\r\n")
    first, again = getpass.getpass("Password: "), getpass.getpass("The same again: ")
    if first != again:
        raise Unreadable("the two passwords differ.")
    return first

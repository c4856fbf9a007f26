"""`dosewright pharmacy`: set the pharmacy of this store up, or change its particulars or its rules."""

import argparse
import secrets

from dosewright.cli.files import Unreadable, read_text
from dosewright.config.running import set_up_store
from dosewright.core.interop.json_text import JsonError
from dosewright.core.interop.timetable_json import TimetableError, parse_timetable
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE, Timetable
from dosewright.devices.shipped import shipped_names

__all__ = ["add_arguments", "run"]

_EXAMPLE = """example:
  dosewright pharmacy --name "Tern Street Pharmacy" --address "33 Tern Street, Ternmouth" --phone "01632 960 471" --country GB --profile uk
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The particulars that every label bears, and which of the shipped rules to begin with."""
    parser.epilog = _EXAMPLE
    for name, meaning in (("name", "as labels print it"), ("address", "in one line"), ("phone", "as labels print it")):
        parser.add_argument(f"--{name}", required=True, help=meaning)
    parser.add_argument("--registration", default="", help="its number, where labels need one")
    parser.add_argument("--country", required=True, metavar="CC", help="ISO 3166 code: settles how directions are read")
    parser.add_argument("--profile", required=True, choices=[name.removesuffix(".toml") for name in shipped_names("profiles")])
    parser.add_argument("--format", default="seven-by-four", choices=[name.removesuffix(".toml") for name in shipped_names("formats")])
    parser.add_argument("--timetable", metavar="FILE", help="its dosing times; without it 08:00, 12:00, 18:00 and 22:00")


def run(args: argparse.Namespace) -> int:
    """0: set up. Raises Unreadable where something cannot be used. Sets planned before keep their rules."""
    timetable = _timetable(args.timetable)
    set_up_store()
    from dosewright.actions.set_up_pharmacy import set_up_pharmacy  # noqa: PLC0415  Django must be set up first
    from dosewright.actions.shipped_rules import load_shipped_rules  # noqa: PLC0415
    from dosewright.config.console import at_the_machine, report  # noqa: PLC0415
    from dosewright.store.pharmacy import StoredPharmacy, find_pharmacy  # noqa: PLC0415

    texts, known = load_shipped_rules(args.profile, args.format), find_pharmacy()
    salt = known.salt if known else secrets.token_urlsafe(32)
    pharmacy = StoredPharmacy(args.name, args.address, args.phone, args.registration, args.country.upper(), salt, texts.sha256)
    return report(set_up_pharmacy(args.name, at_the_machine(), pharmacy, texts, timetable), f"{args.name} is set up.")


def _timetable(path: str | None) -> Timetable:
    if path is None:
        return STANDARD_TIMETABLE
    try:
        return parse_timetable(read_text(path))
    except (TimetableError, JsonError) as error:
        raise Unreadable(f"{path}: {error}") from error

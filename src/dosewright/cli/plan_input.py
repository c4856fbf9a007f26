"""Everything that `plan` and `verify` read: orders, medicines, rules, dosing times, days. One description of the arguments for both.

Comes in: parsed arguments. Goes out: a `PlanInput`. What cannot be read at all is `Unreadable`, before anything is written; what a person
can mend is in the findings, and the rest is used.
"""

import argparse
import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from typing import TypeVar

from dosewright.cli.files import Unreadable, read_text
from dosewright.cli.waiting import Waiting
from dosewright.core.interop.card_format_toml import parse_card_format
from dosewright.core.interop.csv_text import CsvError
from dosewright.core.interop.fhir_bundle import NotABundle, parse_bundle
from dosewright.core.interop.json_text import JsonError
from dosewright.core.interop.medicine_csv import Catalogue, parse_medicines
from dosewright.core.interop.order_csv import parse_orders
from dosewright.core.interop.orders_in import OrdersIn, OrderSource
from dosewright.core.interop.profile_toml import parse_profile
from dosewright.core.interop.suitability_toml import parse_pairs, parse_rules
from dosewright.core.interop.timetable_json import TimetableError, parse_timetable
from dosewright.core.interop.toml_text import TomlError
from dosewright.core.packing.profile import Profile
from dosewright.core.packing.request import PlanRequest
from dosewright.core.paper.label_lines import with_label_lines
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE, Timetable
from dosewright.core.units.finding import Finding, Severity
from dosewright.devices.definitions import load_definitions
from dosewright.devices.fonts import load_fonts
from dosewright.devices.shipped import read_shipped, shipped_names

__all__ = [
    "DEFAULT_FORMAT",
    "DEFAULT_PROFILE",
    "PlanInput",
    "Setting",
    "add_input_arguments",
    "cycle_days",
    "day",
    "read_input",
    "read_setting",
    "with_orders",
]

DEFAULT_FORMAT = "seven-by-four"
DEFAULT_PROFILE = "uk"
_LONGEST_CYCLE = 366  # days; the longest supply that a shipped profile allows is far below it
_EARLIEST, _LATEST = date(1900, 1, 1), date(2100, 1, 1)
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")
_Made = TypeVar("_Made")


@dataclass(frozen=True, slots=True)
class PlanInput:
    """What a plan is made from. `findings` are those of the files; `orders` says which orders they are about.

    With `waiting` the people are there, packed, and neither in the request nor in `orders`.
    """

    request: PlanRequest
    orders: OrdersIn
    findings: tuple[Finding, ...]
    waiting: Waiting | None = None

    @property
    def people(self) -> int:
        """How many."""
        return sum(self.waiting.people) if self.waiting else len(self.request.people)


def add_input_arguments(parser: argparse.ArgumentParser) -> None:
    """The options that `plan` and `verify` share."""
    add = parser.add_argument
    add("orders", metavar="ORDERS", help="FHIR R4 Bundle (JSON) or orders CSV; - is standard input")
    add("--medicines", metavar="CSV", help="medicines CSV; without it no code is known, and every order is a finding")
    add("--timetable", metavar="FILE", help="dosing times; without it morning 08:00, noon 12:00, evening 18:00, bedtime 22:00")
    add("--prepared", metavar="DATE", type=day, help="day of packing, from which beyond-use dates run (default: the first day)")
    add("--lang", default="en", metavar="CODE", help="language of directions in words (default: en)")
    add("--country", metavar="CODE", help="country of directions in words (default: the profile's)")


def read_input(args: argparse.Namespace, first: date, days: int, profile: str, card_format: str) -> PlanInput:
    """Read every file the arguments name. `profile` and `card_format` are names of shipped ones, or paths."""
    return with_orders(args, read_setting(args, first, days, profile, card_format))


@dataclass(frozen=True, slots=True)
class Setting:
    """Everything that a plan is made from but the orders: a request of nobody, what a reader of orders is told, the files' findings."""

    request: PlanRequest
    source: OrderSource
    findings: tuple[Finding, ...]


def read_setting(args: argparse.Namespace, first: date, days: int, profile: str, card_format: str) -> Setting:
    """Read every file but the orders."""
    chosen = _read_profile(profile)
    catalogue = _read_medicines(args.medicines)
    prepared = args.prepared or first
    forms, products, together = (read_shipped("suitability", f"{name}.toml") for name in ("forms", "products", "pairs"))
    pairs, spacings = parse_pairs(together)
    request = PlanRequest(
        people=(),
        orders=(),
        medicines=catalogue.by_code(),
        format=_read_named("formats", card_format, parse_card_format),
        profile=chosen,
        first=first,
        days=days,
        prepared_on=prepared,
        rules=parse_rules(forms, products),
        pairs=pairs,
        spacings=spacings,
        timetable=_read_timetable(args.timetable),
    )
    country = args.country if args.country is not None else chosen.country
    source = OrderSource(_shown(args.orders), request.medicines, args.lang, country, prepared)
    return Setting(request, source, (*_no_medicines(args.medicines), *catalogue.findings))


def with_orders(args: argparse.Namespace, setting: Setting) -> PlanInput:
    """Read the orders too."""
    orders = _read_orders(args, setting.source)
    request = replace(setting.request, people=orders.people, orders=tuple(received.order for received in orders.received))
    # Cavities are planned no fuller than their labels can say; `verify` reads the same way, so its plan has the same fingerprint.
    request = with_label_lines(request, load_fonts())
    return PlanInput(request, orders, (*setting.findings, *orders.findings))


def _read_orders(args: argparse.Namespace, source: OrderSource) -> OrdersIn:
    """JSON is a FHIR bundle, anything else the orders CSV: the content decides, not the file's name."""
    name = source.file
    text = read_text(args.orders)
    if not text.strip():
        raise Unreadable(f"{name} is empty; a FHIR R4 Bundle or an orders CSV with a header is wanted.")
    try:
        return parse_bundle(text, source, load_definitions()) if text.lstrip()[:1] in ("{", "[") else parse_orders(text, source)
    except (JsonError, CsvError) as error:
        raise Unreadable(f"{name}, {error}") from error
    except NotABundle as error:
        raise Unreadable(f"{name}: {error}") from error


def _read_medicines(path: str | None) -> Catalogue:
    if path is None:
        return Catalogue((), ())
    try:
        return parse_medicines(read_text(path), _shown(path))
    except CsvError as error:
        raise Unreadable(f"{_shown(path)}, {error}") from error


def _no_medicines(path: str | None) -> tuple[Finding, ...]:
    return (Finding("order.no-medicines-file", Severity.STOP),) if path is None else ()


def _read_timetable(path: str | None) -> Timetable:
    if path is None:
        return STANDARD_TIMETABLE
    try:
        return parse_timetable(read_text(path))
    except (JsonError, TimetableError) as error:
        raise Unreadable(f"{_shown(path)}: {error}") from error


def _read_profile(named: str) -> Profile:
    return _read_named("profiles", named, parse_profile)


def _read_named(kind: str, named: str, parse: Callable[[str], _Made]) -> _Made:
    """A shipped file by its name, or any other by its path."""
    shipped = [name.removesuffix(".toml") for name in shipped_names(kind) if name.endswith(".toml")]
    if named not in shipped and not ("/" in named or named.endswith(".toml")):
        raise Unreadable(f'"{named}" is none of the {kind} that ship ({", ".join(shipped)}); name one of them, or a .toml file.')
    try:
        return parse(read_shipped(kind, f"{named}.toml") if named in shipped else read_text(named))
    except TomlError as error:
        raise Unreadable(f"{named}, {error}") from error


def _shown(path: str) -> str:
    return "standard input" if path == "-" else path


def day(text: str) -> date:
    """An argument that is a day. Raises ArgumentTypeError."""
    try:
        found = date.fromisoformat(text) if _DAY.fullmatch(text) else None
    except ValueError:
        found = None
    if found is None or not _EARLIEST <= found <= _LATEST:
        raise argparse.ArgumentTypeError(f"{text!r} is not a day from {_EARLIEST} to {_LATEST}, such as 2026-03-02")
    return found


def cycle_days(text: str) -> int:
    """An argument that is a number of days. Raises ArgumentTypeError."""
    if not (text.isascii() and text.isdigit() and len(text) <= 4 and 1 <= int(text) <= _LONGEST_CYCLE):
        raise argparse.ArgumentTypeError(f"{text!r} is not a number of days from 1 to {_LONGEST_CYCLE}")
    return int(text)

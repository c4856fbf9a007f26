"""`dosewright trace LOT|CARD`: from a lot to every card, person and cavity that holds it, or from a card to the lots in it."""

import argparse
from collections.abc import Iterable
from typing import TYPE_CHECKING

from dosewright.cli.files import Unreadable
from dosewright.config.running import set_up_django
from dosewright.core.supply.account import Account, LotKey
from dosewright.core.supply.movement import Place
from dosewright.core.units.ids import CardNumber, Lot
from dosewright.core.units.quantity import format_amount

if TYPE_CHECKING:
    from dosewright.store.tracing import Traced

__all__ = ["add_arguments", "run"]

_PLACES = (Place.STOCK, Place.CARD, Place.GIVEN, Place.RETURNED, Place.WASTE)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """A lot or a card's number."""
    parser.epilog = "example:\n  dosewright trace K2207\n  dosewright trace '20417 55310 99218'\n"
    parser.add_argument("name", metavar="LOT|CARD", help="a lot as on the bottle, or a card's number, with or without blanks")


def run(args: argparse.Namespace) -> int:
    """0: something was found. Raises Unreadable where nothing has that name."""
    set_up_django()
    from dosewright.store.tracing import is_card, trace_card, trace_lot  # noqa: PLC0415  Django must be set up first

    number = "".join(args.name.split())
    if is_card(number):
        _print_units(trace_card(CardNumber(number)))
        return 0
    units, accounts = trace_lot(Lot(args.name.strip()))
    if not accounts:
        raise Unreadable(f"no lot and no card is called {args.name}; look at the bottle, or scan the card.")
    for key, account in sorted(accounts.items()):
        _print_account(key, account)
    _print_units(units)
    return 0


def _print_account(key: LotKey, account: Account) -> None:
    where = ", ".join(f"{format_amount(account.at(place))} {place.value}" for place in _PLACES)
    print(f"{key[0]} lot {key[1]}: {format_amount(account.received)} received; {where}")


def _print_units(units: Iterable["Traced"]) -> None:
    for unit in units:
        place = f"row {unit.row} column {unit.column}, {unit.day.isoformat()} {unit.time:%H:%M} {unit.slot}"
        what = f"{format_amount(unit.amount)} {unit.medicine} lot {unit.lot} expires {unit.expiry.isoformat()}"
        print(f"card {unit.card} ({unit.stage.value}) {unit.person.name}: {place}: {what}")

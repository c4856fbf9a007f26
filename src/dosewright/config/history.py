"""`dosewright history CARD|NAME`: everything on record about one card, or the cards of whoever has that name."""

import argparse
from collections.abc import Iterator
from typing import TYPE_CHECKING

from dosewright.cli.files import Unreadable
from dosewright.config.running import set_up_django
from dosewright.core.packing.card_number import format_card_number
from dosewright.core.units.ids import CardNumber

if TYPE_CHECKING:
    from dosewright.web.card_history import CardHistory

__all__ = ["add_arguments", "run"]

_MOST = 200  # cards listed for a name


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """A card's number, or part of a name."""
    parser.epilog = "example:\n  dosewright history '20417 55310 99218'\n  dosewright history Okonedo\n"
    parser.add_argument("name", metavar="CARD|NAME", help="a card's number, with or without blanks, or part of its person's name")


def run(args: argparse.Namespace) -> int:
    """0: found; 1: found, and an entry does not match its own hash. Raises Unreadable where no card has that number or name."""
    set_up_django()
    from dosewright.store.card_history import find_cards  # noqa: PLC0415  Django must be set up first
    from dosewright.web.card_history import gather_history  # noqa: PLC0415

    found = find_cards(args.name, _MOST)
    if not found:
        raise Unreadable(f"no card has the number {args.name}, and nobody with a card has this name; scan the card, or look at its header.")
    if len(found) > 1:
        for one in found:
            print(
                f"{format_card_number(one.number)}  {one.person.name}  {one.first.isoformat()} to {one.last.isoformat()}  {one.stage.value}"
            )
        return 0
    history = gather_history(found[0].number)
    print("\n".join(_lines(history)))
    return 1 if history.unsound else 0


def _lines(history: "CardHistory") -> Iterator[str]:
    whose = ", ".join((history.strip.whose, *history.strip.facts))
    stale = " and out of date" if history.out_of_date else ""
    yield f"card {format_card_number(CardNumber(history.number))}: {whose}"
    days = f"{history.first.isoformat()} to {history.last.isoformat()}, not after {history.beyond_use.isoformat()}"
    yield f"is {history.stage.value}{stale}; {days}"
    yield f"planned {history.planned_at.isoformat()} by {history.planned_by}; plan {history.basis}; rules {history.rules}"
    yield from (f"{one.deed}: {'; '.join(one.who)}" for one in history.hands)
    yield "orders:"
    yield from (f"  {one.id}: {one.medicine}: {one.text or 'no text'} ({one.settled}, {one.span})" for one in history.orders)
    yield "in it now:"
    yield from (
        f"  {one.amount} of {one.medicine}, lot {one.lot}, expires {one.expiry.isoformat()}, {one.cavities} cavities"
        for one in history.held
    )
    yield "what happened:"
    for one in history.happened:
        yield f"  {one.sequence} {one.at.isoformat()} {one.station}: {one.what}, {one.who} [{one.finger}]"
        yield from (f"      {line}" for line in one.details)
    yield "paper:"
    yield from (f"  {one.at.isoformat()} {one.title}: sha256 {one.sha256}, plan {one.basis}" for one in history.papers)
    yield from (f"near miss: {line}" for line in history.near_misses)
    yield from (f"entry {sequence} does not match its own hash: the record was changed" for sequence in history.unsound)

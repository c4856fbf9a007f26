"""`dosewright ledger verify|head`: does the record of everything done still hold, by itself and against a head that was kept elsewhere?"""

import argparse
import json
from pathlib import Path

from dosewright.cli.files import Unreadable, read_text, write_folder
from dosewright.config.running import set_up_django
from dosewright.core.custody.chain import Head
from dosewright.core.paper.say import say
from dosewright.core.units.finding import needs_a_person

__all__ = ["add_arguments", "format_head", "parse_head", "run"]

_EXAMPLE = """example:
  dosewright ledger head --out head.json      keep this file outside, signed or on paper
  dosewright ledger verify --head head.json
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """`verify` with an optional head, `head` with an optional file to write."""
    parser.epilog = _EXAMPLE
    parser.add_argument("what", choices=("verify", "head"), help="verify the whole ledger, or show where it ends")
    parser.add_argument("--head", metavar="FILE", help="verify: a head that was exported earlier")
    parser.add_argument("--out", metavar="FILE", help="head: write it to this file instead of standard output")


def run(args: argparse.Namespace) -> int:
    """0: it holds. 1: it is broken, each break in one sentence. Raises Unreadable for a head that is none."""
    set_up_django()
    return _verify(parse_head(args.head) if args.head else None) if args.what == "verify" else _show_head(args.out)


def _verify(exported: Head | None) -> int:
    from dosewright.store.ledger import check_ledger, load_head  # noqa: PLC0415  Django must be set up first

    findings, head = check_ledger(exported), load_head()
    for finding in findings:
        print(f"{finding.severity}: {say(finding)}")
    if needs_a_person(findings):
        return 1
    print(f"The ledger holds: {head.sequence} entries, head {head.hash}.")
    return 0


def _show_head(out: str | None) -> int:
    from dosewright.store.ledger import load_head  # noqa: PLC0415

    text = format_head(load_head())
    if out:
        place = Path(out)
        write_folder(str(place.parent), {place.name: text.encode()})
    else:
        print(text, end="")
    return 0


def format_head(head: Head) -> str:
    """A head as a small JSON file."""
    return json.dumps({"sequence": head.sequence, "hash": head.hash}) + "\n"


def parse_head(path: str) -> Head:
    """The head in a file. Raises Unreadable for anything `format_head` does not write."""
    try:
        said = json.loads(read_text(path))
        return Head(_whole(said["sequence"]), _hex(said["hash"]))
    except (ValueError, TypeError, KeyError) as error:
        raise Unreadable(f'{path} is not a ledger head: {{"sequence": 12, "hash": "64 hex digits"}} is wanted.') from error


def _whole(said: object) -> int:
    if isinstance(said, bool) or not isinstance(said, int) or said < 0:
        raise ValueError(said)
    return said


def _hex(said: object) -> str:
    if not isinstance(said, str) or len(said) != 64 or set(said) - set("0123456789abcdef"):
        raise ValueError(said)
    return said

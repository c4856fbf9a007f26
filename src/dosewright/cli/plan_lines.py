"""A plan file read a person at a time, as it was written: a person stands on a line. Comes in: a path. Goes out: the head and the lines.

A file that is laid out otherwise is right JSON all the same, and is read as a whole: `NotInLines` says that it must be.
"""

import json
import re
from collections.abc import Iterator

from dosewright.cli.files import Unreadable
from dosewright.core.interop.json_text import JsonError, parse_json
from dosewright.core.interop.plan_json import PlanError, parse_plan_head
from dosewright.core.packing.plan_values import Plan
from dosewright.core.units.ids import PersonId

__all__ = ["NotInLines", "person_of", "read_head", "read_people"]

_ID = re.compile(r'\{"id": ("(?:[^"\\]|\\.)*")')


class NotInLines(Exception):
    """The file is not laid out as `plan` writes it."""


def read_head(path: str) -> Plan:
    """What the plan says of itself. Raises NotInLines, Unreadable."""
    first = next(_lines(path), "")
    if not first.endswith(","):
        raise NotInLines
    try:
        return parse_plan_head(first[:-1] + "}")
    except (JsonError, PlanError) as error:
        raise NotInLines from error


def read_people(path: str) -> Iterator[str]:
    """Each person's line. Raises NotInLines at the first thing that stands elsewhere than it should, Unreadable."""
    lines = _lines(path)
    next(lines, "")
    yield from _section(lines, "people", "],")
    for finding in _section(lines, "findings", "]}"):
        try:
            parse_json(finding)
        except JsonError as error:
            raise NotInLines from error
    if next(lines, None) is not None:
        raise NotInLines


def _section(lines: Iterator[str], name: str, end: str) -> Iterator[str]:
    head = next(lines, "")
    if head == f' "{name}": [{end}':
        return
    if head != f' "{name}": [':
        raise NotInLines
    for line in lines:
        if not line.startswith("  {"):
            raise NotInLines
        if line.endswith(f"}}{end}"):
            yield line[2 : -len(end)]
            return
        if not line.endswith("},"):
            raise NotInLines
        yield line[2:-1]
    raise NotInLines


def person_of(line: str) -> PersonId:
    """Whose line it is. Raises NotInLines."""
    found = _ID.match(line)
    if found is None:
        raise NotInLines
    return PersonId(json.loads(found[1]))


def _lines(path: str) -> Iterator[str]:
    try:
        with open(path, encoding="utf-8", newline="\n") as file:
            for line in file:
                yield line.removesuffix("\n")
    except UnicodeDecodeError as error:
        raise NotInLines from error
    except (OSError, ValueError) as error:
        raise Unreadable(f"{path} cannot be read: {getattr(error, 'strerror', None) or error}.") from error

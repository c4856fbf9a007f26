"""A large file of orders, read some people at a time and packed: a CSV on disk in, a `PlanInput` that holds nobody unpacked out.

For plans without paper, which nobody needs whole. Where parts of the file do not say all about their people, nothing comes out, and it is
to be read as a whole: then what is wrong with it is said as always.
"""

import argparse
import hashlib
import os
from array import array
from collections.abc import Iterator, Mapping
from dataclasses import replace

from dosewright.cli import plan_homes
from dosewright.cli.plan_homes import part_digest, part_of, twice_in
from dosewright.cli.plan_input import PlanInput, Setting
from dosewright.cli.waiting import Part, Shelf, Waiting, pack
from dosewright.core.interop.csv_text import CsvError
from dosewright.core.interop.order_csv import RowsRead
from dosewright.core.interop.order_parts import NotByPerson, read_parts
from dosewright.core.interop.orders_in import OrdersIn
from dosewright.core.packing.request import LabelLines, Places, PlanRequest
from dosewright.core.paper.label_lines import least_room, measure_label_lines
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import PersonId
from dosewright.devices.fonts import load_fonts

__all__ = ["read_in_parts"]

_LARGEST = 1024 * 1024 * 1024  # bytes; a hundred thousand people have a tenth of it
_JSON = ("{", "[")


class _Otherwise(Exception):
    """Not a CSV on disk that can be read line by line."""


def read_in_parts(args: argparse.Namespace, setting: Setting, places: Mapping[PersonId, Places]) -> PlanInput | None:
    """As many people a part as are planned at a time. None where the file must be read as a whole."""
    everyone = _Everyone(replace(setting.request, places=places))
    try:
        for read in read_parts(_lines(args.orders), setting.source, plan_homes.CHUNK):
            everyone.add(read)
    except (_Otherwise, NotByPerson, CsvError, OSError, ValueError):  # ValueError: not UTF-8, or a path with a NUL in it
        return None
    return everyone.given(setting)


def _lines(path: str) -> Iterator[str]:
    """With their ends as they stand, and without a byte-order mark."""
    if not os.path.isfile(path) or os.path.getsize(path) > _LARGEST:
        raise _Otherwise
    with open(path, encoding="utf-8-sig", newline="") as file:
        if file.read(4096).lstrip()[:1] in ("", *_JSON):
            raise _Otherwise
        file.seek(0)
        for line in file:
            if "\0" in line:
                raise _Otherwise
            yield line


class _Everyone:
    """What the parts come to: packed people, the files' findings in their order, and the room that the longest name leaves on a label."""

    def __init__(self, nobody: PlanRequest) -> None:
        self._nobody = nobody
        self._fonts = load_fonts()
        self._parts = Shelf()
        self._people = array("L")
        self._found: tuple[list[Finding], ...] = ([], [], [])
        self._digest = hashlib.sha256()
        self._room: int | None = None

    def add(self, read: RowsRead) -> None:
        orders = tuple(one.order for one in read.received)
        request = part_of(replace(self._nobody, people=read.people, orders=orders), read.people)
        part = Part(request, frozenset(one.order.id for one in read.received if not one.settled), twice_in(read.by_medicine))
        self._digest.update(part_digest(part))
        self._parts.add(pack(part))
        self._people.append(len(read.people))
        for kind, found in zip(self._found, (read.by_row, read.by_line, read.by_medicine), strict=True):
            kind.extend(found)
        if read.people:
            room = least_room(replace(self._nobody, people=read.people), self._fonts)
            self._room = room if self._room is None else min(self._room, room)

    def given(self, setting: Setting) -> PlanInput:
        of_nobody = measure_label_lines(setting.request, self._fonts)
        lines = of_nobody if self._room is None else LabelLines(self._room, of_nobody.needed)
        findings = (*setting.findings, *(found for kind in self._found for found in kind))
        waiting = Waiting(self._parts, self._people, self._digest.hexdigest())
        return PlanInput(replace(setting.request, label_lines=lines), OrdersIn(), findings, waiting)

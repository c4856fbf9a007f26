"""A large orders file some people at a time: lines of CSV in, what some people's rows give out, part after part, in the file's order.

What the parts give together is what `parse_orders` gives of the whole, where each person's rows stand together and no order number is two
people's: both are checked on the way, in eight bytes for each person and order. Where it is not so, the file must be read as a whole.
"""

from array import array
from collections.abc import Iterable, Iterator
from itertools import groupby

from dosewright.core.interop.csv_text import CsvRow, iter_csv
from dosewright.core.interop.order_csv import ORDER_COLUMNS, REQUIRED_COLUMNS, RowsRead, read_rows
from dosewright.core.interop.orders_in import OrderSource

__all__ = ["NotByPerson", "read_parts"]


class NotByPerson(Exception):
    """A person's rows do not stand together, or an order number occurs for two people: parts of the file do not say all about either."""


def read_parts(lines: Iterable[str], source: OrderSource, size: int) -> Iterator[RowsRead]:
    """So many people at a time. Raises CsvError as `parse_orders` does, and NotByPerson, if need be at the very end: nothing that the parts
    gave may be used before. NUL is the caller's to refuse."""
    people, orders = _Different(), _Different()
    for rows in _of_people(iter_csv(lines, ORDER_COLUMNS, REQUIRED_COLUMNS), size):
        read = read_rows(rows, source)
        people.add(person for person, _ in groupby(row["person"] for row in rows) if person)
        orders.add({row["order"] for row in rows if row["order"]} | {one.order.id for one in read.received})
        yield read
    if not (people.all_differ() and orders.all_differ()):
        raise NotByPerson


def _of_people(rows: Iterable[CsvRow], size: int) -> Iterator[list[CsvRow]]:
    """The rows of so many people, as they follow each other."""
    held: list[CsvRow] = []
    for at, (_, group) in enumerate(groupby(rows, key=lambda row: row["person"])):
        if at and at % size == 0:
            yield held
            held = []
        held += group
    if held:
        yield held


class _Different:
    """Whether many texts all differ. Only a number is kept of each: two that differ are, hardly ever, taken for the same, and never two
    that are the same for different."""

    _SHELVES = 256  # looked through one after the other, so that few are in memory twice

    def __init__(self) -> None:
        self._numbers = [array("q") for _ in range(self._SHELVES)]

    def add(self, texts: Iterable[str]) -> None:
        for text in texts:
            number = hash(text)
            self._numbers[number % self._SHELVES].append(number)

    def all_differ(self) -> bool:
        return all(len(set(shelf)) == len(shelf) for shelf in self._numbers)

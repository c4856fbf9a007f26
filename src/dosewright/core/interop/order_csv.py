"""The orders file → people and orders. Comes in: CSV text. Goes out: `OrdersIn`; every wrong field is a finding with its line.

One row is one order; its directions are words, and are read as words always are. `start` is the first day (or moment), and the day from
which rhythms and courses run; `stop` is the last day, which still counts, or a moment from which the order counts no more. Rows with one
order number are one line of treatment: each counts until the next one's start. A row that is wrong is not used; the others are.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, time
from itertools import pairwise

from dosewright.core.interop.characters import shown
from dosewright.core.interop.csv_text import CsvRow, parse_csv
from dosewright.core.interop.directions import findings_of_reading, read_directions
from dosewright.core.interop.large_amounts import check_large_amounts
from dosewright.core.interop.lines import Replacement, check_same_medicine, replace_earlier
from dosewright.core.interop.orders_in import OrdersIn, OrderSource, ReceivedOrder
from dosewright.core.interop.row_reader import RowReader
from dosewright.core.interop.words_received import words_of_fields
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.regimen.order import Order
from dosewright.core.regimen.reading.reading_values import ReadingStatus
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Fact, Finding
from dosewright.core.units.ids import HomeId, MedicineCode, OrderId, PersonId
from dosewright.core.units.person import Person

__all__ = ["ORDER_COLUMNS", "REQUIRED_COLUMNS", "RowsRead", "parse_orders", "read_rows"]

ORDER_COLUMNS = ("person", "name", "born", "home", "room", "order", "medicine", "directions", "start", "stop", "prescriber", "rx_no")
REQUIRED_COLUMNS = frozenset({"person", "name", "order", "medicine", "directions"})
_SAME = ("name", "born", "home", "room")  # what every row of one person must say alike
_OF_PERSON = ("person", *_SAME)
_LONGEST_DIRECTIONS = 2000


@dataclass(slots=True)
class _Line:
    """One row as far as it is right. `order` is None where it may not be used; its directions are not read yet."""

    row: CsvRow
    reader: RowReader
    person: Person | None
    medicine: Medicine | None
    order: Order | None

    def fault(self, column: str, code: str, **facts: Fact) -> None:
        """Something wrong that only the other rows show. The row is then not used."""
        self.reader.fault(column, code, **facts)
        self.order = None


def parse_orders(text: str, source: OrderSource) -> OrdersIn:
    """Read the whole file. Raises CsvError where it is not the table asked for."""
    read = read_rows(parse_csv(text, ORDER_COLUMNS, REQUIRED_COLUMNS), source)
    return OrdersIn(read.people, read.received, (*read.by_row, *read.by_line, *read.by_medicine), read.words)


@dataclass(frozen=True, slots=True)
class RowsRead:
    """What rows give, as `OrdersIn`; findings by what they are about: single rows, lines of treatment, two orders of one medicine."""

    people: tuple[Person, ...]
    received: tuple[ReceivedOrder, ...]
    by_row: tuple[Finding, ...]
    by_line: tuple[Finding, ...]
    by_medicine: tuple[Finding, ...]
    words: Mapping[str, str]


def read_rows(rows: Iterable[CsvRow], source: OrderSource) -> RowsRead:
    """Read rows that are everything the file says of some people, and of their orders' numbers."""
    known = _Known()
    lines = [_line(row, source, known) for row in rows]
    for group in _grouped(lines, "person"):
        _check_person(group)
    replacements = [said for group in _grouped(lines, "order") for said in _follow(group, source.file)]
    _check_ids(lines)
    received = [_with_directions(line, source) for line in lines]
    kept, replaced = replace_earlier([one for one in received if one], replacements)
    by_row = tuple(finding for line in lines for finding in line.reader.findings)
    people = {line.person.id: line.person for line in lines if line.person}
    words = {str(line.row.line): words_of_fields((line.row["medicine"], line.row["directions"])) for line in lines}
    by_medicine = tuple(check_same_medicine(kept, source.file, source.medicines))
    return RowsRead(tuple(people.values()), kept, by_row, replaced, by_medicine, words)


def _grouped(lines: Iterable[_Line], column: str) -> list[list[_Line]]:
    found: defaultdict[str, list[_Line]] = defaultdict(list)
    for line in lines:
        found[line.row[column]].append(line)
    return [group for value, group in found.items() if value]


_Known = dict[tuple[str, ...], Person]  # a person whose fields were right, by what stands in them


def _line(row: CsvRow, source: OrderSource, known: _Known) -> _Line:
    reader = RowReader(source.file, row, person=shown(row["person"]), order=shown(row["order"]))
    said = tuple([row[column] for column in _OF_PERSON])
    person = known.get(said)
    if person is None and (person := _person(reader, source.on)):
        known[said] = person
    medicine = _medicine(reader, row["medicine"], source.medicines)
    order = _order(reader, person, medicine)
    return _Line(row, reader, person, medicine, order)


def _person(reader: RowReader, on: date | None) -> Person | None:
    known, name = reader.text("person", 60, required=True), reader.text("name", required=True)
    born = reader.day("born")
    if born and on and born > on:
        reader.fault("born", "person.born-later", day=on)
    home, room = reader.text("home"), reader.text("room", 60)
    return Person(PersonId(known), name, born, HomeId(home) if home else None, room) if reader.usable else None


def _medicine(reader: RowReader, code: str, medicines: Mapping[MedicineCode, Medicine]) -> Medicine | None:
    found = medicines.get(MedicineCode(code))
    if reader.text("medicine", required=True) and found is None:
        reader.fault("medicine", "order.unknown-medicine")
    return found


def _order(reader: RowReader, person: Person | None, medicine: Medicine | None) -> Order | None:
    known, words = reader.text("order", 60, required=True), reader.text("directions", _LONGEST_DIRECTIONS, required=True, breaks=True)
    since, until = reader.moment("start"), reader.moment("stop", last_day=True)
    if since and until and until <= since:
        reader.fault("stop", "order.stops-before-start", start=since.day)
    prescriber, rx_no = reader.text("prescriber"), reader.text("rx_no", 60)
    if person is None or medicine is None or not reader.usable:
        return None
    anchor = since.day if since else None
    return Order(OrderId(known), person.id, medicine.code, (), words, since, until, anchor, prescriber, rx_no)


def _check_person(group: Sequence[_Line]) -> None:
    """Rows of one person must say the same of the person; else nobody knows whose orders they are."""
    differing = [column for column in _SAME if len({line.row[column] for line in group}) > 1]
    wrong = differing or any(line.person is None for line in group)
    for line in group:
        for column in differing:
            line.fault(column, "person.differs", rows=tuple(str(one.row.line) for one in group))
        if wrong and not differing and line.person:
            line.fault("person", "person.wrong-elsewhere", rows=tuple(str(one.row.line) for one in group if one.person is None))
    if wrong:
        for line in group:
            line.person = None


def _follow(group: Sequence[_Line], file: str) -> Iterator[Replacement]:
    """Rows of one order number: each counts until the next one's start. Gives the later ones an id of their own."""
    if len(group) == 1:
        return
    if not _is_one_line(group):
        for line in group:
            line.fault("order", "order.twice", rows=tuple(str(one.row.line) for one in group))
        return
    in_time = sorted(group, key=_starts)
    for earlier, later in pairwise(in_time):
        if earlier.order and later.order and later.order.since:
            later.order = replace(later.order, id=OrderId(f"{group[0].row['order']}@{_written(later.order.since)}"))
            where: dict[str, Fact] = {"file": file, "line": later.row.line, "field": "start", "person": later.order.person}
            yield Replacement(earlier.order.id, later.order.id, where)


def _is_one_line(group: Sequence[_Line]) -> bool:
    """One person, one substance, every row right, and every start another moment: only then is it clear what follows what."""
    names = {line.medicine.name.casefold() if line.medicine else "" for line in group}
    people = {line.row["person"] for line in group}
    starts = {_starts(line) for line in group}
    return all(line.order for line in group) and len(people) == 1 and len(names) == 1 and len(starts) == len(group)


def _starts(line: _Line) -> Moment:
    return (line.order.since if line.order else None) or Moment(date.min)


def _written(moment: Moment) -> str:
    return moment.day.isoformat() + (f"T{moment.time:%H:%M}" if moment.time != time(0, 0) else "")


def _check_ids(lines: Sequence[_Line]) -> None:
    """An id that came about as "number@start" may stand in the file already."""
    times = Counter(line.order.id for line in lines if line.order)
    for line in lines:
        if line.order and times[line.order.id] > 1:
            line.fault(
                "order", "order.twice", rows=tuple(str(one.row.line) for one in lines if one.order and one.order.id == line.order.id)
            )


def _with_directions(line: _Line, source: OrderSource) -> ReceivedOrder | None:
    if line.order is None or line.medicine is None:
        return None
    reading = read_directions(line.order.text, line.medicine, source)
    settled = reading.dosages if reading.status is ReadingStatus.READ else ()
    large = check_large_amounts(settled, line.medicine)
    found = tuple(
        replace(one, where={**line.reader.place("directions"), **one.where})
        for one in (*findings_of_reading(reading, line.order.text), *large)
    )
    line.reader.findings += found
    return ReceivedOrder(replace(line.order, dosages=() if large else settled), reading, found)

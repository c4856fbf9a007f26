"""The round list of a home: at one dosing time of one day, what each person is given, from which card or pack, and who gave it.

Comes in: the people of a home, each with the material of their own plans. Goes out: A4 pages and findings; each dosing time begins a sheet.
Whoever has nothing due then is named at the end, so that an empty place is never mistaken for a forgotten one.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time

from dosewright.core.paper.alike import Apart
from dosewright.core.paper.apart_marks import NAME_APART, border_inside, check_second_identifier, inset_of
from dosewright.core.paper.as_needed import limit_words
from dosewright.core.paper.dates import clock, long_day, year_day
from dosewright.core.paper.directions import directions_of, number_style
from dosewright.core.paper.drawn import Drawn, join, once
from dosewright.core.paper.due import Due, check_due, check_known, due_of, orders_on_demand
from dosewright.core.paper.finish import basis_of
from dosewright.core.paper.fit import Block, place_block
from dosewright.core.paper.marks import fingerprint_words
from dosewright.core.paper.material import Material
from dosewright.core.paper.medicine_words import form_beyond_unit, named, named_short, placed_words
from dosewright.core.paper.page import Dial, Line, Page, Place, Rect, Stroke, Zone
from dosewright.core.paper.record_foot import CODES
from dosewright.core.paper.setting import Setting, measure, set_in, setting_of
from dosewright.core.paper.sheet import A4, Frame, Sheet, Strip, frame_strip, number_sheets, whose
from dosewright.core.paper.words import Para, bold, given, given_bold, plain
from dosewright.core.units.finding import Fact, Finding, blocks
from dosewright.core.units.ids import SlotName
from dosewright.core.units.person import Person

__all__ = ["RoundList", "draw_round", "due_words", "round_faults"]

_WHO, _SIGN, _PAD = 60.0, 36.0, 1.6  # mm of a row: the person at the left, the place to sign at the right, clear inside
_LEAD = 16.0  # mm for the dial, the dosing time and how to sign, at the head of each sheet
_LEAST = 15.0  # mm a row
_EDGE = 0.6  # mm from a row's rules to the border of somebody who could be taken for another
_BOX = 8.5  # mm a dose, so that it can be signed


@dataclass(frozen=True, slots=True)
class RoundList:
    """One home's rounds of one day. `slots` names the dosing times wanted (none: all of the day). Each material holds one person."""

    home: str
    day: date
    made: datetime
    people: tuple[Material, ...]
    slots: tuple[SlotName, ...] = ()


@dataclass(frozen=True, slots=True)
class _Row:
    """What stands in a row: the name `above` the rest where it is too long for its place, who it is, what is due."""

    above: Block
    who: Block
    what: Block
    zones: tuple[tuple[tuple[str, ...], float, float], ...]  # about, from and to below the row's text
    height: float
    apart: Apart | None


def draw_round(wanted: RoundList) -> tuple[tuple[Page, ...], tuple[Finding, ...]]:
    """The sheets of all its dosing times, in order of the clock. No page where nothing is due."""
    if not wanted.people:
        return (), ()
    ready = [material for material in wanted.people if not blocks(round_faults(material, wanted))]
    found = [finding for material in wanted.people for finding in round_faults(material, wanted)]
    setting = setting_of(wanted.people[0], wanted.home)
    strip = Strip(whose(wanted.home, ""), _plans(wanted), wanted.people[0].pharmacy, wanted.made)
    frame = frame_strip(Sheet("Round list", "", A4), strip, setting, (Para((bold(long_day(wanted.day)),), 12.0, 9.0),))
    parts: list[Drawn] = []
    for at, slot in _times(wanted, ready):
        rows, faults = _rows(at, slot, wanted, ready)
        found += faults
        parts += _sheets(at, slot, rows, frame, (setting, _nothing(at, slot, wanted, ready)))
    about: dict[str, Fact] = {"person": wanted.home, "sheet": "round"}
    pages = number_sheets([join((frame.edges, part)) for part in parts], frame, A4, setting.fonts, about)
    return pages, once((*frame.edges.findings, *found, *(finding for part in parts for finding in part.findings)))


def _plans(wanted: RoundList) -> str:
    return fingerprint_words(basis_of(material.plan.basis for material in wanted.people))


def round_faults(material: Material, wanted: RoundList) -> tuple[Finding, ...]:
    """Where the person's cards hold otherwise than the orders say on that day: then the person is not on the list."""
    asked = (material.plan.people[0], material, wanted.day, 1)
    return (*check_second_identifier(_who(material).id, material), *check_due(*asked), *check_known(*asked))


def _due(material: Material, wanted: RoundList) -> tuple[Due, ...]:
    return due_of(material.plan.people[0], material, wanted.day, 1)


def _times(wanted: RoundList, ready: Iterable[Material]) -> list[tuple[time, SlotName]]:
    found = {(due.time, due.slot) for material in ready for due in _due(material, wanted)}
    return sorted(one for one in found if not wanted.slots or one[1] in wanted.slots)


def _who(material: Material) -> Person:
    return material.person(material.plan.people[0].person)


def _by_room(materials: Iterable[Material]) -> list[Material]:
    """In order of the rooms as one walks: "2" before "12"; then by name."""

    def place(material: Material) -> tuple[int, str, str]:
        room = _who(material).room
        digits = "".join(letter for letter in room if letter.isdigit())
        return int(digits) if digits else 10**6, room, _who(material).name.casefold()

    return sorted(materials, key=place)


def _rows(at: time, slot: SlotName, wanted: RoundList, ready: Sequence[Material]) -> tuple[list[_Row], list[Finding]]:
    rows: list[_Row] = []
    found: list[Finding] = []
    for material in _by_room(ready):
        due = [one for one in _due(material, wanted) if (one.time, one.slot) == (at, slot)]
        if due:
            row = _row(due, material, wanted)
            rows += [row] if isinstance(row, _Row) else []
            found += [] if isinstance(row, _Row) else row
    return rows, found


def _row(due: Sequence[Due], material: Material, wanted: RoundList) -> _Row | tuple[Finding, ...]:
    setting = setting_of(material, _who(material).id)
    wide = A4[0] - 20.0 - _WHO - _SIGN - 2 * _PAD
    inset = inset_of(material.apart.get(_who(material).id))
    name, others = _who_paras(material)
    who, above = measure((name, *others), _WHO - 2 * _PAD - 2 * inset, setting), Block((), 0.0)
    if isinstance(who, tuple):  # a word of the name is wider than the place for it: the name gets the row's whole width
        who, over = measure(others, _WHO - 2 * _PAD - 2 * inset, setting), measure((name,), A4[0] - 20.0 - 2 * _PAD, setting)
        who, above = (who, replace(over, height=over.height + _PAD)) if isinstance(over, Block) else (over, above)
    parts = [(about, measure(paras, wide, setting)) for about, paras in _what(due, material, wanted)]
    faults = tuple(finding for block in (who, *(block for _, block in parts)) if isinstance(block, tuple) for finding in block)
    if faults or isinstance(who, tuple):
        return faults
    lines, zones, top = [], [], 0.0
    for about, block in parts:
        if isinstance(block, Block):
            high = max(block.height, _BOX) if about else block.height
            down = top + (high - block.height) / 2
            lines += [replace(line, top=line.top + down) for line in block.lines]
            zones += [(about, top, top + high)] if about else []
            top += high + 0.8
    height = max(who.height + 2 * inset, top, _LEAST - 2 * _PAD) + 2 * _PAD
    return _Row(above, who, Block(tuple(lines), top), tuple(zones), height + above.height, material.apart.get(_who(material).id))


def _who_paras(material: Material) -> tuple[Para, tuple[Para, ...]]:
    """The name; then what else tells the person apart, and allergies."""
    who = _who(material)
    born = (Para((plain("born"), given(year_day(who.born))), 9.5, 8.0),) if who.born else ()
    room = (Para((given(f"Room {who.room}"),), 11.0, 9.0),) if who.room else ()
    known = material.allergies.get(who.id, "")
    allergies = (Para((bold("Allergies:"), given(known)), 9.5, 8.0),) if known else ()
    size = NAME_APART if who.id in material.apart else (13.0, 10.0)
    return Para((given_bold(who.name),), *size), (*room, *born, *allergies)


def _what(due: Sequence[Due], material: Material, wanted: RoundList) -> Iterator[tuple[tuple[str, ...], tuple[Para, ...]]]:
    """Each dose with its zone; then where it lies; then what may be given when needed."""
    person = material.plan.people[0]
    for source in dict.fromkeys(one.card for one in due):
        lead = (bold("Card"), given_bold(str(source))) if source else (bold("From its own pack"),)
        yield (), (Para(lead, 9.5, 8.0),)
        for one in (one for one in due if one.card == source):
            about = ("round", person.person, one.day.isoformat(), str(one.slot), one.order.id, str(source or ""))
            yield about, (Para((bold(due_words(one, material)),), 12.0, 10.0, indent=3.0),)
            if source is None and (words := directions_of(one.order, material)):
                yield (), (Para((plain(words),), 9.5, 8.0, indent=3.0),)
    for order, medicine in orders_on_demand(person, material, wanted.day, 1):
        wanted_words = (bold("When needed:"), plain(f"{named(medicine, material.country)}."), plain(limit_words(order.dosages)))
        yield (), (Para(wanted_words, 9.0, 8.0),)


def due_words(due: Due, material: Material) -> str:
    """ "1 tablet metformin 500 mg modified-release"."""
    amount = placed_words(due.medicine, due.quantity, number_style(material))
    return " ".join(part for part in (amount, named_short(due.medicine, material.country), form_beyond_unit(due.medicine)) if part)


def _nothing(at: time, slot: SlotName, wanted: RoundList, ready: Sequence[Material]) -> tuple[Para, ...]:
    none = [_who(material).name for material in _by_room(ready) if not any((d.time, d.slot) == (at, slot) for d in _due(material, wanted))]
    left = [_who(material).name for material in _by_room(wanted.people) if material not in ready]
    said = (Para((bold(f"Nothing due at {clock(at)}:"), given(", ".join(none) + ".")), 9.5, 8.0),) if none else ()
    ask = (bold("Not on this list, ask the pharmacy before giving anything:"), given(", ".join(left) + "."))
    return (*said, *((Para(ask, 11.0, 9.0),) if left else ()))


def _sheets(at: time, slot: SlotName, rows: Sequence[_Row], frame: Frame, rest: tuple[Setting, tuple[Para, ...]]) -> list[Drawn]:
    setting, nothing = rest
    room = frame.room
    end = measure(nothing, room.width, setting)
    below = end.height + 3.0 if isinstance(end, Block) else 0.0
    sheets: list[list[Drawn]] = []
    top = room.bottom
    for row in rows:
        if top + row.height > room.bottom + 1e-6:
            sheets.append([_opening(at, slot, room, setting)])
            top = room.top + _LEAD
        sheets[-1].append(join(_draw(row, Rect(room.left, top, room.width, row.height))))
        top += row.height
    if nothing and top + below > room.bottom:
        sheets.append([_opening(at, slot, room, setting)])
        top = room.top + _LEAD
    sheets[-1].append(set_in(nothing, Rect(room.left, top + 3.0, room.width, room.bottom - top - 3.0), setting))
    return [join(sheet) for sheet in sheets]


def _opening(at: time, slot: SlotName, room: Rect, setting: Setting) -> Drawn:
    codes = ", ".join(f"{letter} {meaning}" for letter, meaning in CODES)
    how = Para((bold("Give, watch it taken, then sign."), plain(f"If not taken: {codes}.")), 9.0, 7.5)
    head = set_in((Para((bold(f"{clock(at)} {slot}"),), 20.0, 14.0),), Rect(room.left + 15.0, room.top + 1.5, 62.0, 11.0), setting)
    signs = set_in((how,), Rect(room.left + 80.0, room.top + 1.0, room.width - 80.0, _LEAD - 3.0), setting)
    return join((head, signs, Drawn(dials=(Dial(room.left + 6.5, room.top + 6.5, 6.0, at),))))


def _draw(row: _Row, box: Rect) -> Iterator[Drawn]:
    yield Drawn(lines=(Line(box.left, box.top, box.right, box.top, Stroke.PLAIN), Line(box.left, box.bottom, box.right, box.bottom)))
    yield Drawn(runs=place_block(row.above, box.left + _PAD, box.top + _PAD, box))
    box = Rect(box.left, box.top + row.above.height, box.width, box.height - row.above.height)
    left, top = box.left + _WHO + _PAD, box.top + _PAD
    wide = box.width - _WHO - _SIGN - 2 * _PAD
    cell = Rect(box.left, box.top, _WHO, box.height)
    border, inner = border_inside(cell.inset(_EDGE, _EDGE), row.apart)
    yield border
    yield Drawn(runs=place_block(row.who, inner.left + _PAD - _EDGE, inner.top + _PAD - _EDGE, cell))
    zones = tuple(Zone(Rect(left, top + begin, wide, end - begin), about) for about, begin, end in row.zones)
    yield Drawn(runs=place_block(row.what, left, top, Rect(left, box.top, wide, box.height)), zones=zones)
    # A place to sign for each dose: one may be refused while the others are taken.
    yield Drawn(places=tuple(Place(Rect(box.right - _SIGN + 1, top + begin, _SIGN - 1, end - begin)) for _, begin, end in row.zones))

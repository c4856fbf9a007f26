"""The round list of a home: at one dosing time of one day, what each person is given, from which card or pack, and who gave it.

Comes in: the people of a home, each with the material of their own plans. Goes out: A4 pages and findings; each dosing time begins a sheet.
Whoever has nothing due then is named at the end, so that an empty place is never mistaken for a forgotten one.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time

from dosewright.core.paper.apart_marks import check_second_identifier
from dosewright.core.paper.dates import clock, long_day
from dosewright.core.paper.directions import directions_of, number_style
from dosewright.core.paper.drawn import Drawn, join, once
from dosewright.core.paper.due import Due, check_called_back, check_due, check_known, due_of, orders_on_demand
from dosewright.core.paper.finish import basis_of
from dosewright.core.paper.fit import Block, place_block
from dosewright.core.paper.marks import fingerprint_words
from dosewright.core.paper.material import Material
from dosewright.core.paper.medicine_words import closed, form_beyond_unit, named, named_short, placed_words
from dosewright.core.paper.page import Dial, Page, Place, Rect, Zone
from dosewright.core.paper.record_foot import code_words
from dosewright.core.paper.round_needed import draw_needed
from dosewright.core.paper.round_who import PAD, PLACE, Who, by_room, draw_who, measure_who, who_of
from dosewright.core.paper.setting import Setting, measure, set_in, setting_of
from dosewright.core.paper.sheet import A4, Frame, Sheet, Strip, frame_strip, number_sheets, whose
from dosewright.core.paper.words import Para, Words, amount, bold, given, given_bold, kept, plain
from dosewright.core.units.finding import Fact, Finding, blocks
from dosewright.core.units.ids import CardNumber, SlotName

__all__ = ["RoundList", "draw_round", "round_faults"]

_SIGN = 36.0  # mm of a row for the place to sign, at the right
_LEAD = 16.0  # mm for the dial, the dosing time and how to sign, at the head of each sheet
_LEAST = 15.0  # mm a row
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
    """Whose row it is, what is due, the zones of its doses (about, from and to below the row's text), how high it is."""

    who: Who
    what: Block
    zones: tuple[tuple[tuple[str, ...], float, float], ...]
    height: float


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
    parts += draw_needed(by_room(ready), wanted.day, frame.room, setting)
    about: dict[str, Fact] = {"person": wanted.home, "sheet": "round"}
    pages = number_sheets([join((frame.edges, part)) for part in parts], frame, A4, setting.fonts, about)
    return pages, once((*frame.edges.findings, *found, *(finding for part in parts for finding in part.findings)))


def _plans(wanted: RoundList) -> str:
    return fingerprint_words(basis_of(material.plan.basis for material in wanted.people))


def round_faults(material: Material, wanted: RoundList) -> tuple[Finding, ...]:
    """Where the person's cards hold otherwise than the orders say on that day, or nothing is given from them: then the person is not on the
    list."""
    asked = (material.plan.people[0], material, wanted.day, 1)
    back = check_called_back(material.plan.people[0], material, wanted.day)
    return (*check_second_identifier(who_of(material).id, material), *back, *check_due(*asked), *check_known(*asked))


def _due(material: Material, wanted: RoundList) -> tuple[Due, ...]:
    return due_of(material.plan.people[0], material, wanted.day, 1)


def _times(wanted: RoundList, ready: Iterable[Material]) -> list[tuple[time, SlotName]]:
    found = {(due.time, due.slot) for material in ready for due in _due(material, wanted)}
    return sorted(one for one in found if not wanted.slots or one[1] in wanted.slots)


def _rows(at: time, slot: SlotName, wanted: RoundList, ready: Sequence[Material]) -> tuple[list[_Row], list[Finding]]:
    rows: list[_Row] = []
    found: list[Finding] = []
    for material in by_room(ready):
        due = [one for one in _due(material, wanted) if (one.time, one.slot) == (at, slot)]
        if due:
            row = _row(due, material, wanted)
            rows += [row] if isinstance(row, _Row) else []
            found += [] if isinstance(row, _Row) else row
    return rows, found


def _row(due: Sequence[Due], material: Material, wanted: RoundList) -> _Row | tuple[Finding, ...]:
    setting, who = setting_of(material, who_of(material).id), measure_who(material)
    wide = A4[0] - 20.0 - PLACE - _SIGN - 2 * PAD
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
    return _Row(who, Block(tuple(lines), top), tuple(zones), max(who.least, top + 2 * PAD, _LEAST) + who.above.height)


def _what(due: Sequence[Due], material: Material, wanted: RoundList) -> Iterator[tuple[tuple[str, ...], tuple[Para, ...]]]:
    """Each dose with its zone; then where it lies; then what may be given when needed."""
    person = material.plan.people[0]
    for source in dict.fromkeys(one.card for one in due):
        lead = (bold("Card"), given_bold(str(source))) if source else (bold("From its own pack"),)
        yield (), (Para((*lead, *_runs_out(source, material)), 9.5, 8.0),)
        for one in (one for one in due if one.card == source):
            about = ("round", person.person, one.day.isoformat(), str(one.slot), one.order.id, str(source or ""))
            yield about, (Para(_due_words(one, material), 12.0, 10.0, indent=3.0),)
            if source is None and (words := directions_of(one.order, material)):
                yield (), (Para((plain(words),), 9.5, 8.0, indent=3.0),)
    names = "; ".join(named(medicine, material.country) for _, medicine in orders_on_demand(person, material, wanted.day, 1))
    if names:
        yield (), (Para((bold("When needed, see the last sheet:"), plain(closed(names))), 9.0, 8.0),)


def _runs_out(source: CardNumber | None, material: Material) -> Iterator[Words]:
    """What whoever heard of the change must know of a card that holds what was asked before it."""
    last = next((card.last for card in material.plan.people[0].scheduled if card.number == source), None)
    if source in material.waiting and last:
        yield plain(f"as it lies to {long_day(last)}: a pharmacist has decided that the change waits until then.")


def _due_words(due: Due, material: Material) -> tuple[Words, ...]:
    """ "1 tablet metformin 500 mg modified-release"."""
    much = placed_words(due.medicine, due.quantity, number_style(material))
    return amount(much), kept(bold(f"{named_short(due.medicine, material.country)} {form_beyond_unit(due.medicine)}"))


def _nothing(at: time, slot: SlotName, wanted: RoundList, ready: Sequence[Material]) -> tuple[Para, ...]:
    none = [who_of(material).name for material in by_room(ready) if not any((d.time, d.slot) == (at, slot) for d in _due(material, wanted))]
    off = [material for material in by_room(wanted.people) if material not in ready]
    back = [material for material in off if any(check_called_back(material.plan.people[0], material, wanted.day))]
    left = [who_of(material).name for material in off if material not in back]
    said = (Para((bold(f"Nothing due at {clock(at)}:"), given(", ".join(none) + ".")), 9.5, 8.0),) if none else ()
    ask = (bold("Not on this list, ask the pharmacy before giving anything:"), given(", ".join(left) + "."))
    sheet = bold("Nothing from the card; give by the sheet “Until the card is right”:")
    by_sheet = Para((sheet, given(", ".join(who_of(material).name for material in back) + ".")), 11.0, 9.0)
    return (*said, *((by_sheet,) if back else ()), *((Para(ask, 11.0, 9.0),) if left else ()))


def _sheets(at: time, slot: SlotName, rows: Sequence[_Row], frame: Frame, rest: tuple[Setting, tuple[Para, ...]]) -> list[Drawn]:
    setting, nothing = rest
    room = frame.room
    if not rows:  # nobody's could be set, and the findings say why
        return []
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
    how = Para((bold("Give, watch it taken, then sign."), plain(f"If not taken: {code_words()}.")), 9.0, 7.5)
    head = set_in((Para((bold(f"{clock(at)} {slot}"),), 20.0, 14.0),), Rect(room.left + 15.0, room.top + 1.5, 62.0, 11.0), setting)
    signs = set_in((how,), Rect(room.left + 80.0, room.top + 1.0, room.width - 80.0, _LEAD - 3.0), setting)
    return join((head, signs, Drawn(dials=(Dial(room.left + 6.5, room.top + 6.5, 6.0, at),))))


def _draw(row: _Row, box: Rect) -> Iterator[Drawn]:
    parts, room = draw_who(row.who, box)
    yield from parts
    left, top = room.left + PAD, room.top + PAD
    wide = room.width - _SIGN - 2 * PAD
    zones = tuple(Zone(Rect(left, top + begin, wide, end - begin), about) for about, begin, end in row.zones)
    yield Drawn(runs=place_block(row.what, left, top, Rect(left, room.top, wide, room.height)), zones=zones)
    # A place to sign for each dose: one may be refused while the others are taken.
    yield Drawn(places=tuple(Place(Rect(box.right - _SIGN + 1, top + begin, _SIGN - 1, end - begin)) for _, begin, end in row.zones))

"""The manifest: which cards and how many other items go to a home or a person, to be counted and signed for at both ends.

No medicine is named on it: whoever drives reads whose and how many. Each card's number stands as text and as code. Comes in: parcels.
Goes out: A4 pages and findings. Source: a delivery record has date, recipient, count and signature; 4.4 % of incidents were packs not
delivered (Queensland and UK incident reports).
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, datetime

from dosewright.core.paper.alike import Apart
from dosewright.core.paper.apart_marks import NAME_APART, border_inside, without_second_identifier
from dosewright.core.paper.datamatrix import code_at, code_side
from dosewright.core.paper.dates import long_day, short_day
from dosewright.core.paper.drawn import Drawn, join, once
from dosewright.core.paper.finish import basis_of
from dosewright.core.paper.joints import BIND
from dosewright.core.paper.marks import fingerprint_words
from dosewright.core.paper.material import Supplier
from dosewright.core.paper.page import About, Line, Page, Place, Rect, Stroke
from dosewright.core.paper.setting import Setting, set_in
from dosewright.core.paper.sheet import A4, Frame, Sheet, Strip, frame_strip, number_sheets, whose
from dosewright.core.paper.words import Para, bold, given, given_bold, plain
from dosewright.core.paper.zone_recount import Truth
from dosewright.core.units.finding import Fact, Finding
from dosewright.core.units.ids import CardNumber
from dosewright.core.units.person import Person

__all__ = ["Manifest", "Parcel", "ParcelCard", "check_parcels", "draw_manifest", "manifest_truth"]

_WHO, _LINE, _TICK = 62.0, 10.5, 6.0  # mm: the person at the left, one line for each card, the boxes to tick
_LEAST_APART = 36.0  # mm for the name in large print, two lines of it, in its border
_HEAD, _SIGNS = 16.0, 78.0  # mm above the parcels, and for who packed, drove and received
_COLUMNS = 18.0  # mm for each of the two columns of ticks


@dataclass(frozen=True, slots=True)
class ParcelCard:
    """A card in the delivery, with its days and the fingerprint of its plan."""

    number: CardNumber
    first: date
    last: date
    basis: str


@dataclass(frozen=True, slots=True)
class Parcel:
    """What goes to one person: cards, and how many orders are supplied alongside. `others`: what tells the person apart;
    `apart`: whose parcel this could be taken for."""

    person: Person
    others: str
    cards: tuple[ParcelCard, ...]
    alongside: int
    apart: Apart | None = None


@dataclass(frozen=True, slots=True)
class Manifest:
    """One delivery to one place. `waiting`: cards of its people that are not in it, because nobody has released them."""

    to: str
    address: str
    day: date
    made: datetime
    parcels: tuple[Parcel, ...]
    waiting: tuple[CardNumber, ...] = ()


def draw_manifest(manifest: Manifest, by: Supplier) -> tuple[tuple[Page, ...], tuple[Finding, ...]]:
    """The sheets; a person's parcel stays together unless it is longer than a sheet."""
    setting = Setting(by.fonts, by.country, {"person": manifest.to}, by.printer.dpi)
    plans = fingerprint_words(basis_of(card.basis for parcel in manifest.parcels for card in parcel.cards))
    strip = Strip(whose(manifest.to, manifest.address), plans, by.pharmacy, manifest.made)
    frame = frame_strip(Sheet("Manifest", "", A4), strip, setting)
    parts = [join((frame.edges, part)) for part in _sheets(manifest, frame, setting)]
    about: dict[str, Fact] = {"person": manifest.to, "sheet": "manifest"}
    found = (finding for part in parts for finding in part.findings)
    return number_sheets(parts, frame, A4, by.fonts, about), once((*check_parcels(manifest), *found))


def check_parcels(manifest: Manifest) -> Iterator[Finding]:
    """Somebody whose parcel could be taken for another's must have a second identifier on it, and another than theirs."""
    for parcel in manifest.parcels:
        if parcel.apart and not (parcel.apart.told and parcel.others):
            yield without_second_identifier(parcel.person, parcel.apart)


def manifest_truth(manifest: Manifest) -> Truth:
    """Every card and count that the finished manifest must say, once each."""
    texts: dict[About, str] = {
        ("card", parcel.person.id, card.number): f"{card.number} {short_day(card.first)} to {short_day(card.last)}"
        for parcel in manifest.parcels
        for card in parcel.cards
    }
    counts: dict[About, str] = {
        ("beside", parcel.person.id): f"{parcel.alongside} {_items(parcel.alongside)} not in a card"
        for parcel in manifest.parcels
        if parcel.alongside
    }
    total = sum(len(parcel.cards) for parcel in manifest.parcels)
    items, people = sum(parcel.alongside for parcel in manifest.parcels), len(manifest.parcels)
    whole = f"{total} {'card' if total == 1 else 'cards'} and {items} other {_items(items)} for {people} {_people(people)}."
    return Truth({**texts, **counts, ("total", manifest.to): whole})


def _items(many: int) -> str:
    return "item" if many == 1 else "items"


def _people(many: int) -> str:
    return "person" if many == 1 else "people"


def _sheets(manifest: Manifest, frame: Frame, setting: Setting) -> list[Drawn]:
    room = frame.room
    sheets: list[list[Drawn]] = []
    top = room.bottom
    for parcel in (part for one in manifest.parcels for part in _parts(one, int((room.height - _HEAD) // _LINE))):
        height = max((len(parcel.cards) + bool(parcel.alongside)) * _LINE, _LEAST_APART if parcel.apart else 2 * _LINE) + 2.0
        if top + height > room.bottom + 1e-6:
            sheets.append([join(_opening(manifest, room, setting))])
            top = room.top + _HEAD
        sheets[-1].append(join(_parcel(parcel, Rect(room.left, top, room.width, height), setting)))
        top += height
    if not sheets or top + _SIGNS > room.bottom + 1e-6:
        sheets.append([join(_opening(manifest, room, setting))])
        top = room.top + _HEAD
    sheets[-1].append(join(_signs(manifest, Rect(room.left, top + 3.0, room.width, _SIGNS - 3.0), setting)))
    return [join(sheet) for sheet in sheets]


def _parts(parcel: Parcel, most: int) -> Iterator[Parcel]:
    """A parcel of very many cards goes on on the next sheet, with the name again."""
    for n in range(0, max(1, len(parcel.cards)), most - 1):
        some = parcel.cards[n : n + most - 1]
        yield replace(parcel, cards=some, alongside=parcel.alongside if n + most - 1 >= len(parcel.cards) else 0)


def _opening(manifest: Manifest, room: Rect, setting: Setting) -> Iterator[Drawn]:
    lead = Para((plain("To be delivered on"), bold(f"{long_day(manifest.day)}.")), 12.0, 10.0)
    how = Para((plain("Tick each card and item when it is packed, and again when it is handed over."),), 9.5, 8.0)
    yield set_in((lead, how), Rect(room.left, room.top, room.width - 2 * _COLUMNS - 2, _HEAD - 2), setting)
    for n, word in enumerate(("packed", "received")):
        left = room.right - (2 - n) * _COLUMNS
        yield set_in((Para((bold(word),), 9.5, 8.0),), Rect(left, room.top + _HEAD - 6.5, _COLUMNS, 5.5), setting)


def _parcel(parcel: Parcel, box: Rect, setting: Setting) -> Iterator[Drawn]:
    yield Drawn(lines=(Line(box.left, box.top, box.right, box.top, Stroke.PLAIN),))
    name, floor = NAME_APART if parcel.apart else (14.0, 10.0)
    who = (Para((given_bold(parcel.person.name),), name, floor), Para((given(parcel.others),), 9.5, 8.0))
    cell = Rect(box.left, box.top + 1.2, _WHO - 2, box.height - 2)
    border, inner = border_inside(cell, parcel.apart)
    yield border
    yield set_in(who if parcel.others else who[:1], inner, setting)
    for n, card in enumerate(parcel.cards):
        line = Rect(box.left + _WHO, box.top + 1.0 + n * _LINE, box.width - _WHO, _LINE)
        yield from _card(card, parcel, line, setting)
    if parcel.alongside:
        line = Rect(box.left + _WHO, box.top + 1.0 + len(parcel.cards) * _LINE, box.width - _WHO, _LINE)
        words = Para((bold(f"{parcel.alongside} {_items(parcel.alongside)}"), plain("not in a card")), 11.0, 9.0)
        inner = Rect(line.left + 12.0, line.top, line.width - 2 * _COLUMNS - 13.0, _LINE)
        yield set_in((words,), inner, setting, 0.5, ("beside", parcel.person.id))
        yield _ticks(line)


def _card(card: ParcelCard, parcel: Parcel, line: Rect, setting: Setting) -> Iterator[Drawn]:
    side = code_side(card.number, setting.dpi)
    yield Drawn(codes=(code_at(card.number, line.left + 1.0 + side, line.top + (_LINE - side) / 2, setting.dpi),))
    days = f"{short_day(card.first)} to {short_day(card.last)}".replace(" ", BIND)
    words = Para((given_bold(card.number), plain(days)), 11.0, 8.0)
    inner = Rect(line.left + 12.0, line.top, line.width - 2 * _COLUMNS - 13.0, _LINE)
    yield set_in((words,), inner, setting, 0.5, ("card", parcel.person.id, card.number))
    yield _ticks(line)


def _ticks(line: Rect) -> Drawn:
    top = line.top + (_LINE - _TICK) / 2
    return Drawn(places=tuple(Place(Rect(line.right - n * _COLUMNS + 3.0, top, _TICK, _TICK), Stroke.PLAIN) for n in (2, 1)))


def _signs(manifest: Manifest, box: Rect, setting: Setting) -> Iterator[Drawn]:
    yield Drawn(lines=(Line(box.left, box.top, box.right, box.top, Stroke.HEAVY),))
    yield set_in(
        (Para((bold(_total(manifest)),), 14.0, 10.0),), Rect(box.left, box.top + 1.5, box.width, 7.5), setting, 0.0, ("total", manifest.to)
    )
    waiting = ", ".join(manifest.waiting)
    late = (Para((bold("Not in this delivery:"), given(f"{waiting}.")), 10.0, 8.0, after=1.0),) if waiting else ()
    line = "________________________"
    rows = (
        ("Packed and counted by", line, "on", "______________"),
        ("Driver", line, "at", "______________"),
        ("Received by (name in capitals)", line, "on", "______________"),
        ("Signed", line, "at", "______________"),
        ("Missing, damaged, refused:", line + line, "", ""),
    )
    paras = [Para(tuple(given(part) for part in row if part), 10.5, 9.0, after=5.0) for row in rows]
    yield set_in((*late, *paras), Rect(box.left, box.top + 10.0, box.width, box.height - 10.0), setting)


def _total(manifest: Manifest) -> str:
    """How many cards and other items for how many people, counted from the parcels that are drawn."""
    cards = [card.number for parcel in manifest.parcels for card in parcel.cards]
    items, people = sum(parcel.alongside for parcel in manifest.parcels), len(manifest.parcels)
    said = f"{len(cards)} {'card' if len(cards) == 1 else 'cards'} and {items} other {_items(items)}"
    return f"{said} for {people} {_people(people)}."

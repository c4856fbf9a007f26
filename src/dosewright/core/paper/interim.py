"""The sheet that holds while a card is being called back: what to give at which dosing time, and that the card stays closed.

Comes in: a person, the card, the doses due until it is right. Goes out: A4 pages and findings. It never asks anybody to open or alter a
card: its doses come with the sheet, each medicine in a container with a label of its own.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, time

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.packing.plan_values import Content
from dosewright.core.paper.dates import clock, long_day, short_day
from dosewright.core.paper.directions import number_style
from dosewright.core.paper.drawn import Drawn, join, once
from dosewright.core.paper.fit import Block, line_height
from dosewright.core.paper.joints import bind_all
from dosewright.core.paper.material import Material
from dosewright.core.paper.medicine_words import form_beyond_unit, named_short, placed_words
from dosewright.core.paper.page import Dial, Page, Place, Rect
from dosewright.core.paper.setting import measure, set_in, setting_of
from dosewright.core.paper.sheet import A4, Sheet, finish_sheets, frame_sheet, set_text
from dosewright.core.paper.words import Para, amount, bold, given, plain, tied
from dosewright.core.paper.zone_recount import Truth
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import CardNumber, PersonId, SlotName
from dosewright.core.units.person import Person

__all__ = ["Interim", "InterimDose", "draw_interim", "interim_truth"]

_LEAD, _ROW, _FOOT = 52.0, 17.0, 16.0  # mm
_END = 8.0  # mm more, where the sheet says when it ends
_WHEN, _SIGN = 42.0, 46.0  # mm of a row for the dosing time, and for the signature
_DIAL = 2.8
_MATTER = (12.0, 10.0)  # points: full size and floor
_GIVE = "Until it is back, give what stands here, from the containers that came with this sheet, and sign for each."
_GIVE_NOTHING = (
    "Nothing is due in its place before what is right is there: no container came with this sheet, and there is nothing to sign. "
    "Go on giving what has a pack of its own."
)


@dataclass(frozen=True, slots=True)
class InterimDose:
    """Everything to give at one dosing time."""

    day: date
    slot: SlotName
    time: time
    contents: tuple[Content, ...]


@dataclass(frozen=True, slots=True)
class Interim:
    """Cards that are called back or replaced: not to be used from `at` on; the doses until what is right is there, at `until`. Without any
    card: the doses of one that is added, to be given beside the others."""

    person: PersonId
    cards: tuple[CardNumber, ...]
    at: Moment
    doses: tuple[InterimDose, ...]
    until: Moment | None = None


def draw_interim(sheet: Interim, material: Material) -> tuple[tuple[Page, ...], tuple[Finding, ...]]:
    """The sheet's pages; at least one, even where nothing is due meanwhile."""
    who = material.person(sheet.person)
    number = sheet.cards[0] if len(sheet.cards) == 1 else ""
    frame = frame_sheet(Sheet("Until the card is right", number, A4), who, material)
    stretches = _stretches(sheet, frame.room.height - _lead_height(sheet) - _FOOT, who, material)
    parts = [join(_page(sheet, rows, frame.room, who, material)) for rows in stretches]
    pages = finish_sheets(parts, frame, A4, material, {"person": sheet.person, "card": " ".join(sheet.cards), "sheet": "interim"})
    return pages, once(finding for part in (frame.edges, *parts) for finding in part.findings)


_Rows = list[tuple[InterimDose, float]]  # each with the height of its row


def _stretches(sheet: Interim, room: float, who: Person, material: Material) -> list[_Rows]:
    """The doses page by page, each row as high as its medicines ask; one page even where nothing is due."""
    pages: list[_Rows] = [[]]
    used = 0.0
    for dose in sheet.doses:
        block = measure(_contents(dose, material), A4[0] - 20.0 - _WHEN - _SIGN - 3, setting_of(material, who.id))
        height = min(max(_ROW, block.height + 3.5), room) if isinstance(block, Block) else _ROW
        if pages[-1] and used + height > room + 1e-6:
            pages.append([])
            used = 0.0
        pages[-1].append((dose, height))
        used += height
    return pages


def _page(sheet: Interim, rows: _Rows, room: Rect, who: Person, material: Material) -> Iterator[Drawn]:
    yield set_text(_lead(sheet), Rect(room.left, room.top, room.width, _lead_height(sheet) - 2), material, who)
    top = room.top + _lead_height(sheet)
    for dose, height in rows:
        yield from _row(dose, sheet.cards, Rect(room.left, top, room.width, height), who, material)
        top += height
    foot = Rect(room.left, room.bottom - _FOOT + 3, room.width, _FOOT - 3)
    signed = Para(
        (plain("Pharmacist"), given("______________________________"), plain("date and time"), given("__________________")), 11.0, 9.0
    )
    yield set_text((signed,), foot, material, who)


def _lead_height(sheet: Interim) -> float:
    return _LEAD + (_END if sheet.until else 0.0)


def _lead(sheet: Interim) -> tuple[Para, ...]:
    when = f"{clock(sheet.at.time)}, {long_day(sheet.at.day)}"
    if not sheet.cards:
        return (*(_beside(when) if sheet.doses else _beside_nothing()), *_end(sheet))
    cards = " or ".join(bind_all(f"card {number}") for number in sheet.cards)
    return (
        _headed(f"Do not give anything from {cards} from {when} on."),
        _said("The orders have changed. Leave it closed: do not open it, do not take anything out of it, do not write on it."),
        _said("Keep it where nobody uses it until the pharmacy fetches it.", after=2.0),
        _said(_GIVE if sheet.doses else _GIVE_NOTHING, after=1.0 if sheet.until else 0.0),
        *_end(sheet),
    )


def _beside(when: str) -> tuple[Para, ...]:
    """The cards that are there stay in use: a medicine that is new comes in a card of its own."""
    return (
        _headed(f"From {when} on, give what stands here as well."),
        _said("It is new, and in none of the cards that are there. Go on giving from those, and do not open any of them."),
        _said("A card with what is new is on its way; use it from the moment that it is there.", after=2.0),
        _said("Until then, give from the containers that came with this sheet, and sign for each.", after=1.0),
    )


def _beside_nothing() -> tuple[Para, ...]:
    """The same where nothing is due before the card is there: an empty list would be looked for on another page."""
    return (
        _headed("A medicine is new; nothing of it is due before its card is there."),
        _said("Go on giving from the cards that are there, and do not open any of them."),
        _said("A card with what is new is on its way; use it from the moment that it is there.", after=2.0),
        _said("No container came with this sheet, and there is nothing to sign.", after=1.0),
    )


def _headed(text: str) -> Para:
    """What must be seen first."""
    return Para((bold(text),), 16.0, 12.0, after=2.0)


def _said(text: str, after: float = 0.0) -> Para:
    return Para((plain(text),), *_MATTER, after=after)


def _end(sheet: Interim) -> Iterator[Para]:
    """A sheet that ends and a card that is late must not leave anybody to guess."""
    if sheet.until is not None:
        when = f"{clock(sheet.until.time)}, {long_day(sheet.until.day)}"
        said = f"If what is right is not there before {when}, ring the pharmacy."
        said += " Give nothing from the old card." if sheet.cards else ""
        yield Para((bold(said),), *_MATTER)


def interim_truth(sheet: Interim, material: Material) -> Truth:
    """What must be read at each dosing time: every content with its amount, in order."""
    style, texts = number_style(material), {}
    for dose in sheet.doses:
        parts = []
        for content in dose.contents:
            medicine = material.medicine(content.medicine)
            parts += [placed_words(medicine, content.quantity, style), named_short(medicine, material.country), form_beyond_unit(medicine)]
        texts["interim", sheet.person, *sheet.cards, dose.day.isoformat(), str(dose.slot)] = " ".join(parts)
    return Truth(texts)


def _row(dose: InterimDose, cards: Sequence[CardNumber], box: Rect, who: Person, material: Material) -> Iterator[Drawn]:
    yield Drawn(places=(Place(box), Place(Rect(box.right - _SIGN, box.top, _SIGN, box.height))))
    yield Drawn(dials=(Dial(box.left + 2 + _DIAL, box.top + 2 + line_height(11.0), _DIAL, dose.time),))
    left = box.left + 2 * _DIAL + 4
    when = (Para((bold(short_day(dose.day)),), 11.0, 8.0), Para((bold(f"{clock(dose.time)} {dose.slot}"),), 11.0, 8.0))
    yield set_text(when, Rect(left, box.top + 2, _WHEN - 2 * _DIAL - 4, box.height - 3), material, who)
    wide = box.width - _WHEN - _SIGN - 3
    place = Rect(box.left + _WHEN, box.top + 1.2, wide, box.height - 2)
    about = ("interim", who.id, *cards, dose.day.isoformat(), str(dose.slot))
    yield set_in(_contents(dose, material), place, setting_of(material, who.id), 0.0, about)
    signs = Rect(box.right - _SIGN + 1.5, box.top + 1.2, _SIGN - 3, 5)
    yield set_text((Para((plain("Given by, at"),), 8.0, 7.0),), signs, material, who)


def _contents(dose: InterimDose, material: Material) -> tuple[Para, ...]:
    style = number_style(material)
    lines = ((placed_words(material.medicine(c.medicine), c.quantity, style), material.medicine(c.medicine)) for c in dose.contents)
    return tuple(Para((amount(much), tied(_name(medicine, material))), 11.0, 7.0, indent=2.0) for much, medicine in lines)


def _name(medicine: Medicine, material: Material) -> str:
    """As on the cards' labels: the amount says "tablet" already."""
    return f"{named_short(medicine, material.country)} {form_beyond_unit(medicine)}"

"""The last sheet of a round list: what each person may be given that day when it is needed, from which card or pack, and where to sign it.

Comes in: the home's people in the order of the rounds. Goes out: parts of pages; no part where nobody has such an order. One row an order,
with the most in 24 hours and the time between doses, so that nobody gives without having seen both.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.paper.as_needed import limit_words
from dosewright.core.paper.directions import directions_of, number_style
from dosewright.core.paper.drawn import Drawn, join
from dosewright.core.paper.due import orders_on_demand
from dosewright.core.paper.fit import Block, place_block
from dosewright.core.paper.material import Material
from dosewright.core.paper.medicine_words import form_beyond_unit, named, named_short, placed_words, sentence
from dosewright.core.paper.page import About, Place, Rect, Zone
from dosewright.core.paper.round_who import PAD, PLACE, Who, draw_who, measure_who, who_of
from dosewright.core.paper.setting import Setting, measure, set_in, setting_of
from dosewright.core.paper.when_needed import cards_on_demand, when_needed_in
from dosewright.core.paper.words import Para, Words, amount, bold, given, kept, plain
from dosewright.core.regimen.order import Order
from dosewright.core.units.finding import Finding

__all__ = ["draw_needed"]

_LEAD = 16.0  # mm at the head of the sheet
_BOX, _BOXES = 11.0, 4  # mm high, and how many side by side: to record that it was given
_BETWEEN = 0.6


@dataclass(frozen=True, slots=True)
class _Row:
    """One person's one order: whose it is, the paragraphs with their zones, and the row's height."""

    who: Who
    what: tuple[tuple[About, Block], ...]
    height: float


def draw_needed(materials: Sequence[Material], day: date, room: Rect, setting: Setting) -> list[Drawn]:
    """The sheets, a row for each person and order; findings are in the parts."""
    sheets: list[list[Drawn]] = []
    top = room.bottom
    for row in (row for material in materials for row in _rows(material, day)):
        if not isinstance(row, _Row):
            sheets = sheets or [[]]
            sheets[-1].append(Drawn(findings=row))
            continue
        if top + row.height > room.bottom + 1e-6:
            sheets.append([_opening(room, setting)])
            top = room.top + _LEAD
        sheets[-1].append(_draw(row, Rect(room.left, top, room.width, row.height)))
        top += row.height
    return [join(sheet) for sheet in sheets]


def _rows(material: Material, day: date) -> list[_Row | tuple[Finding, ...]]:
    on_demand = orders_on_demand(material.plan.people[0], material, day, 1)
    return [_row(order, medicine, material, day) for order, medicine in on_demand]


def _row(order: Order, medicine: Medicine, material: Material, day: date) -> _Row | tuple[Finding, ...]:
    person = who_of(material).id
    setting, who = setting_of(material, person), measure_who(material)
    what = _what(order, medicine, material, day)
    paras: list[tuple[About, Para]] = [(("needed", person, day.isoformat(), order.id), Para(what, 12.0, 10.0))]
    if words := sentence(directions_of(order, material)):
        paras.append(((), Para((plain(words),), 10.0, 8.0)))
    paras.append(((), Para((bold(limit_words(order.dosages)),), 10.0, 8.0)))
    parts = [(about, measure((para,), 190.0 - PLACE - 2 * PAD, setting)) for about, para in paras]
    faults = tuple(finding for _, block in parts if isinstance(block, tuple) for finding in block)
    if faults or isinstance(who, tuple):
        return faults or (who if isinstance(who, tuple) else ())
    blocks = tuple((about, block) for about, block in parts if isinstance(block, Block))
    text = sum(block.height + _BETWEEN for _, block in blocks)
    return _Row(who, blocks, max(who.least, text + _BOX + 1.0 + 2 * PAD) + who.above.height)


def _what(order: Order, medicine: Medicine, material: Material, day: date) -> tuple[Words, ...]:
    """What may be given and where it lies: "2 tablets paracetamol 500 mg, from card 1001, one cavity a dose."."""
    person = material.plan.people[0]
    said, cards = when_needed_in(person).get(order.id), cards_on_demand(person, order.id, day)
    if said is None or not cards:
        return bold(f"{named(medicine, material.country)},"), given("from its own pack.")
    dose = placed_words(medicine, said.dose, number_style(material))
    name = " ".join(part for part in (named_short(medicine, material.country), form_beyond_unit(medicine)) if part)
    return amount(dose), kept(bold(f"{name},")), given(f"from card {' or '.join(cards)}, one cavity a dose.")


def _opening(room: Rect, setting: Setting) -> Drawn:
    how = "Look when it was last given, and how much since then, before giving any. Each box: the time, how much, who gave it."
    head = set_in((Para((bold("When needed"),), 20.0, 14.0),), Rect(room.left, room.top + 1.5, 62.0, 11.0), setting)
    beside = Rect(room.left + 80.0, room.top + 1.0, room.width - 80.0, _LEAD - 3.0)
    return join((head, set_in((Para((plain(how),), 9.0, 7.5),), beside, setting)))


def _draw(row: _Row, box: Rect) -> Drawn:
    parts, room = draw_who(row.who, box)
    left, top, wide = room.left + PAD, room.top + PAD, room.width - PAD
    drawn = list(parts)
    for about, block in row.what:
        zones = (Zone(Rect(left, top, wide, block.height), about),) if about else ()
        drawn.append(Drawn(runs=place_block(block, left, top, Rect(left, top, wide, block.height)), zones=zones))
        top += block.height + _BETWEEN
    each = wide / _BOXES
    boxes = (Place(Rect(left + n * each, box.bottom - PAD - _BOX, each - 1.0, _BOX)) for n in range(_BOXES))
    return join((*drawn, Drawn(places=tuple(boxes))))

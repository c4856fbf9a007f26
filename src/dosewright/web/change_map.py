"""A card before and after it is put right, side by side: what lies where, the cavities that are opened marked."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.packing.card_format import CardFormat
from dosewright.core.packing.plan_values import Card, PackedCavity
from dosewright.core.paper.medicine_words import named_short
from dosewright.core.rework.tasks import CardTask
from dosewright.core.units.ids import MedicineCode
from dosewright.web.card_map import CardMap, CellLine, MapCell, Spot, draw_card, glyph

__all__ = ["BeforeAfter", "draw_before_after"]


@dataclass(frozen=True, slots=True)
class BeforeAfter:
    """Two drawings of one card; an opened cavity has a big mark in the first ("opened") and in the second."""

    before: CardMap
    after: CardMap | None
    opened: int


def draw_before_after(task: CardTask, form: CardFormat, medicines: Mapping[MedicineCode, Medicine], country: str) -> BeforeAfter | None:
    """None for a card that was not there before."""
    if task.before is None:
        return None
    opened = task.opened
    before = _draw(task.before, opened, form, medicines, country)
    after = _draw(_with_all(task.after, task.before), opened, form, medicines, country) if task.after is not None else None
    return BeforeAfter(before, after, len(opened))


def _with_all(after: Card, before: Card) -> Card:
    """The card after, still drawn where nothing at all is left in it."""
    return after if after.cavities else before


def _draw(card: Card, opened: Iterable[Spot], form: CardFormat, medicines: Mapping[MedicineCode, Medicine], country: str) -> CardMap:
    said = {(cavity.row, cavity.column): _cell(cavity, medicines, country) for cavity in card.cavities}
    marked = {spot: _marked(spot, said.get(spot)) for spot in opened}
    return draw_card(card, form, {**said, **marked}, labels_up=True)


def _cell(cavity: PackedCavity, medicines: Mapping[MedicineCode, Medicine], country: str) -> MapCell:
    lines = tuple(CellLine(glyph(c.quantity.count), named_short(medicines[c.medicine], country)) for c in cavity.contents)
    return MapCell(cavity.row, cavity.column, open=True, lines=lines)


def _marked(spot: Spot, cell: MapCell | None) -> MapCell:
    return MapCell(*spot, open=True, place="opened", lines=cell.lines if cell else ())

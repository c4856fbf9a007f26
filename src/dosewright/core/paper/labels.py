"""Label sheets of one person's cards: each card's header and cavity labels where the card format puts them, then continuation headers.

Comes in: one person of a plan. Goes out: pages as large as the label stock, and findings. Nothing is printed outside a label.
"""

from collections.abc import Iterator
from datetime import date, timedelta

from dosewright.core.packing.card_format import Box
from dosewright.core.packing.plan_values import Card, CardColumn, PersonPlan
from dosewright.core.paper.apart_marks import check_second_identifier
from dosewright.core.paper.border import BORDER
from dosewright.core.paper.cavity_labels import draw_cavity_label
from dosewright.core.paper.cavity_text import CavityLabel, keyed_allowed
from dosewright.core.paper.drawn import Drawn, join, once, page_of
from dosewright.core.paper.fields import check_fields
from dosewright.core.paper.header import draw_headers
from dosewright.core.paper.header_text import header_text
from dosewright.core.paper.material import Material
from dosewright.core.paper.page import Page, Rect
from dosewright.core.paper.page_numbers import number_pages
from dosewright.core.units.finding import Fact, Finding, Severity

__all__ = ["draw_labels", "labelled_places"]

_TOO_LITTLE_ROOM = ("paper.cavity-text-does-not-fit", "paper.name-does-not-fit")


def draw_labels(person: PersonPlan, material: Material) -> tuple[tuple[Page, ...], tuple[Finding, ...]]:
    """All label sheets of the person's set, in order of card; findings of every card at once."""
    sheets: list[Page] = []
    findings: list[Finding] = [*_check_supply(person, material)]
    for card in (card for card in person.cards if material.is_labelled(card.number)):
        parts = tuple(_card_sheets(card, person, material))
        about: dict[str, Fact] = {"person": person.person, "card": card.number, "sheet": "labels"}
        pages = [page_of(part, *_sheet_size(material), about) for part in parts]
        unprintable = tuple(finding for part in parts for finding in part.findings)
        # A text that could not be printed was not drawn: only a whole drawing is asked for its fields.
        findings += unprintable or tuple(check_fields(card, person, pages, material))
        sheets += pages
    return number_pages(sheets, _number_box(person, material), material.fonts), once(findings)


def _check_supply(person: PersonPlan, material: Material) -> Iterator[Finding]:
    """What a pharmacist must know before these labels leave: a stamp that is still needed, medicines without any caution on file."""
    if material.pharmacy.by_stamp and person.cards:
        yield Finding("paper.stamp-needed", Severity.NOTE)
    yield from _check_apart(person, material)
    codes = sorted({content.medicine for card in person.cards for cavity in card.cavities for content in cavity.contents})
    for medicine in (material.medicine(code) for code in codes):
        if not medicine.cautions:
            yield Finding("paper.no-cautions", Severity.NOTE, {"medicine": medicine.label})


def _check_apart(person: PersonPlan, material: Material) -> Iterator[Finding]:
    """Somebody whose card could be taken for another's: a second identifier must be there, and a border of their own should be."""
    apart = material.apart.get(person.person)
    if apart is None or not person.cards:
        return
    where: dict[str, Fact] = {"person": person.person}
    yield from check_second_identifier(person.person, material)
    yield Finding("paper.alike" if apart.pattern else "paper.alike-without-border", Severity.NOTE, where, {"others": apart.others})


def _card_sheets(card: Card, person: PersonPlan, material: Material) -> Iterator[Drawn]:
    where: dict[str, Fact] = {"person": person.person, "card": card.number}
    cavities = tuple(_cavity_labels(card, person, material))
    # Where no form fits at the smallest size, every label of the card names its medicines by number, and the header numbers them.
    keyed = keyed_allowed(material) and any(f.code in _TOO_LITTLE_ROOM for part in cavities for f in part.findings)
    if keyed:
        cavities = tuple(_cavity_labels(card, person, material, keyed=True))
    text = header_text(card, person, material, keyed=keyed)
    headers = draw_headers(text, card, material, _rect(material.request.format.sheet.header), where)
    yield join((headers[0], *cavities))
    yield from headers[1:]


def _cavity_labels(card: Card, person: PersonPlan, material: Material, *, keyed: bool = False) -> Iterator[Drawn]:
    who = material.person(person.person)
    filled = {(cavity.row, cavity.column): cavity for cavity in card.cavities}
    for column, row, day in labelled_places(card, material):
        label = CavityLabel(card, column, day, filled.get((row, column.column)), keyed)
        yield draw_cavity_label(label, who, material, _rect(material.request.format.cavity_label(row, column.column)))


def labelled_places(card: Card, material: Material) -> Iterator[tuple[CardColumn, int, date]]:
    """Each place of the card that has a label: its column, its row, its day (the last one, in a column for when it is needed)."""
    for column in card.columns:
        in_use = _doses(card, column) if column.when_needed else _days(card, column, material)
        yield from ((column, row, day) for row, day in in_use if material.cell_is_labelled(card.number, row, column.column))


def _days(card: Card, column: CardColumn, material: Material) -> Iterator[tuple[int, date]]:
    """The rows of a column with their days, as far as they are the card's."""
    for row in range(1, material.request.format.rows + 1):
        day = column.first + timedelta(days=row - 1)
        if card.first <= day <= card.last:
            yield row, day


def _doses(card: Card, column: CardColumn) -> Iterator[tuple[int, date]]:
    """The rows of a column for when it is needed: one a dose, each with the last day on which it may be taken."""
    return ((cavity.row, cavity.day) for cavity in card.cavities if cavity.column == column.column)


def _rect(box: Box) -> Rect:
    return Rect(float(box.left), float(box.top), float(box.width), float(box.height))


def _sheet_size(material: Material) -> tuple[float, float]:
    return float(material.request.format.sheet.width), float(material.request.format.sheet.height)


def _number_box(person: PersonPlan, material: Material) -> Rect:
    """Page numbers stand at the lower right of the header, inside its border where it has one."""
    apart = material.apart.get(person.person)
    border = BORDER + 1.0 if apart and apart.pattern else 0.0
    return _rect(material.request.format.sheet.header).inset(border, border)

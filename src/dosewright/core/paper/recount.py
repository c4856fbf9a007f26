"""The finished labels recounted against the plan: what a reader sees inside each cavity's label is what the plan puts in that cavity (R6).

This looks at the PDF's own letters and the card format's own geometry, not at the pages that were drawn. Comes in: the PDF as read, the
plan. Goes out: a `stop` finding for every label that lacks something, or names a medicine of the set that is not in its cavity (R2).
"""

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import timedelta

from dosewright.core.packing.card_format import Box
from dosewright.core.packing.plan_values import Card, Content, PersonPlan
from dosewright.core.paper.dates import clock, month_day
from dosewright.core.paper.directions import number_style
from dosewright.core.paper.material import Material
from dosewright.core.paper.medicine_words import named_short, placed_words
from dosewright.core.paper.page import MM_PER_POINT, Page
from dosewright.core.paper.pdf_text import Glyph, ReadPage
from dosewright.core.paper.when_needed import ONLY_WHEN_NEEDED, limit_words
from dosewright.core.units.amount_words import format_count
from dosewright.core.units.finding import Fact, Finding, Severity

__all__ = ["LabelRecount"]


@dataclass(frozen=True, slots=True)
class LabelRecount:
    """The recount of a document that is read page by page: `watch` each page, then ask what `lacks` a sheet."""

    cards: Mapping[str, tuple[PersonPlan, Card]]
    material: Material
    seen: set[str] = field(default_factory=set)

    @staticmethod
    def of(people: Iterable[PersonPlan], material: Material) -> "LabelRecount":
        """For the cards of these people that are labelled."""
        cards = ((person, card) for person in people for card in person.cards if material.is_labelled(card.number))
        return LabelRecount({card.number: (person, card) for person, card in cards}, material)

    def watch(self, page: Page, read: ReadPage) -> Iterator[Finding]:
        """Every label of a card's first sheet; the page says only whose it is."""
        number = str(dict(page.about).get("card"))
        for code in page.codes:
            if code.text != number:  # what a code reads as is held against the page by the read-back
                yield Finding("paper.code-of-another", Severity.STOP, dict(page.about), {"text": code.text})
        if number in self.cards and number not in self.seen:
            self.seen.add(number)
            person, card = self.cards[number]
            yield from _check_card(card, person, read, self.material)

    def lacks(self) -> tuple[Finding, ...]:
        """Cards of the plan that had no sheet in the document."""
        without = ((number, person) for number, (person, _) in self.cards.items() if number not in self.seen)
        return tuple(
            Finding("paper.card-without-sheet", Severity.STOP, {"person": person.person, "card": number}) for number, person in without
        )


def _check_card(card: Card, person: PersonPlan, sheet: ReadPage, material: Material) -> Iterator[Finding]:
    form = material.request.format
    labelled = (c for c in card.cavities if material.cell_is_labelled(card.number, c.row, c.column))
    packed = {(cavity.row, cavity.column): cavity.contents for cavity in labelled}
    places = {(row, column): form.cavity_label(row, column) for row in range(1, form.rows + 1) for column in range(1, form.columns + 1)}
    texts = _texts(sheet, places)
    of_set = {content.medicine for other in person.cards for cavity in other.cavities for content in cavity.contents}
    names = {named_short(material.medicine(code), material.country) for code in of_set}
    columns = {column.column: column for column in card.columns}
    for place, contents in packed.items():
        column = columns[place[1]]
        day = column.first + timedelta(days=place[0] - 1)
        where: dict[str, Fact] = {
            "person": person.person,
            "card": card.number,
            "row": place[0],
            "column": place[1],
            "date": day,
            "slot": column.slot,
        }
        keys = _numbers(card, material) if _by_number(material) else {}
        when = (month_day(day), f"{clock(column.time)} {column.slot}")
        if column.when_needed:
            when = ONLY_WHEN_NEEDED, limit_words(column.when_needed, material)
        yield from _lacking(texts[place], when, contents, (material, keys), where)
        here = {named_short(material.medicine(content.medicine), material.country) for content in contents}
        yield from _too_many(texts[place], names - here, here, where)


def _lacking(
    text: str, when: tuple[str, str], contents: Sequence[Content], rest: tuple[Material, dict[str, int]], where: dict[str, Fact]
) -> Iterator[Finding]:
    """Day, dosing time, and each medicine with its amount, as often as the plan has it there."""
    material, keys = rest
    for words in when:
        if words not in text:
            yield Finding("paper.label-lacks", Severity.STOP, where, {"text": words})
    for ways, times in Counter(_ways(content, material, keys) for content in contents).items():
        if sum(len(re.findall(rf"(?<![\w.,]){re.escape(way)}(?!\w)", text)) for way in ways) < times:
            yield Finding("paper.label-lacks", Severity.STOP, where, {"text": ways[0]})


def _too_many(text: str, others: set[str], here: set[str], where: dict[str, Fact]) -> Iterator[Finding]:
    """Medicines of the set that the label names though they are not in its cavity."""
    for name in sorted(others):
        if name in text and not any(name in mine for mine in here):
            yield Finding("paper.label-has-more", Severity.STOP, where, {"text": name})


def _by_number(material: Material) -> bool:
    """Whether the profile lets a cavity name its medicines by their number on the header."""
    return "cavity.contents" not in material.request.profile.required()


def _numbers(card: Card, material: Material) -> dict[str, int]:
    """The header's numbers, counted again: by the medicine's name, then the order's id."""
    held = {(material.medicine(c.medicine).label.casefold(), str(c.order)) for cavity in card.cavities for c in cavity.contents}
    return {order: number for number, (_, order) in enumerate(sorted(held), start=1)}


def _ways(content: Content, material: Material, keys: dict[str, int]) -> tuple[str, ...]:
    """The full and the shorter way in which a label may say so much of this medicine, and by its number where that is allowed."""
    medicine, style = material.medicine(content.medicine), number_style(material)
    name = named_short(medicine, material.country)
    whole, bare = placed_words(medicine, content.quantity, style), format_count(content.quantity.count, style)
    amounts = (whole, bare) if material.request.profile.permits("short_form_in_cavity") else (whole,)
    numbered = (f"{amounts[0]}, medicine {keys[content.order]}",) if content.order in keys else ()
    return (*(f"{amount} {name}" for amount in amounts), *numbered)


def _texts(sheet: ReadPage, places: dict[tuple[int, int], Box]) -> dict[tuple[int, int], str]:
    """What stands in each label. Labels of one height are asked together: most letters of a sheet are in none of them."""
    inside: dict[tuple[int, int], list[Glyph]] = {place: [] for place in places}
    rows: dict[tuple[float, float], list[tuple[float, float, list[Glyph]]]] = defaultdict(list)
    for place, box in places.items():
        row = rows[float(box.top), float(box.top + box.height)]
        row.append((float(box.left), float(box.left + box.width), inside[place]))
    for glyph in sheet.glyphs:
        for (top, bottom), row in rows.items():
            if top <= glyph.baseline < bottom:
                _put(glyph, row)
                break
    return {place: _reading(glyphs) for place, glyphs in inside.items()}


def _put(glyph: Glyph, row: Iterable[tuple[float, float, list[Glyph]]]) -> None:
    for left, right, label in row:
        if left <= glyph.x < right:
            label.append(glyph)
            return


_SPACE = 0.25  # of the type size: a wider gap between one letter's ink and the next one's origin is a space
_SAME_LINE = 0.2  # mm


def _reading(glyphs: list[Glyph]) -> str:
    """The letters line by line, from left to right, with single spaces where gaps are."""
    text, before = "", None
    for glyph in sorted(glyphs, key=lambda g: (round(g.baseline / _SAME_LINE), g.x)):
        if before is not None and _apart(before, glyph):
            text += " "
        text += glyph.text
        before = glyph
    return " ".join(text.split())


def _apart(one: Glyph, other: Glyph) -> bool:
    if abs(one.baseline - other.baseline) > _SAME_LINE:
        return True
    return other.x - one.right > _SPACE * one.size * MM_PER_POINT

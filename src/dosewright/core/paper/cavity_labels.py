"""The label of one cavity: the day in words, the dial with clock time and word, each medicine with its amount, whose card it is.

Comes in: what the plan puts there and the label's box from the card format. Goes out: a `Drawn` part of a page, or a `stop` finding.
"""

from dataclasses import dataclass
from datetime import date

from dosewright.core.packing.plan_values import Card, CardColumn, Content, PackedCavity
from dosewright.core.paper.dates import clock, long_day, month_day
from dosewright.core.paper.directions import number_style
from dosewright.core.paper.drawn import Drawn
from dosewright.core.paper.fit import Block, place_block, set_block
from dosewright.core.paper.material import Material
from dosewright.core.paper.medicine_words import form_beyond_unit, named_short, placed_words
from dosewright.core.paper.page import Dial, Place, Rect, Stroke
from dosewright.core.paper.words import Para, bold, check_paras, given, plain, tied
from dosewright.core.units.amount_words import format_count
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.person import Person

__all__ = ["CavityLabel", "draw_cavity_label"]

DIAL = 3.2  # mm, the dial's radius beside a heading at full size
_EDGE = 0.3  # mm from the label's edge to the hairline that shows it on plain paper
_ACROSS, _DOWN = 1.6, 0.9  # mm kept clear inside the label's edge
_TIME_SIZE, _MEDICINE_SIZE = 9.5, 9.0  # points at full size; the floor is the card format's
_HEADINGS = (1.0, 0.9, 0.8)  # steps of the heading; a smaller one leaves more room for the medicines
_FULL_FORM_DOWN_TO = 8.0  # points: below it the shorter form is tried first


@dataclass(frozen=True, slots=True)
class CavityLabel:
    """What one label is about: the place on the card, its day, and the cavity's contents (none: nothing to take then)."""

    card: Card
    column: CardColumn
    day: date
    cavity: PackedCavity | None

    @property
    def where(self) -> dict[str, Fact]:
        row = (self.day - self.column.first).days + 1
        return {"card": self.card.number, "row": row, "column": self.column.column, "date": self.day, "slot": self.column.slot}


@dataclass(frozen=True, slots=True)
class _Texts:
    """The label's paragraphs: the heading, the medicines in full and in shorter form, the foot."""

    heading: tuple[Para, ...]
    forms: list[tuple[Para, ...]]
    foot: tuple[Para, ...]


@dataclass(frozen=True, slots=True)
class _Try:
    """One way to set a label: a form, down to which size, under a heading of which step."""

    form: tuple[Para, ...]
    lowest: float
    step: float


def draw_cavity_label(label: CavityLabel, person: Person, material: Material, box: Rect) -> Drawn:
    """The label set in its box, in the longest form and largest size that fit."""
    heading, foot = _heading(label, material), _foot(label, person)
    forms = _forms(label, material)
    where = {"person": person.id, **label.where}
    every = (*heading, *foot, *(para for paras in forms for para in paras))
    findings = tuple(check_paras(every, material.fonts, material.country, where))
    if findings:
        return Drawn(findings=findings)
    return _set(label, _Texts(heading, forms, foot), material, box) or Drawn(findings=(_too_much(where, material),))


def _set(label: CavityLabel, texts: _Texts, material: Material, box: Rect) -> Drawn | None:
    """The longest form and largest type that some heading leaves room for."""
    tries = ((form, lowest, step) for form, lowest in zip(texts.forms, _lowest(material), strict=True) for step in _HEADINGS)
    drawn = (_set_at(label, texts, _Try(*one), material, box) for one in tries)
    return next((part for part in drawn if part is not None), None)


def _lowest(material: Material) -> tuple[float, float]:
    """Down to which size the full and the shorter form are tried."""
    floor = float(material.request.format.smallest_type)
    return max(_FULL_FORM_DOWN_TO, floor), floor


def _set_at(label: CavityLabel, texts: _Texts, attempt: _Try, material: Material, box: Rect) -> Drawn | None:
    inner = box.inset(_ACROSS, _DOWN)
    radius = DIAL * attempt.step
    beside = 2 * radius + 1.2
    top = set_block(texts.heading, inner.width - beside, material.fonts, attempt.step)
    bottom = set_block(texts.foot, inner.width, material.fonts)
    if top is None or bottom is None:
        return None
    used = max(top.height, 2 * radius) + 0.4
    body = _body(attempt, inner.width, inner.height - used - bottom.height, material)
    if body is None:
        return None
    runs = (
        *place_block(top, inner.left + beside, inner.top, box),
        *place_block(body, inner.left, inner.top + used, box),
        *place_block(bottom, inner.left, inner.bottom - bottom.height, box),
    )
    edge = Place(box.inset(_EDGE, _EDGE), Stroke.HAIR, radius=1.5)
    return Drawn(runs=runs, places=(edge,), dials=(Dial(inner.left + radius, inner.top + radius, radius, label.column.time),))


def _body(attempt: _Try, width: float, height: float, material: Material) -> Block | None:
    size = _MEDICINE_SIZE
    while size >= attempt.lowest:
        block = set_block(attempt.form, width, material.fonts, size / _MEDICINE_SIZE)
        if block is not None and block.height <= height:
            return block
        size -= 0.25
    return None


def _heading(label: CavityLabel, material: Material) -> tuple[Para, ...]:
    floor = float(material.request.format.smallest_type)
    day = long_day(label.day) if material.request.format.roll else month_day(label.day)
    when = f"{clock(label.column.time)} {label.column.slot}"
    if label.column.parts > 1:
        when += f", part {label.column.part} of {label.column.parts}"
    return Para((bold(day),), _TIME_SIZE, floor), Para((bold(when),), _TIME_SIZE, floor)


def _foot(label: CavityLabel, person: Person) -> tuple[Para, ...]:
    return (Para((given(person.name),), 7.0, 7.0),)


def _forms(label: CavityLabel, material: Material) -> list[tuple[Para, ...]]:
    floor = float(material.request.format.smallest_type)
    if label.cavity is None:
        nothing = (Para((plain("nothing to take"),), _MEDICINE_SIZE, floor),)
        return [nothing, nothing]
    contents = label.cavity.contents
    return [tuple(_line(content, material, floor, short=short) for content in contents) for short in (False, True)]


def _line(content: Content, material: Material, floor: float, *, short: bool) -> Para:
    medicine = material.medicine(content.medicine)
    country = material.country
    style = number_style(material)
    if short and not material.has_a_double(medicine):
        amount, name = format_count(content.quantity.count, style), named_short(medicine, country)
    else:
        amount, name = placed_words(medicine, content.quantity, style), f"{named_short(medicine, country)} {form_beyond_unit(medicine)}"
    return Para((bold(amount), tied(name)), _MEDICINE_SIZE, floor, indent=2.0)


def _too_much(where: dict[str, Fact], material: Material) -> Finding:
    return Finding("paper.cavity-text-does-not-fit", Severity.STOP, where, {"size": str(material.request.format.smallest_type)})

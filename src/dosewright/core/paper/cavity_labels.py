"""The label of one cavity: the day in words, the dial with clock time and word, each medicine with its amount, whose card it is.

Comes in: what the plan puts there and the label's box from the card format. Goes out: a `Drawn` part of a page, or a `stop` finding.
"""

from dataclasses import dataclass, replace

from dosewright.core.paper.cavity_text import MEDICINE_SIZE, CavityLabel, CavityTexts, cavity_texts
from dosewright.core.paper.copies import copy_mark
from dosewright.core.paper.drawn import Drawn
from dosewright.core.paper.fit import Block, best_block, place_block, set_block
from dosewright.core.paper.header_blame import name_too_long
from dosewright.core.paper.material import Material
from dosewright.core.paper.page import Dial, Place, Rect, Stroke
from dosewright.core.paper.words import Para, bold, check_paras, given
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.person import Person

__all__ = ["draw_cavity_label", "room_at_least", "width_inside"]

DIAL = 3.2  # mm, the dial's radius beside a heading at full size
_EDGE = 0.3  # mm from the label's edge to the hairline that shows it on plain paper
_ACROSS, _DOWN = 1.6, 0.7  # mm kept clear inside the label's edge
_BESIDE, _UNDER = 1.2, 0.3  # mm between the dial and the heading, and below both
_HEADINGS = (1.0, 0.9, 0.8, 0.74)  # steps of the heading; a smaller one leaves more room for the medicines
_FULL_FORM_DOWN_TO = 8.0  # points: below it the shorter form is tried first


@dataclass(frozen=True, slots=True)
class _Try:
    """One way to set a label: a form, down to which size, under a heading of which step."""

    form: tuple[Para, ...]
    lowest: float
    step: float


def draw_cavity_label(label: CavityLabel, person: Person, material: Material, box: Rect) -> Drawn:
    """The label set in its box, in the longest form and largest size that fit."""
    texts = cavity_texts(label, person, material)
    where = {"person": person.id, **label.where}
    about = (*texts.heading, *(para for paras in texts.forms for para in paras))
    # What is wrong with the name is wrong on every label: it is found in the same words everywhere, so that it is said once.
    findings = (
        *check_paras(texts.foot, material.fonts, material.country, {"person": person.id}),
        *check_paras(about, material.fonts, material.country, where),
    )
    if findings:
        return Drawn(findings=findings)
    return _set(label, texts, material, box) or Drawn(findings=(_to_blame(label, texts, person, material, box),))


def _set(label: CavityLabel, texts: CavityTexts, material: Material, box: Rect) -> Drawn | None:
    """The longest form and largest type that some heading leaves room for."""
    tries = ((form, lowest, step) for form, lowest in zip(texts.forms, _lowest(material), strict=True) for step in _HEADINGS)
    drawn = (_set_at(label, texts, _Try(*one), material, box) for one in tries)
    return next((part for part in drawn if part is not None), None)


def _lowest(material: Material) -> tuple[float, float]:
    """Down to which size the full and the shorter form are tried."""
    floor = material.smallest_in_cavity
    return max(_FULL_FORM_DOWN_TO, floor), floor


def _set_at(label: CavityLabel, texts: CavityTexts, attempt: _Try, material: Material, box: Rect) -> Drawn | None:
    inner = box.inset(_ACROSS, _DOWN)
    radius = 0.0 if label.column.when_needed else DIAL * attempt.step
    beside = 2 * radius + _BESIDE if radius else 0.0
    top = set_block(texts.heading, inner.width - beside, material.fonts, attempt.step)
    bottom = _foot(texts.foot, inner.width, material)
    if top is None or bottom is None:
        return None
    used = max(top.height, 2 * radius) + _UNDER
    body = _body(attempt, inner.width, inner.height - used - bottom.height, material)
    if body is None:
        return None
    runs = (
        *place_block(top, inner.left + beside, inner.top, box),
        *place_block(body, inner.left, inner.top + used, box),
        *place_block(bottom, inner.left, inner.bottom - bottom.height, box),
    )
    edge = Place(box.inset(_EDGE, _EDGE), Stroke.HAIR, radius=1.5)
    dials = (Dial(inner.left + radius, inner.top + radius, radius, label.column.time),) if radius else ()
    return Drawn(runs=runs, places=(edge,), dials=dials)


def _foot(foot: tuple[Para, ...], width: float, material: Material) -> Block | None:
    """The person's name; of a further copy also which it is, where the name's own lines have the room. The header always says it."""
    alone = set_block(foot, width, material.fonts)
    if alone is None or not copy_mark(material.copy):
        return alone
    marked = set_block((*foot[:-1], replace(foot[-1], words=(*foot[-1].words, bold(copy_mark(material.copy))))), width, material.fonts)
    return marked if marked is not None and marked.height == alone.height else alone


def room_at_least(texts: CavityTexts, box: Rect, material: Material) -> float:
    """Millimetres left for the medicines under the smallest heading; none where heading or foot do not fit."""
    inner, step = box.inset(_ACROSS, _DOWN), _HEADINGS[-1]
    radius = DIAL * step
    top = set_block(texts.heading, inner.width - 2 * radius - _BESIDE, material.fonts, step)
    bottom = set_block(texts.foot, inner.width, material.fonts)
    if top is None or bottom is None:
        return 0.0
    return inner.height - max(top.height, 2 * radius) - _UNDER - bottom.height


def width_inside(box: Rect) -> float:
    """Millimetres across for the medicines."""
    return box.inset(_ACROSS, _DOWN).width


def _body(attempt: _Try, width: float, height: float, material: Material) -> Block | None:
    sizes = (MEDICINE_SIZE - 0.25 * n for n in range(int((MEDICINE_SIZE - attempt.lowest) / 0.25 + 1e-9) + 1))
    return best_block(((size, set_block(attempt.form, width, material.fonts, size / MEDICINE_SIZE)) for size in sizes), height)


def _to_blame(label: CavityLabel, texts: CavityTexts, person: Person, material: Material, box: Rect) -> Finding:
    """The name, where a name of one line would leave room enough; else the medicines."""
    where: dict[str, Fact] = {"person": person.id, **label.where}
    if _set(label, replace(texts, foot=(replace(texts.foot[0], words=(given("–"),)),)), material, box):
        return name_too_long(person.name, where)
    return Finding("paper.cavity-text-does-not-fit", Severity.STOP, where, {"size": f"{material.smallest_in_cavity:g}"})

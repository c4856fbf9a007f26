"""Text set in a box, for any sheet: checked, fitted, placed, or the findings why not.

Comes in: paragraphs, a box, and a `Setting` that says in which fonts and by whose rules. Goes out: a `Drawn` part.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from dosewright.core.paper.drawn import Drawn
from dosewright.core.paper.fit import Block, fit_block, place_block, set_block
from dosewright.core.paper.fonts import FontSet
from dosewright.core.paper.material import Material
from dosewright.core.paper.page import About, Rect, Zone
from dosewright.core.paper.words import Para, check_paras
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import PersonId

__all__ = ["Setting", "measure", "set_in", "setting_of", "words_of"]


@dataclass(frozen=True, slots=True)
class Setting:
    """In which fonts text is set, by whose text rules, and whose sheet it is (for findings)."""

    fonts: FontSet
    country: str
    where: Mapping[str, Fact] = field(default_factory=dict)
    dpi: int = 203  # of the printer, for codes: the coarsest in use where none is measured


def setting_of(material: Material, person: PersonId | str) -> Setting:
    """The material's fonts and rules; findings name the person, or the home of a sheet for many."""
    return Setting(material.fonts, material.country, {"person": str(person)}, material.printer.dpi)


def set_in(paras: Sequence[Para], box: Rect, setting: Setting, share: float = 0.0, about: About = ()) -> Drawn:
    """The paragraphs in their box at the largest step that fits, `share` of what is left above them; `about` makes the text a zone."""
    where = dict(setting.where)
    found = tuple(check_paras(paras, setting.fonts, setting.country, where))
    if found:
        return Drawn(findings=found)
    block = fit_block(paras, box.width, box.height, setting.fonts)
    if block is None:
        return Drawn(findings=(Finding("paper.text-does-not-fit", Severity.STOP, where, {"text": words_of(paras)}),))
    top = box.top + (box.height - block.height) * share
    zones = (Zone(Rect(box.left, top, box.width, block.height), about),) if about else ()
    return Drawn(runs=place_block(block, box.left, top, box), zones=zones)


def measure(paras: Sequence[Para], width: float, setting: Setting) -> Block | tuple[Finding, ...]:
    """The paragraphs at their full size, however high, or the findings why they cannot be set."""
    where = dict(setting.where)
    found = tuple(check_paras(paras, setting.fonts, setting.country, where))
    if found:
        return found
    block = set_block(paras, width, setting.fonts)
    return block or (Finding("paper.text-does-not-fit", Severity.STOP, where, {"text": words_of(paras)}),)


def words_of(paras: Iterable[Para]) -> str:
    """The paragraphs as one line of text."""
    return " ".join(words.text for para in paras for words in para.words).replace("\u00a0", " ")

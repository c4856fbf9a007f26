"""Why a header cannot be set: the words that no line may part and no line holds, else the field or the entry that is too long.

Comes in: the header's text and where it must fit. Goes out: one `stop` finding, which names what has to be written shorter.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace

from dosewright.core.paper.fit import STEPS, set_block, too_wide
from dosewright.core.paper.fonts import FontSet
from dosewright.core.paper.header_text import HeaderText
from dosewright.core.paper.setting import words_of
from dosewright.core.paper.words import Para, given
from dosewright.core.units.finding import Fact, Finding, Severity

__all__ = ["entry_to_blame", "field_to_blame", "name_too_long"]


def name_too_long(name: str, where: dict[str, Fact]) -> Finding:
    """A person's name is what keeps a label from being set: said once a person, whichever labels it is."""
    return Finding("paper.name-does-not-fit", Severity.STOP, {"person": where["person"]}, {"text": name})


def field_to_blame(text: HeaderText, fits: Callable[[HeaderText], bool], where: dict[str, Fact]) -> Finding:
    """Of what stands on every header: the one field without which it would fit, the name first; all of them where it is no single one."""
    short = Para((given("–"),), 7.0, 7.0)
    if fits(replace(text, strip=(short, *text.strip[1:]))):
        return name_too_long(words_of(text.strip[:1]), where)
    others = (
        (text.strip[1:-1], replace(text, strip=(text.strip[0], short, text.strip[-1]))),
        (text.foot[:1], replace(text, foot=(short, *text.foot[1:]))),
        (text.foot[1:-1], replace(text, foot=(text.foot[0], short, text.foot[-1]))),
    )
    for paras, without in others:
        if paras and fits(without):
            return Finding("paper.header-field-does-not-fit", Severity.STOP, where, {"text": words_of(paras)})
    return Finding("paper.header-does-not-fit", Severity.STOP, where)


def entry_to_blame(entries: Sequence[tuple[Para, ...]], width: float, height: float, fonts: FontSet, where: dict[str, Fact]) -> Finding:
    """Of what flows over the headers' columns: words wider than a column, else the first entry that is higher than one."""
    for entry in entries:
        if wide := too_wide(entry, width, fonts):
            return Finding("paper.header-word-does-not-fit", Severity.STOP, where, {"text": wide})
    long = next((entry for entry in entries if (block := set_block(entry, width, fonts, STEPS[-1])) and block.height > height), entries[0])
    return Finding("paper.header-entry-does-not-fit", Severity.STOP, where, {"text": words_of(long[:1])})

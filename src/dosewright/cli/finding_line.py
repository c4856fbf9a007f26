"""A finding as one line of a terminal: how grave, whose, which order, and the sentence."""

from dosewright.core.paper.say import say
from dosewright.core.units.finding import Finding

__all__ = ["line_of"]


def line_of(finding: Finding) -> str:
    """ "decide: p1, o4: the directions …". The sentence's own line breaks become blanks."""
    sentence = " ".join(say(finding).split())
    named = ("person", "order") if str(finding.where.get("file", "")) in sentence else ("person", "order", "file", "line", "resource")
    about = [f"line {finding.where[name]}" if name == "line" else str(finding.where[name]) for name in named if finding.where.get(name)]
    return f"{finding.severity}: {', '.join(about)}: {sentence}" if about else f"{finding.severity}: {sentence}"

"""Part of a page, or what keeps it off paper. Parts are joined; a page is made only from parts without a `stop`."""

from collections.abc import Iterable
from dataclasses import dataclass

from dosewright.core.paper.page import Code, Dial, Figure, Line, Page, Place, Run, Zone
from dosewright.core.units.finding import Fact, Finding

__all__ = ["Drawn", "join", "once", "page_of"]


@dataclass(frozen=True, slots=True)
class Drawn:
    """What a drawing function gives: things to draw, findings, or both (a `note` beside what is drawn)."""

    runs: tuple[Run, ...] = ()
    lines: tuple[Line, ...] = ()
    places: tuple[Place, ...] = ()
    dials: tuple[Dial, ...] = ()
    codes: tuple[Code, ...] = ()
    figures: tuple[Figure, ...] = ()
    findings: tuple[Finding, ...] = ()
    zones: tuple[Zone, ...] = ()


def join(parts: Iterable[Drawn]) -> Drawn:
    """All parts as one, in order."""
    every = tuple(parts)
    return Drawn(
        tuple(run for part in every for run in part.runs),
        tuple(line for part in every for line in part.lines),
        tuple(place for part in every for place in part.places),
        tuple(dial for part in every for dial in part.dials),
        tuple(code for part in every for code in part.codes),
        tuple(figure for part in every for figure in part.figures),
        tuple(finding for part in every for finding in part.findings),
        tuple(zone for part in every for zone in part.zones),
    )


def page_of(drawn: Drawn, width: float, height: float, about: dict[str, Fact]) -> Page:
    """The page that holds the part."""
    parts = (drawn.runs, drawn.lines, drawn.places, drawn.dials, drawn.codes)
    return Page(width, height, tuple(about.items()), *parts, figures=drawn.figures, zones=drawn.zones)


def once(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Each finding once, in order: the same text stands on many pages."""
    return tuple({repr(finding): finding for finding in findings}.values())

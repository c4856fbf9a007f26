"""A page as values: runs of text, lines, rectangles, figures, dials and codes, each where it lies. Nothing here measures or draws.

Lengths are millimetres from the page's upper left corner, to the right and down; type sizes are points (1 point = 0.3528 mm). A run's
`box` is the rectangle that its ink must keep to; the read-back of the finished PDF holds it to that.
"""

from dataclasses import dataclass
from datetime import time
from enum import StrEnum

from dosewright.core.units.finding import Fact

__all__ = [
    "MM_PER_POINT",
    "About",
    "Code",
    "Dial",
    "Face",
    "Figure",
    "Kind",
    "Line",
    "Page",
    "Place",
    "Polygon",
    "Rect",
    "Run",
    "Shade",
    "Stroke",
    "Zone",
]

MM_PER_POINT = 25.4 / 72  # exact: an inch is 25.4 mm and 72 points


class Face(StrEnum):
    """The two weights. Italics are not used: they are harder to read."""

    REGULAR = "regular"
    BOLD = "bold"


class Kind(StrEnum):
    """What a run says: `MEDICINE` text obeys the safe-text rules; `GIVEN` is printed as it was given (names, addresses, numbers)."""

    MEDICINE = "medicine"
    GIVEN = "given"


@dataclass(frozen=True, slots=True)
class Rect:
    """Left, top, width, height in millimetres."""

    left: float
    top: float
    width: float
    height: float

    @property
    def right(self) -> float:
        return self.left + self.width

    @property
    def bottom(self) -> float:
        return self.top + self.height

    def inset(self, across: float, down: float) -> "Rect":
        """The same rectangle, smaller by that much on each side."""
        return Rect(self.left + across, self.top + down, self.width - 2 * across, self.height - 2 * down)


@dataclass(frozen=True, slots=True)
class Run:
    """One stretch of text on one line in one font. `floor` is the smallest size allowed for it, in points."""

    text: str
    x: float
    baseline: float
    width: float
    size: float
    floor: float
    face: Face
    kind: Kind
    box: Rect


class Stroke(StrEnum):
    """Line weights: a hairline between things, a plain rule, a heavy one around what belongs together."""

    HAIR = "hair"
    PLAIN = "plain"
    HEAVY = "heavy"


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line."""

    x1: float
    y1: float
    x2: float
    y2: float
    stroke: Stroke = Stroke.HAIR


class Shade(StrEnum):
    """What a rectangle is filled with: nothing, or hatching that any printer and copier keeps."""

    NONE = "none"
    HATCHED = "hatched"


@dataclass(frozen=True, slots=True)
class Place:
    """A rectangle drawn: a cavity of a map, a box to sign."""

    rect: Rect
    stroke: Stroke = Stroke.HAIR
    shade: Shade = Shade.NONE
    radius: float = 0.0


@dataclass(frozen=True, slots=True)
class Dial:
    """The 24-hour dial at a clock time: its centre and radius."""

    x: float
    y: float
    radius: float
    at: time


@dataclass(frozen=True, slots=True)
class Code:
    """A square DataMatrix symbol (ISO/IEC 16022, ECC 200) with `text`; `module` is one module's side, `rect` includes the quiet zone."""

    text: str
    rect: Rect
    module: float


Polygon = tuple[tuple[float, float], ...]  # corners in millimetres; closed


@dataclass(frozen=True, slots=True)
class Figure:
    """Black shapes, each of polygons filled by the even-odd rule, all within `box`. `text`: what they say where they are letters."""

    shapes: tuple[tuple[Polygon, ...], ...]
    box: Rect
    text: str = ""


About = tuple[str, ...]  # what a part of a page is about: a kind, then ids: ("take", person, dosing time, order)


@dataclass(frozen=True, slots=True)
class Zone:
    """A part of the page that says one thing and nothing else. The finished PDF is recounted zone by zone (`zone_recount`)."""

    rect: Rect
    about: About


@dataclass(frozen=True, slots=True)
class Page:
    """One page. `about` says for findings whose page it is: person, card, sheet."""

    width: float
    height: float
    about: tuple[tuple[str, Fact], ...]
    runs: tuple[Run, ...] = ()
    lines: tuple[Line, ...] = ()
    places: tuple[Place, ...] = ()
    dials: tuple[Dial, ...] = ()
    codes: tuple[Code, ...] = ()
    figures: tuple[Figure, ...] = ()
    zones: tuple[Zone, ...] = ()

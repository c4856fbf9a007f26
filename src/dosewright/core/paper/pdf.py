"""Pages become a PDF: vector, black on white, fonts embedded, the same bytes for the same pages (R18).

Comes in: `Page` values and the fonts they were measured with. Goes out: PDF 1.4 with title, language and tags; ReportLab's canvas.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import time
from io import BytesIO
from itertools import groupby
from typing import Any

from reportlab import rl_config
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from dosewright.core.paper.datamatrix import dark_stretches
from dosewright.core.paper.dial import hand, night_chords
from dosewright.core.paper.fonts import Font, FontSet
from dosewright.core.paper.operators import figure_ops, line_ops, number, rect_ops, round_rect_ops, string_ops
from dosewright.core.paper.outlined import outline_of
from dosewright.core.paper.page import MM_PER_POINT, Code, Dial, Face, Figure, Line, Page, Place, Run, Shade, Stroke
from dosewright.core.paper.printer import AS_DRAWN, Correction
from dosewright.core.paper.shaping import ShapedFont
from dosewright.core.paper.tags import Marks, Tags

__all__ = ["Heading", "write_pdf"]

# Streams stay binary: the letters-only form is a quarter larger and half the time of writing.
rl_config.useA85 = 0

_POINTS = 1 / MM_PER_POINT
_WEIGHTS = {Stroke.HAIR: 0.4, Stroke.PLAIN: 0.8, Stroke.HEAVY: 1.6}  # points
_HATCH = 1.2  # mm between the lines of a hatching


@dataclass(frozen=True, slots=True)
class Heading:
    """What the PDF says of itself."""

    title: str
    author: str
    subject: str
    lang: str


def write_pdf(pages: Sequence[Page], fonts: FontSet, heading: Heading, correction: Correction = AS_DRAWN) -> bytes:
    """The document, moved and stretched as the printer's correction asks.

    Raises ValueError for no page at all, and for a run that no font can draw.
    """
    if not pages:
        raise ValueError("a document needs a page")
    out = BytesIO()
    _register(fonts)
    first = fonts.faces[Face.REGULAR][0].name
    canvas = Canvas(out, invariant=1, pageCompression=1, lang=heading.lang, initialFontName=first, pdfVersion=(1, 4))  # type: ignore[arg-type]
    canvas.setTitle(heading.title)
    canvas.setAuthor(heading.author)
    canvas.setSubject(heading.subject)
    canvas.setCreator("Dosewright")
    canvas.setProducer("Dosewright")
    known = _Known()
    tags = Tags(canvas)
    for page in pages:
        canvas.setPageSize((page.width * _POINTS, page.height * _POINTS))
        if correction != AS_DRAWN:
            canvas.addLiteral(_corrected(correction, page.height))
        drawing = _Drawing(canvas, page, fonts, known)
        drawing.draw()
        canvas.showPage()
        tags.close_page(drawing.marks)
    tags.close()
    canvas.save()
    return out.getvalue()


def _corrected(correction: Correction, height: float) -> str:
    """The operator that moves and stretches a page; PDF counts up from the lower edge."""
    across, along = float(correction.across), float(correction.along)
    right, up = float(correction.right) * _POINTS, (height * (1 - along) - float(correction.down)) * _POINTS
    return f"{across:.6f} 0 0 {along:.6f} {number(right)} {number(up)} cm"


def _register(fonts: FontSet) -> None:
    # ReportLab keeps fonts in a table of the process, and takes two files with one face name for the same font. Our name holds a hash of
    # the bytes, and the face gets it too: one name is one file.
    for font in (font for family in fonts.faces.values() for font in family):
        if font.name not in pdfmetrics.getRegisteredFontNames():
            made = TTFont(font.name, BytesIO(font.data))
            made.face.name = font.name.encode("ascii")
            pdfmetrics.registerFont(made)


@dataclass(frozen=True, slots=True)
class _Known:
    """What one document has already: dials and frames that were drawn as forms, and texts as strings of its fonts' subsets."""

    dials: set[time] = field(default_factory=set)
    frames: dict[tuple[float, tuple[Place, ...], tuple[Line, ...], tuple[Dial, ...]], str] = field(default_factory=dict)
    strings: dict[tuple[str, float, str], list[tuple[str, str]]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class _Drawing:
    """One page being drawn: millimetres down become points up."""

    canvas: Canvas
    page: Page
    fonts: FontSet
    known: _Known
    marks: Marks = field(default_factory=Marks)

    def draw(self) -> None:
        self.canvas.addLiteral("/Artifact BMC")
        self._frame()
        for figure in self.page.figures:
            self._figure(figure)
        self.canvas.addLiteral("EMC")
        self._runs()
        for code in self.page.codes:
            self._code(code)

    def _frame(self) -> None:
        """Places, lines and dials: pages that have the same share one form, which a document has once."""
        frame = (self.page.height, self.page.places, self.page.lines, self.page.dials)
        name = self.known.frames.get(frame)
        if name is None:
            name = self.known.frames[frame] = f"frame{len(self.known.frames) + 1}"
            self._faces()
            self.canvas.beginForm(name, 0, 0, self._x(self.page.width), self._x(self.page.height))
            for place in self.page.places:
                self._place(place)
            for line in self.page.lines:
                self._line(line)
            for dial in self.page.dials:
                self._dial(dial)
            self.canvas.endForm()
        self.canvas.doForm(name)

    def _x(self, across: float) -> float:
        return across * _POINTS

    def _y(self, down: float) -> float:
        return (self.page.height - down) * _POINTS

    def _runs(self) -> None:
        """Runs that share a box are one paragraph. In it, runs of text that follow each other are marked as one stretch."""
        before = ""
        for _, paragraph in groupby(self.page.runs, key=lambda run: run.box):
            numbers: list[int] = []
            text: list[tuple[Run, Font]] = []
            for run in paragraph:
                font = self.fonts.font_for(run.text, run.face)
                if isinstance(font, Font):
                    text.append((run, font))
                    continue
                before = self._text(text, numbers, before)
                text.clear()
                self._outlined(run, font, numbers)
            before = self._text(text, numbers, before)
            self.marks.add("P", numbers)

    def _text(self, runs: Sequence[tuple[Run, Font]], numbers: list[int], before: str) -> str:
        """The runs as one stretch of text; `before` is the font that the page has last. Gives the font that it has then."""
        if not runs:
            return before
        numbers.append(self.marks.next())
        ops = [f"/P <</MCID {numbers[-1]}>> BDC", "BT"]
        for run, font in runs:
            ops.append(f"1 0 0 1 {number(self._x(run.x))} {number(self._y(run.baseline))} Tm")
            for font_ops, shown in self._shown(run, font):
                if font_ops != before:
                    ops.append(font_ops)
                    before = font_ops
                ops.append(shown)
        self.canvas.addLiteral("\n".join((*ops, "ET", "EMC")))
        return before

    def _shown(self, run: Run, font: Font) -> list[tuple[str, str]]:
        """The text as strings of the font's subsets, each with the operator that chooses the subset: one, unless it has rare letters."""
        key = (font.name, run.size, run.text)
        if key not in self.known.strings:
            made: Any = pdfmetrics.getFont(font.name)
            document: Any = self.canvas._doc  # type: ignore[attr-defined]  # the subsets belong to the document; ReportLab's own text objects ask for them in the same way
            self.known.strings[key] = [
                (f"{made.getSubsetInternalName(subset, document)} {number(run.size)} Tf", string_ops(data))
                for subset, data in made.splitString(run.text, document)
            ]
        return self.known.strings[key]

    def _outlined(self, run: Run, font: ShapedFont | None, numbers: list[int]) -> None:
        """A run in a script that must be shaped, as a figure. Raises ValueError where no font draws it."""
        if font is None:
            raise ValueError(f"no font draws {run.text!r}")
        numbers.append(self.marks.next())
        self._figure(outline_of(run, font), numbers[-1])

    def _line(self, line: Line) -> None:
        ends = (self._x(line.x1), self._y(line.y1), self._x(line.x2), self._y(line.y2))
        self.canvas.addLiteral(f"{_WEIGHTS[line.stroke]} w {line_ops(*ends)}")

    def _place(self, place: Place) -> None:
        rect = place.rect
        sides = (self._x(rect.left), self._y(rect.bottom), self._x(rect.width), self._x(rect.height))
        if place.shade is Shade.HATCHED:
            self._hatch(place)
        outline = round_rect_ops(*sides, self._x(place.radius)) if place.radius else rect_ops(*sides)
        self.canvas.addLiteral(f"{_WEIGHTS[place.stroke]} w {outline}")

    def _hatch(self, place: Place) -> None:
        rect = place.rect
        lines = (
            line_ops(self._x(rect.left + x1), self._y(rect.top + y1), self._x(rect.left + x2), self._y(rect.top + y2))
            for (x1, y1), (x2, y2) in _diagonals(rect.width, rect.height)
        )
        self.canvas.addLiteral(" ".join(("0.25 w", *lines)))

    def _figure(self, figure: Figure, mark: int | None = None) -> None:
        shapes = [[[(self._x(x), self._y(y)) for x, y in polygon] for polygon in shape] for shape in figure.shapes]
        self.canvas.addLiteral(figure_ops(shapes, figure.text, mark))

    def _faces(self) -> None:
        """The forms of the page's dials that the document has not yet."""
        for at in dict.fromkeys(dial.at for dial in self.page.dials if dial.at not in self.known.dials):
            self.known.dials.add(at)
            _draw_face(self.canvas, _face(at), at)

    def _dial(self, dial: Dial) -> None:
        self.canvas.saveState()
        self.canvas.transform(self._x(dial.radius), 0, 0, self._x(dial.radius), self._x(dial.x), self._y(dial.y))
        self.canvas.doForm(_face(dial.at))
        self.canvas.restoreState()

    def _code(self, code: Code) -> None:
        side = code.module
        # Counted in modules, from the upper left corner of the symbol: whole numbers, and one scale for all of them.
        dark = (f"{first + 1} {-row - 2} {count} 1 re" for row, first, count in dark_stretches(code.text))
        scale = f"{self._x(side):.5f} 0 0 {self._x(side):.5f} {number(self._x(code.rect.left))} {number(self._y(code.rect.top))} cm"
        mark = self.marks.next()
        self.canvas.addLiteral(" ".join((f"/Figure <</MCID {mark}>> BDC q", scale, *dark, "f Q EMC")))
        self.marks.add("Figure", [mark], f"code of number {code.text}")


def _face(at: time) -> str:
    return f"dial{at:%H%M}"


def _draw_face(canvas: Canvas, name: str, at: time) -> None:
    """The dial as a form of radius 1, drawn once a document."""
    canvas.beginForm(name, -2, -2, 2, 2)
    canvas.setLineWidth(0.05)
    for left, right, height in night_chords():
        canvas.line(left, height, right, height)
    canvas.setLineWidth(0.12)
    canvas.circle(0, 0, 1, stroke=1, fill=0)
    canvas.setLineWidth(0.24)
    canvas.setLineCap(1)
    canvas.line(0, 0, *hand(at))
    canvas.endForm()


def _diagonals(width: float, height: float) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """Lines rising to the right across a rectangle, `_HATCH` apart along its edges."""
    found, reach = [], _HATCH
    while reach < width + height:
        start = (0.0, reach) if reach <= height else (reach - height, height)
        end = (reach, 0.0) if reach <= width else (width, reach - width)
        found.append((start, end))
        reach += _HATCH
    return found

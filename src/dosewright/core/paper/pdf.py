"""Pages become a PDF: vector, black on white, fonts embedded, the same bytes for the same pages (R18).

Comes in: `Page` values and the fonts they were measured with. Goes out: PDF bytes with title and language. PDF 1.4, ReportLab's canvas.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import time
from io import BytesIO

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from dosewright.core.paper.datamatrix import dark_stretches
from dosewright.core.paper.dial import hand, night_chords
from dosewright.core.paper.fonts import FontSet
from dosewright.core.paper.page import MM_PER_POINT, Code, Dial, Face, Line, Page, Place, Shade, Stroke

__all__ = ["Heading", "write_pdf"]

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


def write_pdf(pages: Sequence[Page], fonts: FontSet, heading: Heading) -> bytes:
    """The document. Raises ValueError for no page at all, and for a run that no font can draw."""
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
    known: set[time] = set()
    for page in pages:
        canvas.setPageSize((page.width * _POINTS, page.height * _POINTS))
        _Drawing(canvas, page, fonts).draw(known)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def _register(fonts: FontSet) -> None:
    # ReportLab keeps fonts in a table of the process, and takes two files with one face name for the same font. Our name holds a hash of
    # the bytes, and the face gets it too: one name is one file.
    for font in (font for family in fonts.faces.values() for font in family):
        if font.name not in pdfmetrics.getRegisteredFontNames():
            made = TTFont(font.name, BytesIO(font.data))
            made.face.name = font.name.encode("ascii")
            pdfmetrics.registerFont(made)


@dataclass(frozen=True, slots=True)
class _Drawing:
    """One page being drawn: millimetres down become points up."""

    canvas: Canvas
    page: Page
    fonts: FontSet

    def draw(self, known: set[time]) -> None:
        for place in self.page.places:
            self._place(place)
        for line in self.page.lines:
            self._line(line)
        for dial in self.page.dials:
            self._dial(dial, known)
        for code in self.page.codes:
            self._code(code)
        self._runs()

    def _x(self, across: float) -> float:
        return across * _POINTS

    def _y(self, down: float) -> float:
        return (self.page.height - down) * _POINTS

    def _runs(self) -> None:
        text = self.canvas.beginText()
        for run in self.page.runs:
            font = self.fonts.font_for(run.text, run.face)
            if font is None:
                raise ValueError(f"no font draws {run.text!r}")
            text.setFont(font.name, run.size)
            text.setTextOrigin(self._x(run.x), self._y(run.baseline))
            text.textOut(run.text)
        self.canvas.drawText(text)

    def _line(self, line: Line) -> None:
        self.canvas.setLineWidth(_WEIGHTS[line.stroke])
        self.canvas.line(self._x(line.x1), self._y(line.y1), self._x(line.x2), self._y(line.y2))

    def _place(self, place: Place) -> None:
        rect = place.rect
        self.canvas.setLineWidth(_WEIGHTS[place.stroke])
        args = (self._x(rect.left), self._y(rect.bottom), self._x(rect.width), self._x(rect.height))
        if place.shade is Shade.HATCHED:
            self._hatch(place)
        if place.radius:
            self.canvas.roundRect(*args, self._x(place.radius), stroke=1, fill=0)
        else:
            self.canvas.rect(*args, stroke=1, fill=0)

    def _hatch(self, place: Place) -> None:
        rect = place.rect
        path = self.canvas.beginPath()
        for start, end in _diagonals(rect.width, rect.height):
            path.moveTo(self._x(rect.left + start[0]), self._y(rect.top + start[1]))
            path.lineTo(self._x(rect.left + end[0]), self._y(rect.top + end[1]))
        self.canvas.saveState()
        self.canvas.setLineWidth(0.25)
        self.canvas.drawPath(path, stroke=1, fill=0)
        self.canvas.restoreState()

    def _dial(self, dial: Dial, known: set[time]) -> None:
        name = f"dial{dial.at:%H%M}"
        if dial.at not in known:
            known.add(dial.at)
            _draw_face(self.canvas, name, dial.at)
        self.canvas.saveState()
        self.canvas.transform(self._x(dial.radius), 0, 0, self._x(dial.radius), self._x(dial.x), self._y(dial.y))
        self.canvas.doForm(name)
        self.canvas.restoreState()

    def _code(self, code: Code) -> None:
        path = self.canvas.beginPath()
        side = code.module
        for row, first, count in dark_stretches(code.text):
            left, top = code.rect.left + (first + 1) * side, code.rect.top + (row + 1) * side
            path.rect(self._x(left), self._y(top + side), self._x(count * side), self._x(side))
        self.canvas.drawPath(path, stroke=0, fill=1)


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

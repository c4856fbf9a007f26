"""Pages become a PDF: vector, black on white, fonts embedded, the same bytes for the same pages (R18).

Comes in: `Page` values and the fonts they were measured with, one page after the other. Goes out: PDF 1.4 with title, language and tags.
Each page is written as it comes, so that a thousand take no more memory than one; what repeats (frames, dials, texts) is made once.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from datetime import time
from functools import lru_cache
from io import BytesIO
from itertools import starmap
from typing import BinaryIO

from dosewright.core.paper.datamatrix import dark_stretches
from dosewright.core.paper.dial import hand, night_chords
from dosewright.core.paper.fonts import Font, FontSet
from dosewright.core.paper.operators import circle_ops, figure_ops, line_ops, number, rect_ops, round_rect_ops, start_ops
from dosewright.core.paper.outlined import outline_of
from dosewright.core.paper.page import MM_PER_POINT, Code, Dial, Face, Figure, Line, Page, Place, Rect, Run, Shade, Stroke
from dosewright.core.paper.pdf_file import PdfFile, reference, text_string
from dosewright.core.paper.pdf_fonts import FontsInUse, Shown
from dosewright.core.paper.printer import AS_DRAWN, Correction
from dosewright.core.paper.shaping import ShapedFont
from dosewright.core.paper.tags import Marks, Tags

__all__ = ["Heading", "stream_pdf", "write_pdf"]

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


def write_pdf(pages: Iterable[Page], fonts: FontSet, heading: Heading, correction: Correction = AS_DRAWN) -> bytes:
    """The document, moved and stretched as the printer's correction asks.

    Raises ValueError for no page at all, and for a run that no font can draw.
    """
    out = BytesIO()
    stream_pdf(out, pages, fonts, heading, correction)
    return out.getvalue()


def stream_pdf(out: BinaryIO, pages: Iterable[Page], fonts: FontSet, heading: Heading, correction: Correction = AS_DRAWN) -> int:
    """Write the document page by page into a binary file; gives how many pages. No page is kept. Raises as `write_pdf` does."""
    document = _Document.begin(PdfFile(out), fonts)
    for page in pages:
        document.add(page, correction)
    if not document.pages:
        raise ValueError("a document needs a page")
    document.close(heading)
    return len(document.pages)


@dataclass(frozen=True, slots=True)
class _Document:
    """A document so far: the numbers of its pages, and of the objects that pages share and that are written last."""

    file: PdfFile
    known: "_Known"
    tags: Tags
    tree: int
    letters: int
    pages: list[int] = field(default_factory=list)

    @staticmethod
    def begin(file: PdfFile, fonts: FontSet) -> "_Document":
        return _Document(file, _Known.of(file, fonts), Tags(file), file.promise(), file.promise())

    def add(self, page: Page, correction: Correction) -> None:
        """Write a page with its content and its tags."""
        drawing, mine = _Drawing(page, self.known), self.file.promise()
        content = drawing.draw()
        if correction != AS_DRAWN:
            content = f"{_corrected(correction, page.height)}\n{content}"
        data = self.file.put_stream(content.encode("latin-1"))
        sides = f"{number(page.width * _POINTS)} {number(page.height * _POINTS)}".encode()
        self.file.put(
            b"<< /Type /Page /Parent %d 0 R /MediaBox [ 0 0 %s ] /Resources << /Font %d 0 R /XObject << /Frame %d 0 R >> >> "
            b"/Contents %d 0 R /StructParents %d /Tabs /S >>" % (self.tree, sides, self.letters, drawing.frame, data, len(self.pages)),
            mine,
        )
        self.tags.add_page(drawing.marks, mine)
        self.pages.append(mine)

    def close(self, heading: Heading) -> None:
        """Write what pages share, and what the document says of itself."""
        self.file.put(self.known.letters.close(), self.letters)
        kids = b" ".join(map(reference, self.pages))
        self.file.put(b"<< /Type /Pages /Count %d /Kids [ %s ] >>" % (len(self.pages), kids), self.tree)
        said = (reference(self.tree), text_string(heading.lang), self.tags.close())
        catalog = self.file.put(b"<< /Type /Catalog /Pages %s /Lang %s %s >>" % said)
        names = {"Title": heading.title, "Author": heading.author, "Subject": heading.subject, "Creator": "Dosewright"}
        info = b" ".join(b"/%s %s" % (name.encode(), text_string(text)) for name, text in names.items())
        self.file.close(catalog, self.file.put(b"<< %s /Producer (Dosewright) >>" % info))


def _corrected(correction: Correction, height: float) -> str:
    """The operator that moves and stretches a page; PDF counts up from the lower edge."""
    across, along = float(correction.across), float(correction.along)
    right, up = float(correction.right) * _POINTS, (height * (1 - along) - float(correction.down)) * _POINTS
    return f"{across:.6f} 0 0 {along:.6f} {number(right)} {number(up)} cm"


_Placed = Callable[[str, float, Face, float, float], Shown | None]  # words, points, weight, where they begin: None where they are shaped


@dataclass(frozen=True, slots=True)
class _Known:
    """What one document has already: dials and frames as forms, texts as strings of its fonts. Each remembers so many and no more."""

    fonts: FontSet
    letters: FontsInUse
    dial: Callable[[time], int]
    frame: Callable[["_Frame"], int]
    placed: Callable[[float], "_Placed"]

    @staticmethod
    def of(file: PdfFile, fonts: FontSet) -> "_Known":
        letters = FontsInUse(file)
        dial = lru_cache(maxsize=128)(lambda at: _put_form(file, (-2, -2, 2, 2), _face_ops(at), {}))
        frame = lru_cache(maxsize=64)(lambda frame: _put_frame(file, frame, dial))

        @lru_cache(maxsize=4096)
        def text(words: str, size: float, face: Face) -> Shown | None:
            """The words in the font that has them, or None where a font must shape them."""
            font = fonts.font_for(words, face)
            if font is None:
                raise ValueError(f"no font draws {words!r}")
            return letters.show(words, font, size) if isinstance(font, Font) else None

        @lru_cache(maxsize=4)
        def placed(height: float) -> _Placed:
            """The same at places of a page that high: most of a sheet's words stand at the same place of the next one too."""

            @lru_cache(maxsize=4096)
            def at(words: str, size: float, face: Face, x: float, baseline: float) -> Shown | None:
                shown = text(words, size, face)
                return shown and Shown(shown.font, f"{start_ops(x, baseline, height)}\n{shown.ops}", shown.last)

            return at

        return _Known(fonts, letters, dial, frame, placed)


@dataclass(frozen=True, slots=True)
class _Frame:
    """What is drawn on a page and says nothing: pages that have the same share one form."""

    width: float
    height: float
    places: tuple[Place, ...]
    lines: tuple[Line, ...]
    dials: tuple[Dial, ...]
    figures: tuple[Figure, ...]

    @staticmethod
    def of(page: Page) -> "_Frame":
        silent = tuple(figure for figure in page.figures if not figure.text)
        return _Frame(page.width, page.height, page.places, page.lines, page.dials, silent)


def _put_form(file: PdfFile, box: tuple[float, float, float, float], ops: str, forms: dict[str, int]) -> int:
    """Operators that can be drawn from anywhere by one name; `forms` are those that they draw themselves."""
    inner = " ".join(f"/{name} {form} 0 R" for name, form in forms.items())
    resources = f"<< /XObject << {inner} >> >>" if forms else "<< >>"
    sides = " ".join(map(number, box))
    return file.put_stream(ops.encode("ascii"), f"/Type /XObject /Subtype /Form /BBox [ {sides} ] /Resources {resources} ".encode("ascii"))


def _put_frame(file: PdfFile, frame: _Frame, dial: Callable[[time], int]) -> int:
    forms = {_face(at): dial(at) for at in dict.fromkeys(one.at for one in frame.dials)}
    ops = [
        *(_place_ops(place, frame.height) for place in frame.places),
        *(_line_ops(line, frame.height) for line in frame.lines),
        *(_dial_ops(one, frame.height) for one in frame.dials),
        *(_figure_ops(figure, frame.height) for figure in frame.figures),
    ]
    return _put_form(file, (0, 0, _x(frame.width), _x(frame.height)), "\n".join(ops), forms)


def _x(across: float) -> float:
    return across * _POINTS


def _y(down: float, height: float) -> float:
    return (height - down) * _POINTS


@dataclass(slots=True)
class _Drawing:
    """One page being drawn: millimetres down become points up."""

    page: Page
    known: _Known
    marks: Marks = field(default_factory=Marks)
    ops: list[str] = field(default_factory=list)
    frame: int = 0  # the form of what says nothing

    def draw(self) -> str:
        """The page's content."""
        self.frame = self.known.frame(_Frame.of(self.page))
        self.ops.append("/Artifact BMC\n/Frame Do")
        self.ops += [_figure_ops(figure, self.page.height) for figure in self.page.figures if figure.text]
        self.ops.append("EMC")
        self._runs()
        for code in self.page.codes:
            self._code(code)
        return "\n".join(self.ops)

    def _runs(self) -> None:
        """Runs that share a box are one paragraph. In it, runs of text that follow each other are marked as one stretch.

        Hundreds of runs a page come here, so that what can be is looked up once for all of them.
        """
        box: Rect | None = None
        numbers: list[int] = []
        add, placed, font, open_ = self.ops.append, self.known.placed(self.page.height), "", False
        for run in self.page.runs:
            if run.box is not box and run.box != box:
                open_ = open_ and self._turn(numbers, opens=False)
                numbers, box = [], run.box
                self.marks.add("P", numbers)
            shown = placed(run.text, run.size, run.face, run.x, run.baseline)
            if open_ is not (shown is not None):
                open_ = self._turn(numbers, opens=not open_)
            if shown is None:
                self._outlined(run, numbers)
                continue
            before, ops, after = shown
            if before != font:
                add(before)
            add(ops)
            font = after
        if open_:
            self._turn(numbers, opens=False)

    def _turn(self, numbers: list[int], *, opens: bool) -> bool:
        """Begin a stretch of text, or end it."""
        if opens:
            numbers.append(self.marks.next())
            self.ops.append(f"/P <</MCID {numbers[-1]}>> BDC\nBT")
        else:
            self.ops.append("ET\nEMC")
        return opens

    def _outlined(self, run: Run, numbers: list[int]) -> None:
        """A run in a script that must be shaped, as a figure."""
        font = self.known.fonts.font_for(run.text, run.face)
        if not isinstance(font, ShapedFont):
            raise TypeError(f"{run.text!r} is not shaped")
        numbers.append(self.marks.next())
        self.ops.append(_figure_ops(outline_of(run, font), self.page.height, numbers[-1]))

    def _code(self, code: Code) -> None:
        # Counted in modules, from the upper left corner of the symbol: whole numbers, and one scale for all of them.
        dark = " ".join(starmap(_dark, dark_stretches(code.text)))
        side, mark = _x(code.module), self.marks.next()
        corner = f"{number(_x(code.rect.left))} {number(_y(code.rect.top, self.page.height))}"
        self.ops.append(f"/Figure <</MCID {mark}>> BDC q {side:.5f} 0 0 {side:.5f} {corner} cm {dark} f Q EMC")
        self.marks.add("Figure", [mark], f"code of number {code.text}")


@lru_cache(maxsize=4096)
def _dark(row: int, first: int, count: int) -> str:
    return f"{first + 1} {-row - 2} {count} 1 re"


def _line_ops(line: Line, height: float) -> str:
    ends = (_x(line.x1), _y(line.y1, height), _x(line.x2), _y(line.y2, height))
    return f"{_WEIGHTS[line.stroke]} w {line_ops(*ends)}"


def _place_ops(place: Place, height: float) -> str:
    rect = place.rect
    sides = (_x(rect.left), _y(rect.bottom, height), _x(rect.width), _x(rect.height))
    outline = round_rect_ops(*sides, _x(place.radius)) if place.radius else rect_ops(*sides)
    hatch = _hatch_ops(rect, height) if place.shade is Shade.HATCHED else ""
    return f"{hatch}{_WEIGHTS[place.stroke]} w {outline}"


def _hatch_ops(rect: Rect, height: float) -> str:
    lines = (
        line_ops(_x(rect.left + x1), _y(rect.top + y1, height), _x(rect.left + x2), _y(rect.top + y2, height))
        for (x1, y1), (x2, y2) in _diagonals(rect.width, rect.height)
    )
    return f"0.25 w {' '.join(lines)}\n"


def _figure_ops(figure: Figure, height: float, mark: int | None = None) -> str:
    shapes = [[[(_x(x), _y(y, height)) for x, y in polygon] for polygon in shape] for shape in figure.shapes]
    return figure_ops(shapes, figure.text, mark)


def _dial_ops(dial: Dial, height: float) -> str:
    radius = number(_x(dial.radius))
    return f"q {radius} 0 0 {radius} {number(_x(dial.x))} {number(_y(dial.y, height))} cm /{_face(dial.at)} Do Q"


def _face(at: time) -> str:
    return f"Dial{at:%H%M}"


def _face_ops(at: time) -> str:
    """The dial with radius 1."""
    chords = " ".join(line_ops(left, height, right, height) for left, right, height in night_chords())
    return f"0.05 w {chords}\n0.12 w {circle_ops(1)}\n0.24 w 1 J {line_ops(0, 0, *hand(at))}"


def _diagonals(width: float, height: float) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """Lines rising to the right across a rectangle, `_HATCH` apart along its edges."""
    found, reach = [], _HATCH
    while reach < width + height:
        start = (0.0, reach) if reach <= height else (reach - height, height)
        end = (reach, 0.0) if reach <= width else (width, reach - width)
        found.append((start, end))
        reach += _HATCH
    return found

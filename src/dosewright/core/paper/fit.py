"""Text is fitted by measuring: lines break only between words, sizes step down to a floor, and then it says that it cannot.

Comes in: paragraphs and the room for them. Goes out: a `Block` of set lines with its height, or None where a word is wider than the room
or the floor is reached. Line spacing is 27 % of the size (USP <17> asks for 25 to 30). Nothing is ever cut or hyphenated.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from dosewright.core.paper.fonts import Font, FontSet
from dosewright.core.paper.page import MM_PER_POINT, Face, Kind, Rect, Run
from dosewright.core.paper.shaping import ShapedFont, runs_leftward, stretches
from dosewright.core.paper.words import Para

__all__ = ["SPACING", "STEPS", "Block", "SetLine", "fit_block", "line_height", "place_block", "set_block"]

SPACING = 1.27
STEPS = (1.0, 0.96, 0.92, 0.88, 0.84, 0.8, 0.76, 0.72, 0.68, 0.64, 0.6, 0.55, 0.5)

_BASELINE = 0.95  # of the size, below the line's top: room for accented capitals above, descenders below
_MORE = 1e-9  # float dust when sums of widths are compared with the room


@dataclass(frozen=True, slots=True)
class _Piece:
    """Words that stand together on a line in one font, from `x` of the paragraph's left."""

    text: str
    x: float
    width: float
    face: Face
    kind: Kind


@dataclass(frozen=True, slots=True)
class SetLine:
    """One line: its pieces, size and floor in points, and where its top is below the block's top, in millimetres."""

    pieces: tuple[_Piece, ...]
    size: float
    floor: float
    top: float


@dataclass(frozen=True, slots=True)
class Block:
    """Set lines one below the other."""

    lines: tuple[SetLine, ...]
    height: float


def line_height(size: float) -> float:
    """Millimetres from one line's top to the next."""
    return size * SPACING * MM_PER_POINT


def fit_block(paras: Sequence[Para], width: float, height: float, fonts: FontSet, steps: Sequence[float] = STEPS) -> Block | None:
    """The paragraphs at the largest step at which they fit the room, or None."""
    for step in steps:
        block = set_block(paras, width, fonts, step)
        if block is not None and block.height <= height + _MORE:
            return block
    return None


def set_block(paras: Sequence[Para], width: float, fonts: FontSet, step: float = 1.0) -> Block | None:
    """The paragraphs set at one step, however high; None where a word alone is wider than the room."""
    lines: list[SetLine] = []
    top = 0.0
    for para in paras:
        size = max(para.floor, round(para.size * step * 4) / 4)
        found = _set_para(para, width, size, fonts)
        if found is None:
            return None
        for pieces in found:
            lines.append(SetLine(pieces, size, para.floor, top))
            top += line_height(size)
        top += para.after
    return Block(tuple(lines), top - (paras[-1].after if paras else 0.0))


def place_block(block: Block, left: float, top: float, box: Rect) -> tuple[Run, ...]:
    """The block's runs with its upper left corner there, each held to `box`."""
    return tuple(
        Run(
            piece.text.replace("\u00a0", " "),
            left + piece.x,
            top + line.top + _BASELINE * line.size * MM_PER_POINT,
            piece.width,
            line.size,
            line.floor,
            piece.face,
            piece.kind,
            box,
        )
        for line in block.lines
        for piece in line.pieces
    )


@dataclass(frozen=True, slots=True)
class _Word:
    text: str
    width: float
    space: float
    face: Face
    kind: Kind
    font: Font | ShapedFont
    tied: bool


@lru_cache(maxsize=1024)
def _set_para(para: Para, width: float, size: float, fonts: FontSet) -> tuple[tuple[_Piece, ...], ...] | None:
    lines: list[list[_Word]] = [[]]
    used = 0.0
    for group in _groups(_words(para, size, fonts)):
        wide = sum(word.width for word in group) + sum(word.space for word in group[1:])
        if lines[-1] and used + group[0].space + wide > width + _MORE:
            lines.append([])
            used = para.indent
        used += wide + (group[0].space if lines[-1] else 0.0)
        if used > width + _MORE:
            return None
        lines[-1].extend(group)
    return tuple(tuple(_pieces(line, para.indent if n else 0.0)) for n, line in enumerate(lines) if line)


def _groups(words: Iterable[_Word]) -> list[list[_Word]]:
    """Words that no line break may part."""
    groups: list[list[_Word]] = []
    for word in words:
        if word.tied and groups:
            groups[-1].append(word)
        else:
            groups.append([word])
    return groups


def _words(para: Para, size: float, fonts: FontSet) -> Iterator[_Word]:
    for words in para.words:
        for n, text in enumerate(stretches(words.text)):
            font = fonts.font_for(text, words.face)
            if font is None:
                raise ValueError(f"no font draws {text!r}; check_paras comes first")
            if text:
                yield _Word(text, font.width(text, size), font.width(" ", size), words.face, words.kind, font, words.tied and not n)


def _pieces(line: list[_Word], start: float) -> Iterator[_Piece]:
    """Neighbours in one font become one piece; between words stands one space of the word that follows."""
    x, first = start, 0
    while first < len(line):
        last, right = first, x + line[first].width
        while last + 1 < len(line) and _alike(line[last], line[last + 1]):
            last += 1
            right += line[last].space + line[last].width
        word = line[first]
        yield _Piece(" ".join(w.text for w in line[first : last + 1]), x, right - x, word.face, word.kind)
        first = last + 1
        x = right + (line[first].space if first < len(line) else 0.0)


def _alike(one: _Word, other: _Word) -> bool:
    """Whether both can stand in one run; what runs from right to left stands by itself, or it would take the other's place."""
    return (one.font, one.kind) == (other.font, other.kind) and not runs_leftward(one.text + other.text)

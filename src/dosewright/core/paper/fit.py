"""Text is fitted by measuring: lines break only between words, sizes step down to a floor, and then it says that it cannot.

Comes in: paragraphs and the room for them. Goes out: a `Block` of set lines with its height, or None where a word is wider than the room
or the floor is reached. Line spacing is 27 % of the size (USP <17> asks for 25 to 30). Nothing is ever cut or hyphenated. A strength
stays on the line of its medicine's name where a line holds both: never at the cost of a line, and of a size only a little smaller.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from dosewright.core.paper.fonts import Font, FontSet
from dosewright.core.paper.joints import is_kept, is_strength
from dosewright.core.paper.page import MM_PER_POINT, Face, Kind, Rect, Run
from dosewright.core.paper.shaping import ShapedFont, runs_leftward, stretches
from dosewright.core.paper.words import Para

__all__ = ["SPACING", "STEPS", "Block", "SetLine", "best_block", "fit_block", "line_height", "place_block", "set_block", "too_wide"]

SPACING = 1.27
STEPS = (1.0, 0.96, 0.92, 0.88, 0.84, 0.8, 0.76, 0.72, 0.68, 0.64, 0.6, 0.55, 0.5)

_BASELINE = 0.95  # of the size, below the line's top: room for accented capitals above, descenders below
_WORTH = 0.88  # of the type size: a strength on its name's line is worth that
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
    """Set lines one below the other. `parted`: how many strengths stand on another line than the name before them."""

    lines: tuple[SetLine, ...]
    height: float
    parted: int = 0


def line_height(size: float) -> float:
    """Millimetres from one line's top to the next."""
    return size * SPACING * MM_PER_POINT


def fit_block(paras: Sequence[Para], width: float, height: float, fonts: FontSet, steps: Sequence[float] = STEPS) -> Block | None:
    """The paragraphs at the largest step at which they fit the room, or None; a little smaller where that keeps strengths with names."""
    return best_block(((step, set_block(paras, width, fonts, step)) for step in steps), height)


def best_block(tries: Iterable[tuple[float, Block | None]], height: float) -> Block | None:
    """Of blocks with their type sizes, the largest first: the first that fits, or one not much smaller that parts fewer strengths."""
    best, largest = None, 0.0
    for size, block in tries:
        if size < largest * _WORTH - _MORE:
            break
        if block is None or block.height > height + _MORE:
            continue
        if best is None or block.parted < best.parted:
            best, largest = block, largest or size
        if not best.parted:
            break
    return best


def set_block(paras: Sequence[Para], width: float, fonts: FontSet, step: float = 1.0) -> Block | None:
    """The paragraphs set at one step, however high; None where a word alone is wider than the room."""
    lines: list[SetLine] = []
    top, parted = 0.0, 0
    for para in paras:
        size = _size(para, step)
        found = _set_para(para, width, size, fonts)
        if found is None:
            return None
        for pieces in found[0]:
            lines.append(SetLine(pieces, size, para.floor, top))
            top += line_height(size)
        top += para.after
        parted += found[1]
    return Block(tuple(lines), top - (paras[-1].after if paras else 0.0), parted)


def too_wide(paras: Iterable[Para], width: float, fonts: FontSet) -> str:
    """The first words that no line may part and that are wider than the room at the smallest size; "" where every line can be set."""
    for para in paras:
        groups = _groups(_words(para, _size(para, STEPS[-1]), fonts))
        for n, group in enumerate(groups):
            if _width(group) + (para.indent if n else 0.0) > width + _MORE:
                return " ".join(word.text for word in group).replace("\u00a0", " ")
    return ""


def _size(para: Para, step: float) -> float:
    return max(para.floor, round(para.size * step * 4) / 4)


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
    """`tied`: no line may break before it. `kept`: none does where a line holds it and the word before; `first` of such words."""

    text: str
    width: float
    space: float
    face: Face
    kind: Kind
    font: Font | ShapedFont
    tied: bool
    kept: bool
    first: bool


_Set = tuple[tuple[_Piece, ...], ...]  # a paragraph's lines


@lru_cache(maxsize=1024)
def _set_para(para: Para, width: float, size: float, fonts: FontSet) -> tuple[_Set, int] | None:
    """The lines, and how many of them begin with a strength whose name stands on the line before; None where a word is too wide."""
    groups = _groups(_words(para, size, fonts))
    lines = _broken(groups, width, para.indent)
    if lines is None:
        return None
    if _parted(lines):
        held = _broken(_held(groups, width - para.indent), width, para.indent)
        lines = held if held is not None and len(held) <= len(lines) else lines
    strengths = sum(is_strength(word.text) for word in _parted(lines))
    return tuple(tuple(_pieces(line, para.indent if n else 0.0)) for n, line in enumerate(lines)), strengths


_Words = list[_Word]


def _broken(groups: Iterable[_Words], width: float, indent: float) -> list[_Words] | None:
    """The groups on as few lines as they need, each as full as it can be."""
    lines: list[_Words] = []
    used = 0.0
    for group in groups:
        wide = _width(group)
        if lines and used + group[0].space + wide <= width + _MORE:
            used += group[0].space + wide
            lines[-1] += group
            continue
        used = wide + (indent if lines else 0.0)
        if used > width + _MORE:
            return None
        lines.append(list(group))
    return lines


def _width(group: _Words) -> float:
    return sum(word.width for word in group) + sum(word.space for word in group[1:])


def _groups(words: Iterable[_Word]) -> list[_Words]:
    """Words that no line break may part."""
    groups: list[_Words] = []
    for word in words:
        if word.tied and groups:
            groups[-1].append(word)
        else:
            groups.append([word])
    return groups


def _held(groups: Sequence[_Words], room: float) -> list[_Words]:
    """The same, groups whose words are read together made one wherever a line holds them: amount and name before all others; then from
    the end, as "Monday, 2 March 2026" had better break after its first word than before its last."""
    held = list(groups)
    for first in (True, False):
        for n in range(len(held) - 1, 0, -1):
            together = [*held[n - 1], *held[n]]
            if held[n][0].kept and held[n][0].first is first and _width(together) <= room + _MORE:
                held[n - 1 : n + 1] = [together]
    return held


def _parted(lines: Sequence[_Words]) -> _Words:
    return [line[0] for line in lines[1:] if line[0].kept]


def _words(para: Para, size: float, fonts: FontSet) -> Iterator[_Word]:
    before = ""
    for words in para.words:
        for n, text in enumerate(stretches(words.text)):
            font = fonts.font_for(text, words.face)
            if font is None:
                raise ValueError(f"no font draws {text!r}; check_paras comes first")
            if text:
                width, space = font.width(text, size), font.width(" ", size)
                first = words.kept and not n
                yield _Word(text, width, space, words.face, words.kind, font, words.tied and not n, first or is_kept(before, text), first)
                before = text


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

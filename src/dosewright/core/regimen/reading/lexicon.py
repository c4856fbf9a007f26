"""The words of one language: a table of terminals and spellings becomes a tree for finding the longest match.

Comes in: text tables, one row a terminal: `TERMINAL value flags : spelling | spelling`. In a spelling `[x]` may be left out and
`(x|y)` is either. Flags: `in=GB,IE` only there; `not=US,CA` anywhere else; `note=code` marks every use; `ask=code` makes it a question.
Goes out: `Lexicon`, whose `longest` gives the senses of the longest run of words that the tables hold.
"""

import re
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from dosewright.core.regimen.reading.scanning import normal, split_words

__all__ = ["Lexicon", "OneLine", "Sense", "build_lexicon", "without_accents"]

_SHORT = 4  # letters of a word whose full stop may be that of an abbreviation


@dataclass(frozen=True, slots=True)
class Sense:
    """One thing a run of letters may be: the grammar's terminal, its value, and what to tell or ask whenever it is used."""

    terminal: str
    value: str | Fraction | tuple[object, ...] = ""
    note: str = ""
    ask: str = ""


@dataclass(slots=True)
class _Node:
    senses: tuple[Sense, ...] = ()
    following: "dict[str, _Node]" = field(default_factory=dict)


class Lexicon:
    """Spellings of one language in one country."""

    def __init__(self) -> None:
        self._root = _Node()
        self.words: set[str] = set()

    def add(self, words: Sequence[str], sense: Sense) -> None:
        """One more sense of a spelling; senses of the same spelling are all kept."""
        node = self._root
        for word in [word for word in words if word != "-" or len(words) == 1]:
            self.words.add(word)
            node = node.following.setdefault(word, _Node())
        if sense not in node.senses:
            node.senses += (sense,)

    def longest(self, words: Sequence[str], start: int) -> tuple[int, tuple[Sense, ...]]:
        """The end of the longest match from `start` (equal to `start`: none), and its senses. A hyphen between words counts as a blank,
        and so does the full stop of a short one."""
        node, end, senses = self._root, start, ()  # type: tuple[_Node, int, tuple[Sense, ...]]
        for at in range(start, len(words)):
            if words[at] == "-" and at > start:
                continue
            if words[at] == "." and at > start and _stands_for_a_blank(words, at, node):
                continue
            found = node.following.get(words[at])
            if found is None:
                break
            node = found
            if node.senses:
                end, senses = at + 1, node.senses
        return end, senses

    def all_spellings(self) -> Iterator[tuple[Sense, ...]]:
        """The senses of every spelling."""
        yield from (senses for _, senses in self.spelled())

    def spelled(self) -> Iterator[tuple[str, tuple[Sense, ...]]]:
        """Every spelling, its words with a blank between, and its senses."""
        waiting = [("", self._root)]
        while waiting:
            words, node = waiting.pop()
            yield words, node.senses
            waiting += [(f"{words} {word}".strip(), following) for word, following in node.following.items()]


class OneLine(Lexicon):
    """A lexicon as one line asks it: the same words again and again, each place looked up once."""

    def __init__(self, lexicon: Lexicon) -> None:
        self._root, self.words = lexicon._root, lexicon.words
        self._found: dict[int, tuple[int, tuple[Sense, ...]]] = {}

    def longest(self, words: Sequence[str], start: int) -> tuple[int, tuple[Sense, ...]]:
        """As the lexicon's own; `words` are always those of the one line."""
        found = self._found.get(start)
        if found is None:
            found = self._found[start] = super().longest(words, start)
        return found


def _stands_for_a_blank(words: Sequence[str], at: int, node: _Node) -> bool:
    """ "alt. days" is spelled "alt days", where no spelling has the full stop itself."""
    short = len(words[at - 1]) <= _SHORT and "." not in node.following
    return short and at + 1 < len(words) and words[at + 1] in node.following


def build_lexicon(tables: Sequence[str], country: str) -> Lexicon:
    """All rows that hold in `country`. A spelling without its accents is added where no row has it already."""
    lexicon = Lexicon()
    rows = [row for table in tables for row in _rows(table, country)]
    for words, sense in rows:
        lexicon.add(words, sense)
    plain = {words for words, _ in rows}
    for words, sense in rows:
        for spelled in (without_accents, _with_two_letters):
            bare = tuple(spelled(word) for word in words)
            if bare not in plain:
                lexicon.add(bare, sense)
    return lexicon


def without_accents(word: str) -> str:
    """The word as typed on a keyboard that has no accents."""
    if word.isascii():
        return word
    return "".join(c for c in unicodedata.normalize("NFD", word) if not unicodedata.combining(c))


_UMLAUTS = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue"})


def _with_two_letters(word: str) -> str:
    """German as typed without umlauts: "Fruehstueck"."""
    return word.translate(_UMLAUTS)


def _rows(table: str, country: str) -> Iterator[tuple[tuple[str, ...], Sense]]:
    for line in table.splitlines():
        if not line.strip() or line.lstrip().startswith("#"):
            continue
        head, _, spellings = line.partition(" : ")
        sense = _sense(head.split(), country)
        if sense is None:
            continue
        for spelling in _alternatives(spellings):
            yield _words(spelling), sense


def _words(spelling: str) -> tuple[str, ...]:
    """As `split_words` cuts it; letters and blanks alone, which most are, need no scanning."""
    return tuple(spelling.split()) if spelling.replace(" ", "").isalpha() else tuple(split_words(spelling))


def _sense(head: Sequence[str], country: str) -> Sense | None:
    flags = dict(part.split("=", 1) for part in head if "=" in part)
    plain = [part for part in head if "=" not in part]
    if "in" in flags and country not in flags["in"].split(","):
        return None
    if "not" in flags and country in flags["not"].split(","):
        return None
    return Sense(plain[0], " ".join(plain[1:]), note=flags.get("note", ""), ask=flags.get("ask", ""))


_INNERMOST = re.compile(r"\[([^\[\]()]*)\]|\(([^\[\]()]*)\)")


def _alternatives(spellings: str) -> Iterator[str]:
    depth, last = 0, 0
    for at, letter in enumerate(spellings):
        depth += (letter in "([") - (letter in ")]")
        if letter == "|" and depth == 0:
            yield from _spelled(spellings[last:at])
            last = at + 1
    yield from _spelled(spellings[last:])


def _spelled(pattern: str) -> Iterator[str]:
    """Every spelling of a pattern, branches opened from the inside out."""
    found = _INNERMOST.search(pattern)
    if found is None or len(pattern.strip()) == 1:
        if spelling := " ".join(pattern.split()):
            yield normal(spelling)
        return
    inner = found[1] if found[1] is not None else found[2]
    for branch in ["", *inner.split("|")] if found[1] is not None else inner.split("|"):
        yield from _spelled(pattern[: found.start()] + branch + pattern[found.end() :])

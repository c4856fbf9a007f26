"""Which senses of the words make phrases: every choice of one sense a token that the grammar accepts.

Comes in: tokens, some with several senses, and a language's parser. Goes out: rows of senses, or the token after which no row can go on.
All choices are followed at once, one token after the other, and dropped where the grammar stops: work grows with the line's length times
the rows alive, which are limited.
"""

from collections.abc import Iterable, Sequence

from dosewright.core.regimen.reading.build import Builder
from dosewright.core.regimen.reading.children import Leaf, NotSaid, Word
from dosewright.core.regimen.reading.lexicon import Sense
from dosewright.core.regimen.reading.lexing import Token
from dosewright.core.regimen.reading.meaning import Unclear
from dosewright.core.regimen.reading.parse_table import END, ParseTable, Stack
from dosewright.core.regimen.reading.phrases import Item

__all__ = ["MOST_ROWS", "accepted_rows", "parse_row"]

MOST_ROWS = 48  # choices alive at once; directions seen in practice have one to four
_LITTLE = frozenset({"IN", "AT", "ON", "THE", "OF", "PER", "TO"})
_BUILDER = Builder()


def accepted_rows(tokens: Sequence[Token], table: ParseTable) -> list[tuple[Sense, ...]]:
    """At least one row, in order of the senses. Raises Unclear at the first token that no row can take, or for too many rows."""
    alive: list[tuple[Stack, tuple[Sense, ...]]] = [((table.first,), ())]
    for token in tokens:
        following = _distinct(
            (stack, (*senses, sense))
            for before, senses in alive
            for sense in token.senses
            if (stack := table.advance(before, sense.terminal))
        )
        if not following:
            raise Unclear("read.not-understood", (token.start, token.end))
        if len(following) > MOST_ROWS:
            raise Unclear("read.too-many", (tokens[0].start, tokens[-1].end))
        alive = following
    whole = [senses for stack, senses in alive if table.advance(stack, END)]
    if not whole:
        raise Unclear("read.unfinished", (tokens[-1].start, tokens[-1].end))
    return [senses for senses in whole if _same_word_same_meaning(tokens, senses)]


def _same_word_same_meaning(tokens: Sequence[Token], senses: Sequence[Sense]) -> bool:
    """A line does not mean lunch by its first "dinner" and the evening meal by its second."""
    taken: dict[tuple[str, str], object] = {}
    for token, sense in zip(tokens, senses, strict=True):
        if taken.setdefault((token.text.casefold(), sense.terminal), sense.value) != sense.value:
            return False
    return len({sense.terminal for at, sense in enumerate(senses) if _loose_half(tokens, at)} & {"AMPM", "DAYPART"}) < 2


def _loose_half(tokens: Sequence[Token], at: int) -> bool:
    """The "am" of "1 am", with no "at" before it: one in the morning, or one o'clock. All of a line are meant alike."""
    if tokens[at].text.casefold().replace(".", "") not in ("am", "pm") or at == 0 or tokens[at - 1].senses[0].terminal != "NUM":
        return False
    return at < 2 or all(sense.terminal != "AT" for sense in tokens[at - 2].senses)


def _distinct(rows: Iterable[tuple[Stack, tuple[Sense, ...]]]) -> list[tuple[Stack, tuple[Sense, ...]]]:
    """One row of those that differ only in what a preposition or article was taken for: such words carry no meaning of their own."""
    found: dict[object, tuple[Stack, tuple[Sense, ...]]] = {}
    for stack, senses in rows:
        found.setdefault((stack, tuple(sense for sense in senses if sense.terminal not in _LITTLE)), (stack, senses))
    return list(found.values())


def parse_row(tokens: Sequence[Token], senses: Sequence[Sense], table: ParseTable) -> list[Item]:
    """The items of a row that the grammar accepts. Raises Unclear where the words fit and still say nothing."""
    row = [
        (sense.terminal, Word(sense.terminal, Leaf(sense, token.text), token.start, token.end))
        for token, sense in zip(tokens, senses, strict=True)
    ]
    try:
        return list(table.build(row, _BUILDER))
    except NotSaid as error:
        raise Unclear(error.code, error.span) from error

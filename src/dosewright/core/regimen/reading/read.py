"""One line of directions becomes a reading: every meaning that its words have, in its language and country.

Comes in: the text as received, and its setting. Goes out: a `Reading`. One meaning is `read`; several, or a spelling that people misread,
or something left unsaid, is `decide`; a line in which nothing can be scheduled is `refuse`. No word is ever skipped (R13).
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import Any

from dosewright.core.regimen.dosage import Dosage
from dosewright.core.regimen.reading import phrases as p
from dosewright.core.regimen.reading.compose import compose
from dosewright.core.regimen.reading.folding import fold
from dosewright.core.regimen.reading.hours_or_amounts import find_doubtful_numbers
from dosewright.core.regimen.reading.languages import Language, find_language
from dosewright.core.regimen.reading.lexicon import Sense
from dosewright.core.regimen.reading.lexing import Token, Tokens, lex
from dosewright.core.regimen.reading.meaning import Doubt, Meaning, Unclear
from dosewright.core.regimen.reading.options import options
from dosewright.core.regimen.reading.parsing import accepted_rows, parse_row
from dosewright.core.regimen.reading.reading_values import Choice, Question, Reading, ReadingStatus, Setting
from dosewright.core.regimen.reading.scanning import normal
from dosewright.core.regimen.reading.scopes import find_scopes
from dosewright.core.regimen.reading.strays import find_strays
from dosewright.core.regimen.reading.strengths import Product, parse_product
from dosewright.core.units.finding import Finding, Severity

__all__ = ["LONGEST_LINE", "MOST_TOKENS", "read"]

LONGEST_LINE = 400  # letters; the longest label directions seen in practice are about half of it
MOST_TOKENS = 120


_Found = tuple[Meaning, tuple[Token, ...], tuple[Sense, ...]]  # a meaning, and the senses of the words that gave it


@lru_cache(maxsize=1024)
def read(text: str, setting: Setting) -> Reading:
    """The reading of one line. Never raises for any text. Kept, because a pharmacy writes the same lines again and again."""
    language = find_language(setting.lang, setting.country)
    if language is None:
        return _refused("read.language", (0, len(text)), lang=setting.lang)
    if len(text) > LONGEST_LINE:
        return _refused("read.too-long", (0, len(text)), letters=len(text), most=LONGEST_LINE)
    tokens = lex(text, language.lexicon, language.customs)
    if not tokens.known and not tokens.unknown:
        return _refused("read.empty", (0, len(text)))
    if len(tokens.known) > MOST_TOKENS:
        return _refused("read.too-long", (0, len(text)), letters=len(text), most=LONGEST_LINE)
    product = parse_product(setting.form, setting.strength)
    if tokens.unknown:
        return _misspelled(text, tokens, language, product) or _unknown(text, tokens)
    return _meanings(text, tokens, language, product)


def _refused(code: str, span: tuple[int, int], **facts: Any) -> Reading:
    return Reading(ReadingStatus.REFUSE, questions=(Question(code, facts, span),))


_SCHEDULING = frozenset(
    [
        "NUM",
        "PATTERN",
        "UNIT",
        "ADVTIMES",
        "FREQ",
        "ADVPERIOD",
        "EVERYX",
        "EVERY",
        "DAYPART",
        "WHENX",
        "MEAL",
        "CLOCK",
        "WEEKDAY",
        "WEEKDAYSET",
        "WANTED",
        "SPAN",
        "HOURLY",
    ]
)


def _unknown(text: str, tokens: Tokens) -> Reading:
    """Words that no table knows: a question where the rest says something to schedule, else a refusal."""
    known = {sense.terminal for token in tokens.known for sense in token.senses}
    status = ReadingStatus.DECIDE if known & _SCHEDULING else ReadingStatus.REFUSE
    questions = tuple(Question("read.unknown-word", {"words": text[a:b]}, (a, b)) for a, b in tokens.unknown)
    return Reading(status, questions=questions)


def _misspelled(text: str, tokens: Tokens, language: Language, product: Product | None) -> Reading | None:
    """Where every strange word is one slip from one known word, and the line so mended has one reading: is that meant?"""
    meant = [language.speller.suggest(normal(text[a:b])) for a, b in tokens.unknown]
    mended = text
    for (start, end), word in reversed(list(zip(tokens.unknown, meant, strict=True))):
        if word is None:
            return None
        mended = mended[:start] + word + mended[end:]
    again = lex(mended, language.lexicon, language.customs)
    reading = _meanings(mended, again, language, product) if not again.unknown else None
    if reading is None or reading.status is not ReadingStatus.READ:
        return None
    choices = (Choice(reading.dosages, {"text": mended}),)
    questions = [
        Question("read.spelling", {"words": text[a:b], "meant": str(word)}, (a, b), choices if at == 0 else ())
        for at, ((a, b), word) in enumerate(zip(tokens.unknown, meant, strict=True))
    ]
    return Reading(ReadingStatus.DECIDE, questions=tuple(questions))


def _meanings(text: str, tokens: Tokens, language: Language, product: Product | None) -> Reading:
    try:
        parses = accepted_rows(tokens.known, language.table)
    except Unclear as unclear:
        return _without_meaning(text, tokens, [unclear.doubt])
    found: list[_Found] = []
    failures: list[Doubt] = []
    for senses in parses:
        try:
            found += [(meaning, tuple(tokens.known), senses) for meaning in _of_parse(tokens.known, senses, language, product)]
        except Unclear as unclear:
            failures.append(unclear.doubt)
    if not found:
        return _without_meaning(text, tokens, failures)
    return _with_meanings(text, tokens, found)


def _of_parse(tokens: Sequence[Token], senses: Sequence[Sense], language: Language, product: Product | None) -> Iterator[Meaning]:
    items = _with_length(parse_row(tokens, senses, language.table))
    directed = _directed(items)
    strays = (*find_strays(items), *find_scopes(items), *find_doubtful_numbers(items, _letters(tokens)))
    rows, doubts = options(fold([item for item in items if not isinstance(item, p.Blocked)]), language.habits)
    doubts += strays + tuple(Doubt("read.as-directed", item.span, {"words": item.text}) for item in directed)
    failures: list[Unclear] = []
    made: list[Meaning] = []
    for row in rows:
        try:
            made += [Meaning(one.dosages, (*doubts, *one.doubts), one.assumed) for one in compose(row, product)]
        except Unclear as unclear:
            failures.append(unclear)
    if not made:
        raise failures[0]
    return iter(made)


def _with_length(items: Sequence[p.Item]) -> list[p.Item]:
    """ "until all taken" beside a stated length is said along; alone it is a condition: how much is supplied is not in the line."""
    _require_steps(items)
    gone = [item for item in items if isinstance(item, p.Gone)]
    if gone and any(isinstance(item, p.StepBy) for item in items):
        raise Unclear("read.step", gone[0].span)  # "until finished" is where the steps end, and has that sense too
    if gone and not any(isinstance(item, p.For | p.Length | p.Supply) for item in items):
        raise Unclear("read.condition", gone[0].span, words=gone[0].text)
    return [p.Quiet(item.span, "instr", item.text) if isinstance(item, p.Gone) else item for item in items]


def _letters(tokens: Sequence[Token]) -> Callable[[tuple[int, int]], str]:
    """The words at a place of the line."""
    return lambda place: " ".join(token.text for token in tokens if place[0] <= token.start and token.end <= place[1])


def _require_steps(items: Sequence[p.Item]) -> None:
    """ "reducing course" beside its steps says them once more; alone it leaves them unsaid."""
    lengths = sum(isinstance(item, p.For | p.Length | p.CycleDays | p.Until | p.StepBy) for item in items)
    for item in items:
        if isinstance(item, p.Quiet) and item.role == "step" and not lengths:
            raise Unclear("read.step", item.span)


def _directed(items: Sequence[p.Item]) -> list[p.Blocked]:
    """Pointers to instructions elsewhere: with a schedule beside them a question, without one the end. Any other block is the end too."""
    blocked = [item for item in items if isinstance(item, p.Blocked)]
    scheduled = any(isinstance(item, p.HowMuch | p.Pattern) for item in items)
    for item in blocked:
        if item.code != "read.as-directed" or not scheduled:
            raise Unclear(item.code, item.span, words=item.text)
    return blocked


def _without_meaning(text: str, tokens: Tokens, failures: Sequence[Doubt]) -> Reading:
    composed = [doubt for doubt in failures if doubt.code not in ("read.not-understood", "read.unfinished")]
    first = max(composed or failures, key=lambda doubt: doubt.span[1])
    known = {sense.terminal for token in tokens.known for sense in token.senses}
    blocked = first.code in ("read.as-directed", "read.relative") and not known & {"NUM", "PATTERN"}
    status = ReadingStatus.REFUSE if blocked or not known & _SCHEDULING else ReadingStatus.DECIDE
    return Reading(status, questions=(_question(first, text, ()),))


def _question(doubt: Doubt, text: str, choices: tuple[Choice, ...]) -> Question:
    start, end = doubt.span
    return Question(doubt.code, {"words": text[start:end], **doubt.facts}, doubt.span, choices)


def _with_meanings(text: str, tokens: Tokens, found: Sequence[_Found]) -> Reading:
    distinct: dict[tuple[Dosage, ...], tuple[Meaning, tuple[Sense, ...]]] = {}
    for meaning, _, senses in found:
        distinct.setdefault(_schedule(meaning.dosages), (meaning, senses))
    doubts = list(dict.fromkeys(_doubt_key(doubt) for meaning, _, _ in found for doubt in meaning.doubts))
    doubts += [
        (sense.ask, (token.start, token.end))
        for _, known, senses in found
        for token, sense in zip(known, senses, strict=True)
        if sense.ask and (sense.ask, (token.start, token.end)) not in doubts
    ]
    doubts = list(dict.fromkeys(doubts))
    doubts += _eye_or_once(found)
    if len(distinct) > 1 and not doubts:
        doubts = [("read.word", _differing(found))]
    if doubts:
        return _decided([Doubt(code, span) for code, span in doubts], [meaning.dosages for meaning, _ in distinct.values()], text)
    meaning, senses = next(iter(distinct.values()))
    notes = tuple(
        Finding(note, Severity.NOTE, where={}, facts={"words": token.text})
        for token, sense in zip(tokens.known, senses, strict=True)
        for note in sense.note.split()
    )
    return Reading(ReadingStatus.READ, meaning.dosages, assumed=meaning.assumed, notes=notes)


def _schedule(dosages: tuple[Dosage, ...]) -> tuple[Dosage, ...]:
    """What is given and when. Words taken once for a route and once for an instruction are no two meanings."""
    return tuple(replace(dosage, additional=(), route=None) for dosage in dosages)


def _eye_or_once(found: Sequence[_Found]) -> list[tuple[str, tuple[int, int]]]:
    """ "1 drop OD" may be the right eye everywhere."""
    drops = any(_unit_of(dosage) == "drop" for meaning, _, _ in found for dosage in meaning.dosages)
    tokens = found[0][1] if drops else ()
    return [("read.abbreviation", (t.start, t.end)) for t in tokens if t.text.casefold().replace(".", "") == "od"]


def _unit_of(dosage: Dosage) -> str:
    """The unit of its amount, or ""."""
    amount = dosage.amounts[0] if dosage.amounts else None
    quantity = amount and (amount.quantity or (amount.range and amount.range.high))
    return str(quantity.unit) if quantity else ""


def _doubt_key(doubt: Doubt) -> tuple[str, tuple[int, int]]:
    return doubt.code, doubt.span


def _differing(found: Sequence[_Found]) -> tuple[int, int]:
    """The first word that was taken in two senses; the whole line where the words are the same and belong together in two ways."""
    _, tokens, senses = found[0]
    for _, _, others in found[1:]:
        for token, one, other in zip(tokens, senses, others, strict=True):
            if one != other:
                return token.start, token.end
    return tokens[0].start, tokens[-1].end


def _decided(doubts: Sequence[Doubt], meanings: Sequence[tuple[Dosage, ...]], text: str) -> Reading:
    choices = tuple(Choice(dosages) for dosages in meanings)
    first, *rest = doubts
    questions = (_question(first, text, choices), *(_question(doubt, text, ()) for doubt in rest))
    return Reading(ReadingStatus.DECIDE, questions=questions)

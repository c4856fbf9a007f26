"""A line becomes tokens, each with every sense it may have; what no table knows is handed back as unknown, never dropped.

Comes in: the text and a language's lexicon. Goes out: `Tokens`. Where a sense depends on its neighbours ("x" between two numbers, "T"
before a unit) the choice is made here, by the letters alone.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, time
from fractions import Fraction

from dosewright.core.regimen.reading.lexicon import Lexicon, OneLine, Sense
from dosewright.core.regimen.reading.numbering import Spelled, spelled_number
from dosewright.core.regimen.reading.reading_values import Place
from dosewright.core.regimen.reading.scanning import scan

__all__ = ["Customs", "Token", "Tokens", "lex"]

_DAY_PARTS = {7: "d", 52: "wk", 12: "mo"}  # 5/7, 2/52, 3/12: the custom of the countries that `Customs.day_fractions` says
_LARGEST_IN_PATTERN = 20


@dataclass(frozen=True, slots=True)
class Customs:
    """How a country writes: decimal mark, whether 5/7 is five days, whether dates put the month first (None: not known).

    `pattern_note` marks 1-0-1 where it is not the custom of the country that the places are morning, noon and evening.
    `half_after_unit` reads "1 comprimé ½" as one and a half.
    """

    decimal: str = "."
    day_fractions: bool = False
    month_first: bool | None = None
    pattern_note: str = ""
    half_after_unit: bool = False


@dataclass(frozen=True, slots=True)
class Token:
    """Letters `start` to `end` of the line, and what they may be."""

    senses: tuple[Sense, ...]
    text: str
    start: int
    end: int


@dataclass(slots=True)
class Tokens:
    """All tokens in order, and the places of the letters that nothing is known about."""

    known: list[Token] = field(default_factory=list)
    unknown: list[Place] = field(default_factory=list)


def lex(text: str, lexicon: Lexicon, customs: Customs) -> Tokens:
    """Every letter but blanks is in a token or in `unknown`."""
    return _Lexer(text, lexicon, customs).tokens()


class _Lexer:
    def __init__(self, text: str, lexicon: Lexicon, customs: Customs) -> None:
        self._text, self._lexicon, self._customs = text, OneLine(lexicon), customs
        self._pieces = scan(text)
        self._norms = [piece.norm for piece in self._pieces]
        self._out = Tokens()

    def tokens(self) -> Tokens:
        at = 0
        while at < len(self._pieces):
            at = self._next(at)
            self._join_said_twice()
        return self._out

    def _join_said_twice(self) -> None:
        """ "2 (two) times": one number, said in both ways."""
        tail = self._out.known[-4:]
        kinds = [token.senses[0].terminal for token in tail]
        if kinds == ["NUM", "LPAR", "NUM", "RPAR"] and tail[0].senses[0].value == tail[2].senses[0].value:
            start, end = tail[0].start, tail[3].end
            self._out.known[-4:] = [Token(tail[0].senses, self._text[start:end], start, end)]

    def _next(self, at: int) -> int:
        for attempt in (self._special, self._pattern, self._day_fraction, self._and_half, self._number, self._word):
            end = attempt(at)
            if end > at:
                return end
        self._out.unknown.append((self._pieces[at].start, self._pieces[at].end))
        return at + 1

    def _emit(self, at: int, end: int, *senses: Sense) -> int:
        start, stop = self._pieces[at].start, self._pieces[end - 1].end
        self._out.known.append(Token(senses, self._text[start:stop], start, stop))
        return end

    def _special(self, at: int) -> int:
        piece = self._pieces[at]
        match piece.kind:
            case "newline":
                return self._emit(at, at + 1, Sense("NEWLINE"))
            case "clock":
                clock = _clock(piece.norm)
                return self._emit(at, at + 1, Sense("CLOCK", (clock,))) if clock else at
            case "date":
                senses = tuple(Sense("DATE", (day,)) for day in _dates(piece.norm, self._customs))
                return self._emit(at, at + 1, *senses) if senses else at
        return at

    def _pattern(self, at: int) -> int:
        if self._pieces[at].kind != "number" or (at > 0 and self._norms[at - 1] in "-+/" and self._pieces[at].glued):
            return at
        counts, _mark, end = self._pattern_counts(at)
        if len(counts) not in (3, 4) or any(c.value > _LARGEST_IN_PATTERN for c in counts):
            return at
        ask = next((c.ask for c in counts if c.ask), "")
        return self._emit(at, end, Sense("PATTERN", tuple(c.value for c in counts), note=self._customs.pattern_note, ask=ask))

    def _pattern_counts(self, at: int) -> tuple[list[Spelled], str, int]:
        counts: list[Spelled] = []
        mark = ""
        while at < len(self._pieces) and self._pieces[at].kind == "number":
            count = self._pattern_number(at)
            if count is None:
                break
            counts.append(count)
            at = count.end
            following = self._norms[at] if at < len(self._pieces) else ""
            if following not in ("-", "+") or (mark and following != mark) or not self._number_at(at + 1):
                break
            mark, at = following, at + 1
        return counts, mark, at

    def _pattern_number(self, at: int) -> Spelled | None:
        found = spelled_number(self._pieces, self._norms, at, self._lexicon, self._customs.decimal)
        return found if found is not None and not found.words else None

    def _number_at(self, at: int) -> bool:
        return at < len(self._pieces) and self._pieces[at].kind == "number"

    def _day_fraction(self, at: int) -> int:
        if not (self._customs.day_fractions and self._number_at(at) and self._number_at(at + 2) and self._norms[at + 1] == "/"):
            return at
        above, below = self._pieces[at].text, self._pieces[at + 2].text
        if not (above.isdigit() and below.isdigit() and int(below) in _DAY_PARTS and int(above) > 0):
            return at
        return self._emit(at, at + 3, Sense("SPAN", (Fraction(int(above)), _DAY_PARTS[int(below)]), note="read.day-fraction"))

    def _number(self, at: int) -> int:
        found = spelled_number(self._pieces, self._norms, at, self._lexicon, self._customs.decimal)
        end, senses = self._lexicon.longest(self._norms, at)
        if found is not None and end > found.end and not any(sense.terminal in ("NUMW", "FRACW") for sense in senses):
            return self._word(at)  # "1st", "5 ml spoonful", "one hour before food or on an empty stomach"
        if self._is_particle(at):
            return self._emit(at, at + 1, Sense("VERB"))
        if (clock := self._hours_only(at)) is not None:
            return self._emit(at, at + 1, Sense("CLOCK", (clock,)))
        if found is None:
            return at
        if (mixed := self._dashed(found)) is not None:
            return self._emit(at, mixed.end, Sense("NUM", mixed.value, ask="read.run-together"))
        return self._emit(at, found.end, Sense("NUM", found.value, ask="read.run-together" if self._run_together(found) else found.ask))

    def _dashed(self, found: Spelled) -> Spelled | None:
        """1-1/2 is one and a half, or a range: asked."""
        end = found.end
        if (
            found.value < 1
            or found.value.denominator != 1
            or end + 3 >= len(self._pieces)
            or self._norms[end] != "-"
            or self._norms[end + 2] != "/"
        ):
            return None
        part = spelled_number(self._pieces, self._norms, end + 1, self._lexicon, self._customs.decimal)
        if part is None or part.value >= 1 or not (self._pieces[end].glued and self._pieces[end + 1].glued):
            return None
        return Spelled(found.value + part.value, part.end)

    def _is_particle(self, at: int) -> bool:
        """ "Nehmen Sie 1 Tablette ein": the last word belongs to the verb, and is no number."""
        following = self._norms[at + 1] if at + 1 < len(self._pieces) else "."
        senses = self._lexicon.longest(self._norms, at)[1]
        return following in (".", ",", ";") and any(sense.terminal == "PARTICLE" for sense in senses) and self._said("VERB")

    def _said(self, terminal: str) -> bool:
        return any(sense.terminal == terminal for token in self._out.known for sense in token.senses)

    def _hours_only(self, at: int) -> time | None:
        """The 2000 of "at 0800 and 2000"."""
        text = self._pieces[at].text
        listed = [sense.terminal for token in self._out.known[-2:] for sense in token.senses]
        if len(text) == 4 and text.isdigit() and ("CLOCK" in listed or "AT" in listed[-1:]) and text[2:] in ("00", "15", "30", "45"):
            return _clock(text)
        return None

    def _run_together(self, found: Spelled) -> bool:
        """10U may be seen as 100."""
        after = self._pieces[found.end] if found.end < len(self._pieces) else None
        return after is not None and after.glued and after.norm in ("u", "iu", "ui", "ie")

    def _and_half(self, at: int) -> int:
        """ "1 tablet and a half": the half belongs to the number before the unit."""
        if not (self._out.known and self._out.known[-1].senses[0].terminal == "UNIT"):
            return at
        end, senses = self._lexicon.longest(self._norms, at)
        joined = any(sense.terminal == "AND" for sense in senses)
        if end >= len(self._pieces) or not (joined or (self._customs.half_after_unit and self._after_whole())):
            return at
        part = spelled_number(self._pieces, self._norms, end if joined else at, self._lexicon, self._customs.decimal)
        if part is None or part.value >= 1 or part.ask or self._unit_at(part.end) or (part.words and not joined):
            return at
        if not joined and (self._starts_with(part.end, "TIMEUNIT", "HOURS", "OF", "SLASH") or self._said("DAYPART") or self._said("MEAL")):
            return at  # "1 cp 1/2 heure avant", "matin 1 cp 1/2 soir"
        return self._emit(at, part.end, Sense("AND_HALF", part.value))

    def _after_whole(self) -> bool:
        """ "1 cp", with a whole number: a part that follows belongs to it."""
        value = self._out.known[-2].senses[0].value if len(self._out.known) > 1 else None
        return isinstance(value, Fraction) and value >= 1 and value.denominator == 1

    def _starts_with(self, at: int, *terminals: str) -> bool:
        return at < len(self._pieces) and any(sense.terminal in terminals for sense in self._lexicon.longest(self._norms, at)[1])

    def _unit_at(self, at: int) -> bool:
        return at < len(self._pieces) and any(sense.terminal == "UNIT" for sense in self._lexicon.longest(self._norms, at)[1])

    def _word(self, at: int) -> int:
        if self._silent_hyphen(at):
            return at + 1
        end, senses = self._lexicon.longest(self._norms, at)
        senses = tuple(fit for sense in senses for fit in self._fitting(sense, at, end))
        if not senses:
            return at
        end = self._abbreviation_end(at, end)
        return self._emit(at, end, *senses)

    def _silent_hyphen(self, at: int) -> bool:
        """A hyphen inside a compound: "six-hourly". Between days or numbers it is a range, and stays."""
        if self._norms[at] != "-" or not self._out.known or at + 1 >= len(self._pieces):
            return False
        after = self._pieces[at + 1]
        days = any(sense.terminal in ("WEEKDAY", "ORD", "MONTHNAME") for sense in self._out.known[-1].senses)
        return self._pieces[at].glued and after.glued and after.kind == "word" and not days and not self._starts_number(at + 1)

    def _fitting(self, sense: Sense, at: int, end: int) -> Iterator[Sense]:
        """The sense as it is here, or none where its neighbours rule it out."""
        before = self._out.known[-1].senses[0].terminal if self._out.known else ""
        number_after = end < len(self._pieces) and self._starts_number(end)
        if not self._is_out_of_place(sense, at, end, after_number=before in ("NUM", "CLOCK"), number_after=number_after):
            yield self._shaped(sense, end, before, number_after=number_after)

    def _is_out_of_place(self, sense: Sense, at: int, end: int, *, after_number: bool, number_after: bool) -> bool:
        out = False
        match sense.terminal:
            case "NUMW" | "FRACW" | "PARTICLE":
                out = True  # taken up where numbers are
            case "DAYNO":
                out = not number_after
            case "VERB":
                out = after_number and self._unit_at(at)  # "1 dose", "1 spray"
            case "AMPM":
                out = not after_number
            case "DAYPART":
                out = after_number and self._norms[at] in ("am", "pm") and self._of_a_clock(at)
                out = out or (self._norms[at] in ("mo", "mi") and self._pieces[at].text.istitle())  # "Mo." is Monday; "mo." may be morning
            case "ROMAN":
                out = after_number or (sense.value == "T" and not self._pieces[at].text.isupper())
            case "ON_NOCTE":
                out = not self._ends_phrase(end) and self._pieces[at].kind != "abbreviation"
            case "AND" | "IN" | "ON" | "AT" | "OF" | "UNTIL" | "FROM":
                out = self._between_days(at, end) or (sense.terminal == "AT" and after_number and number_after and self._may_be_to(at))
        return out

    def _shaped(self, sense: Sense, end: int, before: str, *, number_after: bool) -> Sense:
        match sense.terminal:
            case "BY_X":
                crossed = before in ("NUM", "CLOCK") and (number_after or self._unit_at(end))
                return replace(sense, terminal="CROSS" if crossed else "TIMES" if before in ("NUM", "CLOCK") else "X")
            case "OF" if number_after and before == "UNIT":
                return replace(sense, terminal="OFSIZE")  # "1 comprimé de 500 mg"
            case "ON_NOCTE":
                return replace(sense, terminal="WHENX")
            case "ROMAN":
                return Sense("NUM", Fraction(str(sense.value).count("T") or int(str(sense.value))), note=sense.note)
        return sense

    def _may_be_to(self, at: int) -> bool:
        """ "1 à 2 comprimés" is a range, not an hour; "du lundi au vendredi" is one too."""
        return any(sense.terminal == "TO" for sense in self._lexicon.longest(self._norms, at)[1])

    def _between_days(self, at: int, end: int) -> bool:
        """A word that may be "to", between two days of the week."""
        before = self._out.known[-1].senses if self._out.known else ()
        following = self._lexicon.longest(self._norms, end)[1] if end < len(self._pieces) else ()
        return self._may_be_to(at) and all(any(sense.terminal == "WEEKDAY" for sense in senses) for senses in (before, following))

    def _ends_phrase(self, at: int) -> bool:
        """ "1 on" is one at night; "1 on Mondays" is not."""
        if at >= len(self._pieces) or self._pieces[at].kind in ("mark", "newline"):
            return True
        following = {sense.terminal for sense in self._lexicon.longest(self._norms, at)[1]}
        return bool(following & {"FOR", "AND", "BY_X", "THEN"})

    def _of_a_clock(self, at: int) -> bool:
        """ "8am", "at 8 am and 8 pm": the number before is an hour."""
        return self._pieces[at].glued or any(sense.terminal in ("AT", "CLOCK") for token in self._out.known for sense in token.senses)

    def _starts_number(self, at: int) -> bool:
        return spelled_number(self._pieces, self._norms, at, self._lexicon, self._customs.decimal) is not None

    def _abbreviation_end(self, at: int, end: int) -> int:
        """A full stop after a short word, with a small letter, a digit or a mark next, belongs to the word: "max. 8", "tab. daily"."""
        if end + 1 >= len(self._pieces) or self._norms[end] != "." or not self._pieces[end].glued:
            return end
        after = self._pieces[end + 1]
        short = len(self._norms[end - 1]) <= 5 and self._pieces[end - 1].kind == "word"
        return end + 1 if short and (after.text[:1].islower() or after.kind == "number" or after.norm in ",;)") else end


def _clock(text: str) -> time | None:
    digits = [int(part) for part in text.replace(" ", "").replace(".", ":").replace("h", ":").split(":")]
    hours, minutes = digits[:2] if len(digits) > 1 else divmod(digits[0], 100)
    return time(hours, minutes) if hours < 24 and minutes < 60 else None


def _dates(text: str, customs: Customs) -> Sequence[date]:
    """The days it may be: 03/04/2026 is two, unless the country settles which comes first."""
    if text[4:5] == "-":
        return _valid(text[:4], text[5:7], text[8:])
    first, second, year = text.replace(".", "/").split("/")
    orders = [(second, first), (first, second)]
    if customs.month_first is not None:
        orders = [orders[1] if customs.month_first else orders[0]]
    found = [day for month, day_of in orders for day in _valid(year, month, day_of)]
    return list(dict.fromkeys(found))


def _valid(year: str, month: str, day: str) -> Sequence[date]:
    try:
        return [date(int(year), int(month), int(day))]
    except ValueError:
        return []

"""A line becomes tokens, each with every sense it may have; what no table knows is handed back as unknown, never dropped.

Comes in: the text and a language's lexicon. Goes out: `Tokens`. Where a sense depends on its neighbours ("x" between two numbers, "T"
before a unit) the choice is made here, by the letters alone.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, time
from fractions import Fraction

from dosewright.core.regimen.reading.lexicon import Lexicon, OneLine, Sense
from dosewright.core.regimen.reading.numbering import Spelled, spelled_number
from dosewright.core.regimen.reading.reading_values import Place
from dosewright.core.regimen.reading.scanning import Piece, scan

__all__ = ["Customs", "Token", "Tokens", "lex"]

_DAY_PARTS = {7: "d", 52: "wk", 12: "mo"}  # 5/7, 2/52, 3/12: the custom of the countries that `Customs.day_fractions` says
_LARGEST_IN_PATTERN = 20
_LONG = 1000  # from here a comma belongs between the thousands (ISMP: 100000 units)
_SHORTENED = frozenset({"MAX", "UNIT", "TOTAL", "SUPPLY", "REL", "VERB", "ROUTE", "MONTHNAME", "WEEKDAY"})
_MEASURES = ("mg", "microgram", "g", "mL", "mmol", "mEq", "unit")
_HOUR_DIGITS = re.compile(r"\d\d(?:00|15|30|45)")
_PADDED = re.compile(r"\d\d:[0-5]\d")
_HOUR_POINT = re.compile(r"\d{1,2}\.(?:00|15|30|45)")


@dataclass(frozen=True, slots=True)
class Customs:
    """How a country writes: decimal mark, whether 5/7 is five days, whether dates put the month first (None: not known).

    `pattern_note` marks 1-0-1 where it is not the custom of the country that the places are morning, noon and evening.
    `half_after_unit` reads "1 comprimé ½" as one and a half. `clock_12`: 8:30 may be in the morning or in the evening, unless another time
    in the line is written by the 24-hour clock. `clock_padded`: the country writes 09:00 and 10:00 (CLDR's short time "HH:mm"); there two
    digits and a colon are hours from 0 to 23, where no word of the day stands in the line.
    """

    decimal: str = "."
    day_fractions: bool = False
    month_first: bool | None = None
    pattern_note: str = ""
    half_after_unit: bool = False
    clock_12: bool = False
    clock_padded: bool = False


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
        self._clock_12 = customs.clock_12 and not any(_by_24_hours(piece) for piece in self._pieces) and not self._padded()
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

    def _padded(self) -> bool:
        """All times are written as 10:00 is, in a country that writes them so, and nothing says "pm" or "at night"."""
        clocks = [piece for piece in self._pieces if piece.kind == "clock"]
        if not clocks or not self._customs.clock_padded or not all(_PADDED.fullmatch(piece.text) for piece in clocks):
            return False
        found = (self._lexicon.longest(self._norms, at)[1] for at in range(len(self._norms)))
        return not any(sense.terminal in ("DAYPART", "AMPM", "WHENX", "OCLOCK") for senses in found for sense in senses)

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
                return self._emit(at, at + 1, *self._halves(clock)) if clock else at
            case "date":
                senses = tuple(Sense("DATE", (day,)) for day in _dates(piece.norm, self._customs))
                return self._emit(at, at + 1, *senses) if senses else at
        return at

    def _halves(self, clock: time) -> list[Sense]:
        """8:30 in a line that has no time by the 24-hour clock is two: what stands beside it, or a person, settles which."""
        if self._clock_12 and 1 <= clock.hour < 12:
            return [Sense("CLOCK", (clock,)), Sense("CLOCK", (clock.replace(hour=clock.hour + 12),))]
        return [Sense("CLOCK", (clock,))]

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
            return self._emit(at, at + 1, *clock)
        if found is None:
            return at
        return self._counted(at, found)

    def _counted(self, at: int, found: Spelled) -> int:
        if (mixed := self._dashed(found)) is not None:
            return self._emit(at, mixed.end, Sense("NUM", mixed.value, ask="read.run-together"))
        if period := self._hyphened_period(found):
            return self._emit(at, found.end + 2, *period)
        if self._is_one_and_half_hour(at, found):
            return self._emit(at, at + 1, Sense("NUM", Fraction(1)))
        found = self._over_article(found)
        ask = "read.run-together" if self._run_together(found) else found.ask
        return self._emit(at, found.end, Sense("NUM", found.value, note=self._marked(at, found), ask=ask))

    def _is_one_and_half_hour(self, at: int, found: Spelled) -> bool:
        """ "Take one half an hour before breakfast": one, half an hour before it; "one half hour" may be the half hour alone."""
        said = self._norms[at : found.end] == ["one", "half", "an"]
        return said and self._norms[found.end : found.end + 1] == ["hour"] and not self._said("NUM")

    def _over_article(self, found: Spelled) -> Spelled:
        """ "½ a tablet" is half a tablet."""
        if found.value >= 1 or found.end >= len(self._pieces):
            return found
        end, senses = self._lexicon.longest(self._norms, found.end)
        article = any(sense.terminal == "A" for sense in senses) and self._unit_at(end)
        return replace(found, end=end) if article else found

    def _marked(self, at: int, found: Spelled) -> str:
        """A fraction by digits, and a long number without a comma before its unit, are on the lists of notations that are misread."""
        digits = "".join(self._norms[at : found.end])
        long = digits.isdigit() and int(digits) >= _LONG and self._unit_at(found.end)
        return "read.error-prone" if self._customs.decimal == "." and ("/" in digits or long) else ""

    def _hyphened_period(self, found: Spelled) -> list[Sense]:
        """ "3-weekly" is every three weeks; "3 weekly" may be three of them, every week. "2-daily" is asked."""
        end = found.end
        if end + 1 >= len(self._pieces) or self._norms[end] != "-" or not (self._pieces[end].glued and self._pieces[end + 1].glued):
            return []
        last, senses = self._lexicon.longest(self._norms, end + 1)
        said = [str(sense.value) for sense in senses if sense.terminal == "ADVPERIOD" and last == end + 2]
        if found.value.denominator != 1 or found.ask or not said:
            return []
        number, _, unit = said[0].partition(" ")[0].partition("/")
        return [Sense("EVERYX", f"{found.value * int(number)}/{unit}", ask="read.word" if unit == "d" else "")]

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

    def _hours_only(self, at: int) -> list[Sense] | None:
        """The 2000 of "at 0800 and 2000", of "bd 0800 2000"; the 20.00 of "at 08.00 and 20.00"."""
        text = self._pieces[at].text
        listed = [sense.terminal for token in self._out.known[-2:] for sense in token.senses]
        after_time = "CLOCK" in listed or "AT" in listed[-1:]
        after_rate = bool({"WHENX", "DAYPART", "FREQ"} & set(listed[-1:])) and not self._unit_at(at + 1)
        digits = _HOUR_DIGITS.fullmatch(text) and (after_time or after_rate)
        if not digits and not (self._customs.clock_12 and after_time and _HOUR_POINT.fullmatch(text)):
            return None
        clock = _clock(text)
        if not clock:
            return None
        by_24_hours = text[0] == "0" or (len(text) == 4 and text.isdigit())
        return [Sense("CLOCK", (clock,))] if by_24_hours else self._halves(clock)

    def _run_together(self, found: Spelled) -> bool:
        """10U may be seen as 100."""
        after = self._pieces[found.end] if found.end < len(self._pieces) else None
        return after is not None and after.glued and after.norm in ("u", "iu", "ui", "ie")

    def _and_half(self, at: int) -> int:
        """ "1 tablet and a half": the half belongs to the number before the unit. "one (1) and a half tablets": to the number itself."""
        before = self._out.known[-1] if self._out.known else None
        if before is None or not (before.senses[0].terminal == "UNIT" or (before.senses[0].terminal == "NUM" and before.text[-1] == ")")):
            return at
        end, senses = self._lexicon.longest(self._norms, at)
        joined = any(sense.terminal == "AND" for sense in senses)
        if end >= len(self._pieces) or not (joined or (self._customs.half_after_unit and self._after_whole())):
            return at
        part = spelled_number(self._pieces, self._norms, end if joined else at, self._lexicon, self._customs.decimal)
        if part is None or part.value >= 1 or part.ask or (part.words and not joined):
            return at
        if before.senses[0].terminal == "NUM":
            return self._added(before, part) if joined else at
        other = not joined and (
            self._starts_with(part.end, "TIMEUNIT", "HOURS", "OF", "SLASH") or self._said("DAYPART") or self._said("MEAL")
        )
        if other or self._unit_at(part.end):
            return at  # "1 cp 1/2 heure avant", "matin 1 cp 1/2 soir"
        return self._emit(at, part.end, Sense("AND_HALF", part.value))

    def _added(self, whole: Token, part: Spelled) -> int:
        """The number said in both ways and its half as one token."""
        (number,), stop = whole.senses, self._pieces[part.end - 1].end
        value = Fraction(str(number.value)) + part.value
        self._out.known[-1] = Token((replace(number, value=value),), self._text[whole.start : stop], whole.start, stop)
        return part.end

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
        if self._norms[at] == "/" and self._between_clocks(at):
            return self._emit(at, at + 1, Sense("AND", note="read.error-prone"))
        if self._norms[at : at + 2] == ["/", "24"] and not self._hours_at(at + 2):
            return self._emit(at, at + 2, Sense("DAYHOURS", note="read.error-prone"))
        end, senses = self._lexicon.longest(self._norms, at)
        senses = tuple(fit for sense in senses for fit in self._fitting(sense, at, end))
        if not senses:
            return at
        whole = self._abbreviation_end(end, short=any(sense.terminal in _SHORTENED for sense in senses))
        if whole > end:
            senses = tuple(_with_note(sense) if sense.terminal == "UNIT" and sense.value in _MEASURES else sense for sense in senses)
        return self._emit(at, whole, *senses)

    def _hours_at(self, at: int) -> bool:
        return at < len(self._pieces) and any(sense.terminal == "HOURS" for sense in self._lexicon.longest(self._norms, at)[1])

    def _between_clocks(self, at: int) -> bool:
        """ "8am/8pm", "0800/2000": a list of times."""
        before = {sense.terminal for token in self._out.known[-1:] for sense in token.senses}
        return bool(before & {"CLOCK", "AMPM"}) and at + 1 < len(self._pieces) and self._pieces[at + 1].kind in ("clock", "number")

    def _silent_hyphen(self, at: int) -> bool:
        """A hyphen inside a compound: "six-hourly". Between days or numbers it is a range, and stays."""
        if self._norms[at] != "-" or not self._out.known or at + 1 >= len(self._pieces):
            return False
        after = self._pieces[at + 1]
        days = any(sense.terminal in ("WEEKDAY", "ORD", "MONTHNAME") for sense in self._out.known[-1].senses)
        roman = any(sense.terminal == "ROMAN" for sense in self._lexicon.longest(self._norms, at + 1)[1])
        number = self._starts_number(at + 1) or (roman and self._out.known[-1].senses[0].terminal == "NUM")
        return self._pieces[at].glued and after.glued and after.kind == "word" and not days and not number

    def _fitting(self, sense: Sense, at: int, end: int) -> Iterator[Sense]:
        """The sense as it is here, or none where its neighbours rule it out."""
        before = self._out.known[-1].senses[0].terminal if self._out.known else ""
        number_after = end < len(self._pieces) and self._starts_number(end)
        if not self._is_out_of_place(sense, at, end, after_number=before in ("NUM", "CLOCK"), number_after=number_after):
            yield self._noted(self._shaped(sense, end, before, number_after=number_after), at, end)

    def _noted(self, sense: Sense, at: int, end: int) -> Sense:
        """Notations that are misread: no blank between number and unit; "ml", whose last letter looks like a 1 (ISMP)."""
        if sense.terminal != "UNIT" or self._customs.decimal != "." or sense.ask:
            return sense
        if at > 0 and self._pieces[at].glued and self._pieces[at - 1].kind == "number":
            sense = _with_note(sense, "read.no-space")
        lower = self._text[self._pieces[at].start : self._pieces[end - 1].end].removesuffix("s").endswith("ml")
        return _with_note(sense) if sense.value == "mL" and lower else sense

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
                out = out or (self._norms[at] in ("mo", "mi") and self._pieces[at].text.istitle() and self._names_days())
            case "WEEKDAY":
                out = self._norms[at] == "so" and self._pieces[at].text == "so"  # "so einnehmen"; Sunday is "So", or "so." in a list
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
                crossed = before == "NUM" and (number_after or self._unit_at(end))  # after a clock time it says for how long
                if before == "CLOCK" and number_after:
                    return replace(sense, terminal="X")
                return replace(sense, terminal="CROSS" if crossed else "TIMES" if before in ("NUM", "CLOCK") else "X")
            case "OF" if number_after and before == "UNIT":
                return replace(sense, terminal="OFSIZE")  # "1 comprimé de 500 mg"
            case "ON_NOCTE":
                return replace(sense, terminal="WHENX")
            case "ROMAN":
                return Sense("NUM", Fraction(str(sense.value).count("T") or int(str(sense.value))), note=sense.note)
        return sense

    def _names_days(self) -> bool:
        """ "Mo. und Fr.", "1x/Woche (Mo)" are Monday; "Mo. und abends", "Mo. und Mi." may be the morning."""
        others = (at for at, norm in enumerate(self._norms) if norm not in ("mo", "mi"))
        named = [sense for at in others for sense in self._lexicon.longest(self._norms, at)[1]]
        return any(sense.terminal == "WEEKDAY" or (sense.terminal != "EVERYX" and "wk" in str(sense.value).split("/")) for sense in named)

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
        """ "8am", "at 8 am and 8 pm", "with supper (5 pm)": the number before is an hour."""
        bracket = at > 1 and self._norms[at - 2] == "("
        return (
            bracket
            or self._pieces[at].glued
            or any(sense.terminal in ("AT", "CLOCK") for token in self._out.known for sense in token.senses)
        )

    def _starts_number(self, at: int) -> bool:
        return spelled_number(self._pieces, self._norms, at, self._lexicon, self._customs.decimal) is not None

    def _abbreviation_end(self, end: int, *, short: bool) -> int:
        """A full stop after a short word, with a small letter or a mark next, belongs to the word: "tab. daily"; before a digit only after
        a word that is written `short`: "max. 8", but "for 28 days. 56 tablets", "2 tablets daily. 1 in the morning".
        """
        if end + 1 >= len(self._pieces) or self._norms[end] != "." or not self._pieces[end].glued:
            return end
        after = self._pieces[end + 1]
        word = len(self._norms[end - 1]) <= 5 and self._pieces[end - 1].kind == "word"
        belongs = after.text[:1].islower() or after.norm in ",;)" or (short and after.kind == "number")
        return end + 1 if word and belongs else end


def _with_note(sense: Sense, code: str = "read.error-prone") -> Sense:
    """The sense with one more mark; codes stand side by side."""
    return sense if code in sense.note.split() else replace(sense, note=f"{sense.note} {code}".strip())


def _by_24_hours(piece: Piece) -> bool:
    """08:00, 20:30, 0800 or 20.00 tell that the line counts its hours from 0 to 24."""
    if piece.kind not in ("clock", "number") or not re.fullmatch(r"\d\d[:.]?(?:00|15|30|45)(?::00)?|\d\d:[0-5]\d", piece.text):
        return False
    return (piece.kind == "clock" or "." in piece.text) and (piece.text[0] == "0" or 13 <= int(piece.text[:2]) < 24)


def _clock(text: str) -> time | None:
    digits = [int(part) for part in text.replace(" ", "").replace(".", ":").replace("h", ":").split(":")]
    hours, minutes = digits[:2] if len(digits) > 1 else divmod(digits[0], 100)
    return time(hours, minutes) if hours < 24 and minutes < 60 else None


def _dates(text: str, customs: Customs) -> Sequence[date]:
    """The days it may be: 03/04/2026 is two, unless the country settles which comes first."""
    if text[4:5] == "-":
        return _valid(text[:4], text[5:7], text[8:])
    first, second, year = text.replace(".", "/").replace("-", "/").split("/")
    orders = [(second, first), (first, second)]
    year_first = customs.month_first is None and len(year) == 2
    year = f"20{year}" if len(year) == 2 else year
    if customs.month_first is not None:
        orders = [orders[1] if customs.month_first else orders[0]]
    found = [day for month, day_of in orders for day in _valid(year, month, day_of)]
    if year_first:
        found += _valid(f"20{first.zfill(2)}", second, year[2:])
    return list(dict.fromkeys(found))


def _valid(year: str, month: str, day: str) -> Sequence[date]:
    try:
        return [date(int(year), int(month), int(day))]
    except ValueError:
        return []

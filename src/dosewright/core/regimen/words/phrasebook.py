"""What a sentence needs of a language: its phrases, each with one meaning that `reading` reads back."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from dosewright.core.regimen.dosage import TimeUnit
from dosewright.core.units.amount_words import NumberStyle
from dosewright.core.units.quantity import Quantity

__all__ = ["Phrasebook", "list_words"]


def list_words(parts: Sequence[str], and_word: str) -> str:
    """ "a, b and c"."""
    return f"{', '.join(parts[:-1])} {and_word} {parts[-1]}" if len(parts) > 1 else parts[0]


@dataclass(frozen=True, slots=True)
class Phrasebook:
    """Templates hold {n}, {a}, {b}; a missing entry means that the language has no plain phrase for it, and nothing is said.

    `say_amount` gives None for a unit without a word. `weekdays` run from Monday. `verb` opens a sentence, `verb_other` where the unit asks
    for another; `verb_after` puts it between a phrase that comes first, {first}, and the {rest}. `times` and `every` are keyed by unit and
    number, number None for any other; `number_words` are for the times where numbers are written in words. A reason that opens with one of
    `own_openers` needs no other word before it: "when needed to help sleep".
    """

    say_amount: Callable[[Quantity, NumberStyle], str | None]
    verb: str
    verb_after: str
    verb_other: Mapping[str, str]
    when: Mapping[str, str]
    clock: str
    offset: str
    offset_hours: Mapping[tuple[TimeUnit, int | None], str]
    times: Mapping[tuple[TimeUnit, int | None], str]
    number_words: Sequence[str]
    up_to_times: str
    every: Mapping[tuple[TimeUnit, int | None], str]
    every_range: str
    weekdays: tuple[str, ...]
    on_days: str
    say_month_days: Callable[[Sequence[int]], str]
    first_month_days: str
    cycle: str
    lasting: Mapping[tuple[TimeUnit, int | None], str]
    since: str
    until: str
    since_until: str
    say_date: Callable[[date], str]
    wanted: str
    wanted_for: str
    own_openers: Sequence[str]
    under_the_tongue: str
    at_most: Mapping[TimeUnit, str]
    once: str
    then: str
    and_word: str
    to_word: str

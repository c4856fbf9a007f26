"""What the person's sheet needs of a language, one value each. A word without an entry is printed as it was given, and a note says so."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date

__all__ = ["Tongue"]


@dataclass(frozen=True, slots=True)
class Tongue:
    """Templates hold {a}, {b}, {n}, {of}. `weekdays` from Monday as one says "on Mondays"; `slots` words for the usual dosing times.

    `forms`, `shapes`, `colours`, `cautions` translate the catalogue's own English words, lower case and without a full stop. Source:
    pharmacy practice, from memory; the pharmacy confirms them before use. English has none: the words are its own.
    """

    lang: str
    title: str
    span: Callable[[date, date], str]
    born: str
    room: str
    day: Callable[[date], str]
    on_weekdays: str
    on_dates: str
    weekdays: tuple[str, ...]
    and_word: str
    slots: Mapping[str, str]
    when_heading: str
    own_pack: str
    each_heading: str
    beside_heading: str
    beside_line: str
    purpose: str
    looks: str
    mark: str
    how: str
    look_new: str
    look_before: str
    same_medicine: str
    continued: str
    card_line: str
    differs: str
    ask: str
    nothing: str
    page: str
    made: str
    caution: str
    forms: Mapping[str, str]
    shapes: Mapping[str, str]
    colours: Mapping[str, str]
    cautions: Mapping[str, str]

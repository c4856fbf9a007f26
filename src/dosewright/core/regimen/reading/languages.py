"""The languages that lines are written in: grammar, tables and customs, built when first needed and kept."""

import importlib
from dataclasses import dataclass
from functools import cache
from typing import Any

from lark import Lark
from lark.lexer import Lexer

from dosewright.core.regimen.reading.build import Builder
from dosewright.core.regimen.reading.grammar import SHARED
from dosewright.core.regimen.reading.lexicon import Lexicon, build_lexicon
from dosewright.core.regimen.reading.lexing import Customs
from dosewright.core.regimen.reading.options import Habits
from dosewright.core.regimen.reading.spelling import Speller

__all__ = ["LANGUAGES", "Language", "find_language"]

# tag → module of the tables
LANGUAGES = {"en": "english", "fr": "french", "es": "spanish", "de": "german"}
_COUNTRY_NAMES = {"UK": "GB"}
_DAY_FRACTIONS = ("GB", "IE", "AU", "NZ")  # pharmacy practice, from memory


@dataclass(frozen=True, slots=True)
class Language:
    """What reading needs of a language in a country."""

    lexicon: Lexicon
    customs: Customs
    habits: Habits
    parser: Lark
    speller: Speller


class _Given(Lexer):
    """The tokens are already made: lark gets them as they are."""

    def __init__(self, _conf: object) -> None:
        pass

    def lex(self, data: Any) -> Any:  # type: ignore[override]
        yield from data


@cache
def find_language(lang: str, country: str) -> Language | None:
    """None for a language that has no tables. `lang` may carry a region: "fr-CA"."""
    tag, _, region = lang.replace("_", "-").partition("-")
    if tag.lower() not in LANGUAGES:
        return None
    tables = importlib.import_module(f"dosewright.core.regimen.reading.{LANGUAGES[tag.lower()]}")
    place = _COUNTRY_NAMES.get((country or region).upper(), (country or region).upper())
    lexicon = build_lexicon((tables.WORDS, tables.INSTRUCTIONS, tables.REASONS), place)
    return Language(
        lexicon,
        _customs(tag.lower(), place),
        Habits(clock_24=tag.lower() != "en", times_first=True if tag.lower() == "de" else None),
        _parser(tables.GRAMMAR),
        Speller(lexicon.words),
    )


@cache
def _parser(own: str) -> Lark:
    return Lark(SHARED + own, parser="lalr", lexer=_Given, transformer=Builder())


def _customs(lang: str, country: str) -> Customs:
    month_first = {"US": True}.get(country, False if country and country != "CA" else None)
    if lang != "en":
        note = "" if lang == "de" else "read.pattern-places"
        return Customs(decimal=",", month_first=False, pattern_note=note, half_after_unit=lang == "fr")
    return Customs(
        decimal=".", day_fractions=country in _DAY_FRACTIONS, month_first=month_first, pattern_note="read.pattern-places", clock_12=True
    )

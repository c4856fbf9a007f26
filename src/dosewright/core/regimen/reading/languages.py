"""The languages that lines are written in: grammar, tables and customs, built when first needed and kept."""

import importlib
from dataclasses import dataclass
from functools import cache
from hashlib import sha256

from dosewright.core.regimen.reading.grammar import SHARED
from dosewright.core.regimen.reading.lexicon import Lexicon, build_lexicon
from dosewright.core.regimen.reading.lexing import Customs
from dosewright.core.regimen.reading.options import Habits
from dosewright.core.regimen.reading.parse_table import ParseTable, read_table
from dosewright.core.regimen.reading.spelling import Speller

__all__ = ["LANGUAGES", "Language", "digest", "find_language", "grammar_of"]

# tag → module of the tables
LANGUAGES = {"en": "english", "fr": "french", "es": "spanish", "de": "german"}
_COUNTRY_NAMES = {"UK": "GB"}
_CLOCK_PADDED = ("GB", "IE")  # Unicode CLDR, en-GB and en-IE: short time "HH:mm"; en-US, -CA, -AU, -NZ: "h:mm a"; from memory
_CLOCK_12 = ("MX", "CO", "VE", "PE", "US", "PR", "DO", "PA")  # Unicode CLDR, es-MX and others: "h:mm a"; from memory
_DAY_FRACTIONS = ("GB", "IE", "AU", "NZ")  # pharmacy practice, from memory


@dataclass(frozen=True, slots=True)
class Language:
    """What reading needs of a language in a country."""

    lexicon: Lexicon
    customs: Customs
    habits: Habits
    table: ParseTable
    speller: Speller


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
        Habits(
            clock_24=tag.lower() != "en" and not (tag.lower() == "es" and place in _CLOCK_12),
            times_first=True if tag.lower() == "de" else None,
            siesta=tag.lower() == "es",
        ),
        _table(SHARED + tables.GRAMMAR, f"{LANGUAGES[tag.lower()]}_table"),
        Speller(lexicon.words),
    )


@cache
def _table(grammar: str, kept_in: str) -> ParseTable:
    """As kept, which takes a hundredth of the time; a grammar that was changed since then is compiled, and gives the same."""
    kept = importlib.import_module(f"dosewright.core.regimen.reading.{kept_in}")
    if digest(grammar) == kept.DIGEST:
        return read_table(kept.TABLE)
    compiling = importlib.import_module("dosewright.core.regimen.reading.compile_grammar")
    found: ParseTable = compiling.compile_grammar(grammar)
    return found


def grammar_of(lang: str) -> str:
    """The whole grammar of a language in `LANGUAGES`."""
    tables = importlib.import_module(f"dosewright.core.regimen.reading.{LANGUAGES[lang]}")
    return SHARED + str(tables.GRAMMAR)


def digest(grammar: str) -> str:
    """What a kept table names its grammar by."""
    return sha256(grammar.encode()).hexdigest()


def _customs(lang: str, country: str) -> Customs:
    month_first = {"US": True}.get(country, False if country and country != "CA" else None)
    if lang != "en":
        note = "" if lang == "de" else "read.pattern-places"
        return Customs(decimal=",", month_first=None if country in ("US", "CA") else False, pattern_note=note, half_after_unit=lang == "fr")
    return Customs(
        decimal=".",
        day_fractions=country in _DAY_FRACTIONS,
        month_first=month_first,
        pattern_note="read.pattern-places",
        clock_12=True,
        clock_padded=country in _CLOCK_PADDED,
    )

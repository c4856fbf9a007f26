"""The hard rules for every printed and shown amount: one table, one check, and the repairs that can never change a meaning (R16).

Comes in: text about medicines (not names of people or addresses, which are printed as they are). Goes out: the ids of the rules that it
breaks. Sources: ISMP list of error-prone abbreviations, symbols and dose designations; Joint Commission "do not use" list; USP <17>.
"""

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from dosewright.core.units.amount_words import MICROGRAM_COUNTRIES, NumberStyle, format_count, format_quantity, format_strength

__all__ = [
    "DECIMAL_COMMA_LANGUAGES",
    "DECIMAL_COMMA_RULES",
    "MICROGRAM_RULES",
    "RULES",
    "NumberStyle",
    "TextRule",
    "check_safe_text",
    "format_count",
    "format_quantity",
    "format_strength",
    "tidy_text",
]

_ISMP = "ISMP list of error-prone abbreviations, symbols and dose designations"
_JC = "Joint Commission official do-not-use list"

_MASS = r"mg|mcg|micrograms?|nanograms?|[uµμ]g|kg|g"
_VOLUME = r"mL|ml|ML|L"
_COUNT = r"international units?|units?|IU|mmol"
_UNIT = rf"(?:{_MASS}|{_VOLUME}|{_COUNT})"
_THING = r"(?:tablets?|tabs?|capsules?|caps?|puffs?|drops?|sachets?|patch(?:es)?|spoonfuls?)"
_NUMBER = r"\d+(?:,\d{3})*(?:\.\d+)?"


@dataclass(frozen=True, slots=True)
class TextRule:
    """One rule: what breaks it, what to write instead, and who says so."""

    id: str
    breaks: re.Pattern[str]
    instead: str
    source: str


def _rule(name: str, pattern: str, instead: str, source: str = _ISMP) -> TextRule:
    return TextRule(name, re.compile(pattern), instead, source)


RULES: tuple[TextRule, ...] = (
    _rule("trailing-zero", rf"\d\.0+(?!\d)|\d\.\d*0\s*{_UNIT}\b", "5 mg", f"{_JC}; {_ISMP}"),
    _rule("no-leading-zero", r"(?<!\d)\.\d", "0.5 mg", f"{_JC}; {_ISMP}"),
    _rule("no-space-before-unit", rf"\d(?:{_UNIT}|{_THING})\b", "10 mg"),
    _rule("name-run-into-strength", rf"[A-Za-z]{{3,}}{_NUMBER}\s?{_UNIT}\b", "propranolol 20 mg"),
    _rule("no-thousands-separator", rf"(?<![\d,.])\d{{4,}}(?:\.\d+)?\s*(?:{_UNIT}|{_THING})\b", "100,000 units"),
    _rule("unit-u", r"(?<![A-Za-z])I?U\b|\d\s?(?:iu|u)\b", "units, international units", _JC),
    _rule("microgram-sign", r"(?<![A-Za-z])[uµμ]g\b", "micrograms or mcg"),
    _rule("daily-abbreviation", r"\b(?i:qd|q\.d\.?|od|o\.d\.?)(?![\w])", "daily", _JC),
    _rule("alternate-day-abbreviation", r"\b(?i:qod|q\.o\.d\.?|eod)(?![\w])", "every other day", _JC),
    _rule("bedtime-abbreviation", r"\b(?i:hs|h\.s\.?|qhs|q\.h\.s\.?|qn)(?![\w])", "at bedtime"),
    _rule("fraction-with-slash", r"(?<![\d/])\d+\s?/\s?\d+(?![\d/])", "half a tablet"),
    _rule("roman-numeral", r"\b[IVX]{1,4}\s+(?i:tab|cap|puff|drop)", "5 tablets"),
    _rule("weekly-abbreviation", r"\b(?i:tiw|biw)\b", "3 times weekly"),
    _rule("comparison-sign", r"[<>≤≥]", "less than, more than"),
    _rule("joining-symbol", r"[@&+]", "at, and"),
    _rule("medicine-abbreviation", r"\b(?:MS|MSO4|MgSO4|MTX|AZT|HCTZ|ISMN)\b", "the full generic name", f"{_JC}; {_ISMP}"),
    _rule("as-directed-abbreviation", r"\b(?i:ud|u\.d\.?|mdu|ut dict\.?)(?![\w])", "the dose and its time"),
    _rule("slash-as-separator", rf"\b{_UNIT}\s*/\s*\w", "and, per"),
    _rule("period-after-unit", r"(?<![A-Za-z])(?:mg|mcg|mL|ml|kg|g)\.(?!\d)", "mg"),
    _rule("lower-case-litre", r"(?<![A-Za-z])ml\b|\d\s?l\b", "mL, L"),
    _rule("cc", r"(?<![A-Za-z])(?i:cc)\b", "mL"),
    _rule("discharge-or-discontinue", r"\b(?i:d/c)\b", "stop, discharge"),
    _rule(
        "other-abbreviation",
        r"\b(?:BT|SSRI|SSI)\b|\b(?:OS|AD|AS|AU)\b(?!\s+[A-Z]{2})|\b(?:o\.s\.|a\.d\.|a\.s\.|a\.u\.)",
        "the words in full",
    ),
)


MICROGRAM_RULES: tuple[TextRule, ...] = (
    _rule("below-one-milligram", r"(?<![\d.,])0\.\d+\s*mg\b", "62.5 micrograms", "BNF, guidance on prescribing"),
    _rule("micrograms-in-full", r"(?<![A-Za-z])mcg\b", "micrograms", "BNF, guidance on prescribing"),
)


# Where the comma is the decimal mark the same slips look otherwise, and the units have other short forms.
DECIMAL_COMMA_LANGUAGES = frozenset({"fr", "es", "de"})
DECIMAL_COMMA_RULES: tuple[TextRule, ...] = (
    _rule("trailing-zero-after-comma", r"\d,\d*0(?!\d)", "5 mg"),
    _rule("no-zero-before-comma", r"(?<![\d\w]),\d", "0,5 mg"),
    _rule("point-between-thousands", r"(?<![\d.,])\d{1,3}\.\d{3}(?![\d.])", "1 000 mg"),
    _rule("international-unit-abbreviation", r"(?<![A-Za-z])(?:UI|U\.I|IE|I\.E)(?![A-Za-z])|\d\s?(?:ui|ie)\b", "the unit in full"),
)


def check_safe_text(text: str, country: str = "", lang: str = "en") -> tuple[str, ...]:
    """Ids of the rules that the text breaks, in the table's order; empty when it may be printed.

    `country` adds the rules that only some countries have: micrograms in full, and below 1 mg, in the UK and Ireland. `lang` adds those
    of languages whose decimal mark is the comma.
    """
    rules = RULES + MICROGRAM_RULES if country in MICROGRAM_COUNTRIES else RULES
    rules += DECIMAL_COMMA_RULES if lang in DECIMAL_COMMA_LANGUAGES else ()
    return tuple(rule.id for rule in rules if rule.breaks.search(text))


@lru_cache(maxsize=20_000)
def tidy_text(text: str, country: str) -> str:
    """The same text with the breaches mended that have exactly one meaning: "10mg" → "10 mg", "5.0 mg" → "5 mg", "50 mg/12.5 mg" →
    "50 mg and 12.5 mg", "5mg/5ml" → "5 mg per 5 mL"; in the UK and Ireland micrograms in full and below 1 mg. Numbers keep their value.

    Whatever has more than one reading (abbreviations, "1/2", "<") is left alone, so that `check_safe_text` still finds it.
    """
    # "0.25-0.5 mg": the unit of the second number is meant for the first too, so the unit may not change under it.
    changing = country if len(_AMOUNT.findall(text)) == len(_ANY_NUMBER.findall(text)) else ""
    text = _AMOUNT.sub(lambda found: _written_well(found, changing), text)
    text = _PER.sub(r"\1 per \2", text)
    text = _BOTH.sub(r"\1 and \2", text)
    text = _JOINED.sub(" and ", text)
    return _END_PERIOD.sub(r"\1", text)


# Not after "1 " of "1 000 mg", nor the decimals of "0,125 mg": a number is taken whole or left alone.
_WHOLE = r"(?:[1-9]\d{0,2}(?:,\d{3})+|0|[1-9]\d*)"
_AMOUNT = re.compile(rf"(?<![\d.,])(?<!\d[\u00a0\u202f])({_WHOLE}(?:\.\d+)?|\.\d+)[\s-]?({_UNIT}|IU|iu|U)(?![A-Za-z])")
_ANY_NUMBER = re.compile(r"\d+(?:,\d{3})*(?:\.\d+)?|\.\d+")
_PER = re.compile(rf"(\b{_UNIT})\s*/\s*((?:{_NUMBER}\s)?(?:{_VOLUME}|hours?|hrs?|h|day|dose|puff|spray|drop|actuation|kg|tablet|sachet)\b)")
_BOTH = re.compile(rf"(\b{_UNIT})\s*/\s*({_NUMBER}\s{_UNIT}\b)")
_JOINED = re.compile(r"(?<=\w)\s*[&+]\s*(?=\w)")
_END_PERIOD = re.compile(r"(?<![A-Za-z])(mg|mcg|mL|kg|g)\.$")

_UNIT_WORD = {
    "ml": "mL",
    "ML": "mL",
    "IU": "international unit",
    "iu": "international unit",
    "U": "unit",
    "ug": "mcg",
    "µg": "mcg",
    "μg": "mcg",
    "micrograms": "microgram",
    "units": "unit",
    "international units": "international unit",
    "nanograms": "nanogram",
}


def _written_well(found: re.Match[str], country: str) -> str:
    number, unit = found[1].replace(",", ""), found[2]
    unit = _UNIT_WORD.get(unit, unit)
    if unit in ("mcg", "microgram"):
        unit = "microgram" if country in MICROGRAM_COUNTRIES or unit == "microgram" else "mcg"
    return format_strength(Fraction(number if number[0] != "." else f"0{number}"), unit, country)

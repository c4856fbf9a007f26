"""What may lie in a card: a medicine and the rules that the pharmacy keeps in, the rules that speak about it out.

The rules are data with source and date (shipped/suitability); by form, by product name, by flag. Nothing is decided here: the strictest
rule's standing says what happens unless a person records otherwise. Codes as in published lists of what not to repack: X exclude,
XD exclude unless stability data is recorded, T a limit in days, S separate, H hazardous, W confirm.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import IntEnum
from functools import lru_cache

from dosewright.core.medicines.food import FoodRule
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.names import mentions, words_of
from dosewright.core.medicines.rule_codes import HAZARDOUS, PACKABLE
from dosewright.core.medicines.substances import Blend, DailyMaximum
from dosewright.core.units.ids import MedicineCode

__all__ = ["NO_RULES", "STANDING_OF", "Rule", "Rules", "Standing", "holds_back", "limit_days", "meant_weekly", "rules_about", "strictest"]


class Standing(IntEnum):
    """What a rule says of a medicine, mildest first."""

    FITS = 0
    CONFIRM = 1  # W
    SEPARATE = 2  # S: in its own container, unless a person decides otherwise
    UNLESS_PROVED = 3  # XD: out, unless stability data or the maker's advice is on record
    EXCLUDED = 4  # X: out; nothing lets it in


STANDING_OF: Mapping[str, Standing] = {
    "X": Standing.EXCLUDED,
    "XD": Standing.UNLESS_PROVED,
    "S": Standing.SEPARATE,
    HAZARDOUS: Standing.SEPARATE,
    "W": Standing.CONFIRM,
    PACKABLE: Standing.FITS,
}


@dataclass(frozen=True, slots=True)
class Rule:
    """One line of the rules. `why` is the code that the alongside list shows. `limit_days`: at most so long in a card, from packing.

    `evidence` is "retrieved", "memory" or "proposal", as the line's source was known when it was written down; "pharmacy" where the
    pharmacy made the rule itself.
    """

    id: str
    standing: Standing
    why: str
    reason: str
    source: str
    dated: str
    evidence: str
    limit_days: int | None = None
    hazardous: bool = False
    weekly: bool = False  # taken once a week; a second day in a week is a question
    asks: bool = True  # a CONFIRM that a person must answer; else it is only worth knowing
    names: tuple[str, ...] = ()  # generic names, any of which it is about; for rules by product
    forms: tuple[str, ...] = ()  # where not empty: only these forms
    medicines: tuple[MedicineCode, ...] = ()  # products by code, for a rule about these alone


@dataclass(frozen=True, slots=True, eq=False)  # compared by identity: what they say about a medicine is remembered
class Rules:
    """All rules of a pharmacy. A form that `forms` names has that rule alone; any other has the rule of each of `words` that it holds, and
    of each set in `made_of` that holds all its words. `flags`: a medicine's flag → rule. `blends`: names that stand for several
    substances. `maxima`: the most of a substance in a day. `foods`: how medicines are taken with regard to food.
    """

    forms: Mapping[str, Rule] = field(default_factory=dict)
    words: Mapping[str, Rule] = field(default_factory=dict)
    made_of: tuple[tuple[frozenset[str], Rule], ...] = ()
    flags: Mapping[str, Rule] = field(default_factory=dict)
    products: tuple[Rule, ...] = ()
    blends: tuple[Blend, ...] = ()
    maxima: tuple[DailyMaximum, ...] = ()
    foods: tuple[FoodRule, ...] = ()


NO_RULES = Rules()


@lru_cache(maxsize=16384)
def rules_about(medicine: Medicine, rules: Rules) -> tuple[Rule, ...]:
    """Every rule about the medicine, by form, then flags, then product. None of them is by form where no file knows the form.

    A rule about this very product stands in place of those by generic name, but for what these exclude, call hazardous or mean weekly.
    """
    by_flag = (rules.flags[flag] for flag in sorted(medicine.flags) if flag in rules.flags)
    by_product = [rule for rule in rules.products if _speaks_of(rule, medicine)]
    if any(rule.medicines for rule in by_product):
        by_product = [rule for rule in by_product if rule.medicines or _lasting(rule)]
    return tuple(dict.fromkeys((*_by_form(medicine.form.casefold().strip(), rules), *by_flag, *by_product)))


def _by_form(form: str, rules: Rules) -> tuple[Rule, ...]:
    if form in rules.forms:
        return (rules.forms[form],)
    held = frozenset(words_of(form))
    by_word = (rule for word, rule in rules.words.items() if mentions(form, word))
    return (*by_word, *(rule for words, rule in rules.made_of if held and held <= words))


def _speaks_of(rule: Rule, medicine: Medicine) -> bool:
    if rule.medicines:
        return medicine.code in rule.medicines
    return (not rule.forms or medicine.form in rule.forms) and any(mentions(medicine.name, name) for name in rule.names)


def _lasting(rule: Rule) -> bool:
    """What no rule about a single product lifts."""
    return rule.standing is Standing.EXCLUDED or rule.hazardous or rule.weekly


def strictest(about: tuple[Rule, ...]) -> Rule | None:
    """The rule that decides: the strictest standing, the first among equals."""
    return max(about, key=lambda rule: rule.standing, default=None)


def holds_back(about: tuple[Rule, ...]) -> Rule | None:
    """The rule that does not just let the medicine in; None where none holds it back."""
    rule = strictest(about)
    return rule if rule and rule.standing is not Standing.FITS else None


def meant_weekly(about: tuple[Rule, ...]) -> Rule | None:
    """The rule that says it is taken once a week only, if there is one."""
    return next((rule for rule in about if rule.weekly), None)


def limit_days(about: tuple[Rule, ...]) -> int | None:
    """The shortest time limit in a card, in days from packing; None where no rule sets one."""
    return min((rule.limit_days for rule in about if rule.limit_days is not None), default=None)

"""Words that stand beside a schedule and leave it as it is: "with food", "swallow whole", "for high blood pressure".

Comes in: words alone, a language, and the times of day that the schedule beside them names. Goes out: whether every one of them is known,
and none says how much, how often, when, for how long or on what condition.
"""

from dosewright.core.regimen.dosage import Coding
from dosewright.core.regimen.reading import phrases as p
from dosewright.core.regimen.reading.folding import fold
from dosewright.core.regimen.reading.languages import find_language
from dosewright.core.regimen.reading.lexing import lex
from dosewright.core.regimen.reading.meaning import Unclear
from dosewright.core.regimen.reading.parsing import accepted_rows, parse_row
from dosewright.core.regimen.routes import by_mouth

__all__ = ["changes_nothing"]


_BY_DAY = frozenset({"MORN", "NOON", "EVE"})  # parts of the day that have a meal each


def changes_nothing(words: str, lang: str, named: tuple[str, ...], *, ends: bool = False, another_way: bool = False) -> bool:
    """True only where all words are understood so. `named` are FHIR event codes, and anything else for a clock time; `ends`: the schedule
    beside them has an end, so that "until all taken" adds none; `another_way`: what they stand beside is not taken by mouth anyway.

    "with meals" beside named times may add to them, unless they are parts of the day with a meal each.
    """
    language = find_language(lang, "")
    if language is None:
        return False
    tokens = lex(words, language.lexicon, language.customs)
    if tokens.unknown or not tokens.known or len(tokens.known) > 60:
        return False
    if any(sense.ask for token in tokens.known for sense in token.senses):
        return False
    try:
        rows = accepted_rows(tokens.known, language.table)
        return all(
            _quiet(item, named, ends=ends, another_way=another_way)
            for row in rows
            for item in fold(parse_row(tokens.known, row, language.table))
        )
    except Unclear:
        return False


def _quiet(item: p.Item, named: tuple[str, ...], *, ends: bool, another_way: bool) -> bool:
    match item:
        case p.Joint():
            return item.kind not in ("or", "but", "then")
        case p.Quiet(kind="site") | p.Quiet(kind="route"):
            return another_way or (item.kind == "route" and by_mouth(Coding(text=item.text)))
        case p.Quiet() | p.Reason():
            return True
        case p.Gone():
            return ends
        case p.ByMeals():
            return item.kind == "food" or (item.kind != "each" and _BY_DAY.issuperset(named) and _enough(item, named))
    return False


def _enough(item: p.ByMeals, named: tuple[str, ...]) -> bool:
    """ "in the morning with meals" does not fit; "mane pc" does, and so does any number of parts of the day but one."""
    return len(named) != 1 or item.kind == "latin"

"""Words that stand beside a schedule and leave it as it is: "with food", "swallow whole", "for high blood pressure".

Comes in: words alone, a language, and whether the schedule beside them names times of day. Goes out: whether every one of them is known,
and none says how much, how often, when, for how long or on what condition.
"""

from dosewright.core.regimen.reading import phrases as p
from dosewright.core.regimen.reading.folding import fold
from dosewright.core.regimen.reading.languages import find_language
from dosewright.core.regimen.reading.lexing import lex
from dosewright.core.regimen.reading.meaning import Unclear
from dosewright.core.regimen.reading.parsing import accepted_rows, parse_row

__all__ = ["changes_nothing"]


def changes_nothing(words: str, lang: str, *, times_named: bool) -> bool:
    """True only where all words are understood so. "with meals" beside named times may add to them: then it is False."""
    language = find_language(lang, "")
    if language is None:
        return False
    tokens = lex(words, language.lexicon, language.customs)
    if tokens.unknown or not tokens.known or len(tokens.known) > 60:
        return False
    if any(sense.ask for token in tokens.known for sense in token.senses):
        return False
    try:
        rows = accepted_rows(tokens.known, language.parser)
        return all(_quiet(item, times_named=times_named) for row in rows for item in fold(parse_row(tokens.known, row, language.parser)))
    except Unclear:
        return False


def _quiet(item: p.Item, *, times_named: bool) -> bool:
    match item:
        case p.Joint():
            return item.kind not in ("or", "but", "then")
        case p.Quiet() | p.Reason():
            return True
        case p.ByMeals():
            return item.kind == "food" or (item.kind in ("meals", "latin") and not times_named)
    return False

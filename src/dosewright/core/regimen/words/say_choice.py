"""The plain words of one choice among several: one text where one says it, else a sentence for each dosage.

Comes in: the dosages of a choice, a language. Goes out: text, or None where no sentence says one of them.
"""

from collections.abc import Sequence

from dosewright.core.regimen.dosage import Dosage
from dosewright.core.regimen.words.say_plain import say_plain
from dosewright.core.units.amount_words import NumberStyle

__all__ = ["say_choice"]


def say_choice(dosages: Sequence[Dosage], lang: str = "en", number_style: NumberStyle = "digits") -> str | None:
    """ "Take 1 tablet in the morning. Take 1 tablet at bedtime on Mondays." Parts that follow one another are never said apart."""
    if (whole := say_plain(dosages, lang, number_style)) or any(dosage.sequence is not None for dosage in dosages):
        return whole
    said = [say_plain([dosage], lang, number_style) for dosage in dosages]
    return " ".join(dict.fromkeys(sentence for sentence in said if sentence)) if said and all(said) else None

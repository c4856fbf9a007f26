"""Whether words written beside a medicine's code contradict it. Comes in: the words, and the catalogue. Goes out: what disagrees, if any.

Compared: the name (one must contain the other, word by word, and no other medicine may be named), every strength, the form and the way it
releases. Words that say less than the catalogue agree; words that say something else do not. A brand beside the generic name is let
through; a brand alone is a name that nobody here can compare, so it disagrees.
"""

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache

from dosewright.core.medicines.form_unit import KNOWN_FORM_WORDS, unit_of_form
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.medicines.strength import find_strengths

__all__ = ["MedicineWords"]

_WORD = re.compile(r"[^\W\d_]{2,}")
_PARTS = re.compile(r"\band\b|\bwith\b|\bplus\b|[/+]")
# Words beside a name that name no substance. Forms come from the forms known to the catalogue.
_NOISE_TEXT = """
    and bp coated controlled delayed each enteric ep eur extended film for free gastro hard immediate in modified nasal of oral per ph plus
    prolonged release resistant slow soft strength sugar sustained the transdermal usp with dose doses hour hours day days eye ear
    mg mcg microgram micrograms milligram milligrams nanogram nanograms ng gram grams kg ml unit units iu international mmol
    mr xl sr er cr la ec odt gr hfa cfc
"""
_NOISE = frozenset(_NOISE_TEXT.split())
# Qualities that must not be said of a product that has them not; each line is one quality in its several words.
_QUALITIES: tuple[tuple[str, ...], ...] = (
    ("effervescent",),
    ("dispersible", "soluble"),
    ("orodispersible", "odt", "lyophilisate", "wafer", "disintegrating"),
    ("chewable",),
    ("sublingual",),
    ("buccal",),
    ("modified", "prolonged", "extended", "sustained", "slow", "mr", "xl", "sr", "er", "cr"),
    ("gastro", "enteric", "ec", "gr"),
    ("vaginal",),
    ("rectal",),
    ("nasal",),
    ("eye", "ophthalmic"),
    ("ear",),
    ("injection", "infusion"),
)
_QUALITY_WORDS = frozenset(word for words in _QUALITIES for word in words)


class MedicineWords:
    """The catalogue's names, ready to be compared with. Built once for a file."""

    def __init__(self, medicines: Iterable[Medicine]) -> None:
        by_word: defaultdict[str, set[frozenset[str]]] = defaultdict(set)
        for medicine in medicines:
            name = _name_words(medicine.name)
            for word in name:
                by_word[word].add(name)
        self._names_with: Mapping[str, set[frozenset[str]]] = by_word

    def contradictions(self, text: str, medicine: Medicine) -> tuple[str, ...]:
        """Which of "name", "strength" and "form" the text says otherwise than the catalogue; empty when it agrees."""
        return tuple(self._contradictions(text, medicine))

    def _contradictions(self, text: str, medicine: Medicine) -> Iterator[str]:
        if not self._same_name(_name_words(text), medicine.name):
            yield "name"
        if not set(find_strengths(text)) <= set(find_strengths(medicine.strength)):
            yield "strength"
        if not _same_form(text, medicine):
            yield "form"

    def _same_name(self, said: frozenset[str], name: str) -> bool:
        known = _name_words(name)
        if not said or not known:
            return True
        if not (said <= known or known <= said):
            return False
        parts = [words for part in _PARTS.split(name.casefold()) if (words := _name_words(part))]
        return all(said & part for part in parts) and not self._names_another(said, known)

    def _names_another(self, said: frozenset[str], known: frozenset[str]) -> bool:
        others = (other for word in said - known for other in self._names_with.get(word, ()))
        return any(other <= said for other in others)


@lru_cache(maxsize=65536)
def _words(text: str) -> frozenset[str]:
    return frozenset(_WORD.findall(text.casefold()))


@lru_cache(maxsize=65536)
def _name_words(text: str) -> frozenset[str]:
    return frozenset(word for word in _words(text) if word not in _NOISE and word not in _QUALITY_WORDS and _form_word(word) is None)


def _form_word(word: str) -> str | None:
    """The form word that this is, in the singular: "tablets" → "tablet"."""
    return next((form for form in (word, word.removesuffix("s")) if form in KNOWN_FORM_WORDS), None)


def _same_form(text: str, medicine: Medicine) -> bool:
    said = _words(text)
    units = {unit_of_form(form) for word in said if (form := _form_word(word))}
    if units and medicine.unit not in units:
        return False
    known = _words(f"{medicine.form} {medicine.name}")
    return all(known.intersection(words) for words in _QUALITIES if said.intersection(words))

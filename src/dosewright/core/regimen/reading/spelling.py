"""Slips of the keyboard: the one known word that a strange word may be.

Comes in: a word and the words a language knows. Goes out: the only known word one slip away (a letter too many, missing, wrong, or two
swapped), or None. It is a suggestion for a question, never a correction: a person confirms the whole line.
"""

from collections import defaultdict
from collections.abc import Iterable

__all__ = ["Speller"]

_SHORTEST = 4  # letters; shorter words are all one slip from each other


class Speller:
    """Finds words by what is left of them when one letter is struck out."""

    def __init__(self, words: Iterable[str]) -> None:
        self._by_rest: defaultdict[str, set[str]] = defaultdict(set)
        for word in words:
            if len(word) >= _SHORTEST and word.isalpha():
                for rest in _rests(word):
                    self._by_rest[rest].add(word)

    def suggest(self, word: str) -> str | None:
        """The only known word one slip away."""
        if len(word) < _SHORTEST or not word.isalpha():
            return None
        near = {known for rest in _rests(word) for known in self._by_rest.get(rest, ()) if _one_slip(word, known)}
        return near.pop() if len(near) == 1 else None


def _rests(word: str) -> set[str]:
    return {word, *(word[:at] + word[at + 1 :] for at in range(len(word)))}


def _one_slip(word: str, known: str) -> bool:
    if len(word) != len(known):
        longer, shorter = (word, known) if len(word) > len(known) else (known, word)
        return len(longer) - len(shorter) == 1 and shorter in _rests(longer)
    wrong = [at for at, (a, b) in enumerate(zip(word, known, strict=True)) if a != b]
    if len(wrong) == 2 and wrong[1] == wrong[0] + 1:
        return word[wrong[0]] == known[wrong[1]] and word[wrong[1]] == known[wrong[0]]
    return len(wrong) == 1

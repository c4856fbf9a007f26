"""What an order's directions say on paper: plain words built from the structure, else the text as it was received."""

from functools import lru_cache

from dosewright.core.paper.material import Material
from dosewright.core.regimen.order import Order
from dosewright.core.regimen.words.say_plain import say_plain
from dosewright.core.units.amount_words import NumberStyle
from dosewright.core.units.safe_text import tidy_text

__all__ = ["directions_of", "number_style"]


def number_style(material: Material) -> NumberStyle:
    """Digits, or capital words where the profile asks for them."""
    return material.request.profile.number_style


def directions_of(order: Order, material: Material) -> str:
    """One or more plain sentences; "" where the order has neither structure nor text."""
    return _in_words(order, material.lang, number_style(material), material.country)


@lru_cache(maxsize=1024)
def _in_words(order: Order, lang: str, style: NumberStyle, country: str) -> str:
    received = order.text or " ".join(dosage.text for dosage in order.dosages)
    return tidy_text(say_plain(order.dosages, lang, style) or received, country)

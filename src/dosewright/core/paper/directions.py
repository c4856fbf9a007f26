"""What an order's directions say on paper: plain words built from the structure, else the text as it was received."""

from dosewright.core.paper.material import Material
from dosewright.core.regimen.order import Order
from dosewright.core.units.amount_words import NumberStyle
from dosewright.core.units.safe_text import tidy_text

__all__ = ["directions_of", "number_style"]


def number_style(material: Material) -> NumberStyle:
    """Digits, or capital words where the profile asks for them."""
    line = material.request.profile.rules.get("number_style")
    return "words" if line is not None and line.value == "words" else "digits"


def directions_of(order: Order, material: Material) -> str:
    """One or more plain sentences; "" where the order has neither structure nor text."""
    return tidy_text(order.text, material.country)

"""The square DataMatrix symbol (ISO/IEC 16022, ECC 200) that carries a card's number, as modules. No personal data goes into one.

Comes in: the text. Goes out: dark modules, and how large the symbol is with its quiet zone of one module all round.
"""

from functools import lru_cache
from typing import Any

import numpy
import zxingcpp

from dosewright.core.paper.page import Code, Rect
from dosewright.core.paper.printer import module_at

__all__ = ["code_at", "code_side", "dark_stretches"]


def code_at(text: str, right: float, top: float, dpi: int) -> Code:
    """The symbol with its quiet zone, its upper right corner there, in millimetres; its modules are whole dots of that printer."""
    side = code_side(text, dpi)
    return Code(text, Rect(right - side, top, side, side), module_at(dpi))


def code_side(text: str, dpi: int) -> float:
    """Millimetres a side, quiet zone included: one module all round, as ISO/IEC 16022 asks."""
    return (int(_symbol(text).shape[0]) + 2) * module_at(dpi)


@lru_cache(maxsize=256)
def _symbol(text: str) -> Any:
    """The symbol as a square array, 0 where a module is dark."""
    barcode = zxingcpp.create_barcode(text, zxingcpp.BarcodeFormat.DataMatrix, force_square=True)
    return numpy.array(barcode.to_image(scale=1, add_quiet_zones=False))


@lru_cache(maxsize=256)
def dark_stretches(text: str) -> tuple[tuple[int, int, int], ...]:
    """The dark modules row by row, neighbours joined: (row, first column, how many)."""
    found = []
    for row, modules in enumerate(_symbol(text).tolist()):
        column = 0
        while column < len(modules):
            end = column
            while end < len(modules) and not modules[end]:
                end += 1
            if end > column:
                found.append((row, column, end - column))
            column = end + 1
    return tuple(found)

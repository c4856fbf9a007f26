"""Whether each module of a code is where it was meant: a scanner reads a code that was scaled or moved too, off its printer's dots.

Comes in: a code as meant and the page as PDFium draws it. Modules are looked at in five places each, four of them near the corners.
"""

from functools import lru_cache
from typing import Any

import numpy
import numpy.typing
import pypdfium2

from dosewright.core.paper.datamatrix import dark_stretches
from dosewright.core.paper.page import Code

__all__ = ["is_code_as_meant"]

_DPI = 600
_OFF = 0.32  # of a module from its middle: a code may lie a sixth of a module elsewhere, no more
_ROUNDING = 0.01  # of a dot: the renderer takes the next whole one

Dots = numpy.typing.NDArray[Any]


def is_code_as_meant(code: Code, page: pypdfium2.PdfPage) -> bool:
    """Whether every module is black or white as in the symbol, quiet zone included."""
    dots, scale = _DPI / 25.4, _DPI / 72
    wide, high = (side * scale for side in page.get_size())
    left, top, right, bottom = (int(side * dots) for side in (code.rect.left, code.rect.top, code.rect.right + 0.1, code.rect.bottom + 0.1))
    crop = tuple((side - _ROUNDING) / scale for side in (left, int(high) - bottom, int(wide) - right, top))
    seen = numpy.asarray(page.render(scale=scale, crop=crop, grayscale=True).to_pil()) < 128
    meant = _modules(code.text, round(code.rect.width / code.module))
    middles = (numpy.arange(meant.shape[0]) + 0.5) * code.module
    for off_x, off_y in ((0.0, 0.0), (-_OFF, -_OFF), (_OFF, -_OFF), (-_OFF, _OFF), (_OFF, _OFF)):
        rows = ((code.rect.top + middles + off_y * code.module) * dots - top).astype(int)
        columns = ((code.rect.left + middles + off_x * code.module) * dots - left).astype(int)
        if rows.max() >= seen.shape[0] or columns.max() >= seen.shape[1] or (seen[numpy.ix_(rows, columns)] != meant).any():
            return False
    return True


@lru_cache(maxsize=256)
def _modules(text: str, side: int) -> Dots:
    """The symbol with its quiet zone, True where a module is dark."""
    modules = numpy.zeros((side, side), dtype=bool)
    for row, first, count in dark_stretches(text):
        modules[row + 1, first + 1 : first + 1 + count] = True
    return modules

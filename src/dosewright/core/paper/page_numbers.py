""" "page 2 of 5", once it is known how many there are."""

from collections.abc import Sequence
from dataclasses import replace

from dosewright.core.paper.fit import place_block, set_block
from dosewright.core.paper.fonts import FontSet
from dosewright.core.paper.page import Page, Rect
from dosewright.core.paper.words import Para, plain

__all__ = ["number_pages"]

_SIZE = 7.5  # points
_ACROSS, _UP = 3.0, 5.7  # mm from the box's right and lower edge to the line's right end and top


def number_pages(
    pages: Sequence[Page], box: Rect, fonts: FontSet, words: str = "page {n} of {of}", size: float = _SIZE
) -> tuple[Page, ...]:
    """The pages with their number at the lower right of `box`; `words` in another language have {n} and {of} too."""
    said = (Para((plain(words.format(n=n, of=len(pages))),), size, size) for n in range(1, len(pages) + 1))
    return tuple(_numbered(page, para, box, fonts) for page, para in zip(pages, said, strict=True))


def _numbered(page: Page, para: Para, box: Rect, fonts: FontSet) -> Page:
    block = set_block((para,), box.width, fonts)
    if block is None:
        raise ValueError("a sheet too narrow for its page number")
    width = block.lines[0].pieces[0].width
    return replace(page, runs=(*page.runs, *place_block(block, box.right - _ACROSS - width, box.bottom - _UP, box)))

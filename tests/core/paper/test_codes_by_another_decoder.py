"""Codes on paper read by a decoder that shares nothing with the one that made them: libdmtx.

The product makes and reads its codes with zxing-cpp. Here the labels made for each printer are printed on it in thought, one bit a dot,
straight, askew by one degree, and five per cent too small and too large.
"""

from dataclasses import replace
from functools import cache

import pypdfium2
import pytest
from PIL import Image
from tests.core.paper.paper_sample import CARD, MATERIAL
from tools.find_dmtx import MISSING, find_or_install

from dosewright.core.paper.offer import offer_labels
from dosewright.core.paper.printer import Printer

# The library's wrapper asks distutils for a version: nothing of ours.
pytestmark = pytest.mark.filterwarnings("ignore:distutils:DeprecationWarning")


@pytest.fixture(scope="module", autouse=True)
def _library() -> None:
    if not find_or_install():
        pytest.fail(MISSING)


@cache
def labels(dpi: int) -> bytes:
    return offer_labels(replace(MATERIAL, printer=Printer("label printer", dpi))).pdf


def printed(dpi: int, skew: float, stretch: float) -> Image.Image:
    """The header's code with some paper round it, as the dots of that printer."""
    dots = dpi * stretch / 25.4
    picture: Image.Image = pypdfium2.PdfDocument(labels(dpi))[0].render(scale=dpi * stretch / 72, grayscale=True).to_pil()
    picture = picture.crop((int(188 * dots), int(8 * dots), int(201 * dots), int(21 * dots)))
    return picture.rotate(skew, resample=Image.Resampling.BICUBIC, fillcolor=255).point(lambda grey: 255 if grey > 127 else 0)


@pytest.mark.parametrize("dpi", [203, 300, 600])
@pytest.mark.parametrize("skew", [0.0, 1.0, -1.0])
@pytest.mark.parametrize("stretch", [1.0, 0.95, 1.05])
def test_another_decoder_reads_the_cards_number(dpi: int, skew: float, stretch: float) -> None:
    from pylibdmtx.pylibdmtx import decode  # noqa: PLC0415  loads the library, which the fixture may have to install

    assert [found.data.decode() for found in decode(printed(dpi, skew, stretch), max_count=1)] == [CARD.number]

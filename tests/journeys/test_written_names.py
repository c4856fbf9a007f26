"""Names that need shaping look on paper as a browser writes them: an independent engine for direction and joining, the same fonts."""

import base64
from io import BytesIO

import numpy
import pypdfium2
import pytest
from PIL import Image, ImageOps
from playwright.sync_api import Browser
from tests.core.paper.written_names import NAMES

from dosewright.core.paper.fit import fit_block, place_block
from dosewright.core.paper.page import Face, Page, Rect
from dosewright.core.paper.pdf import Heading, write_pdf
from dosewright.core.paper.shaping import ShapedFont
from dosewright.core.paper.words import Para, given_bold
from dosewright.devices.fonts import load_fonts
from dosewright.devices.shipped import read_shipped_bytes

SIZE = 24.0  # points
PIXELS = 6.0  # a point
COARSE = (160, 24)  # both pictures are compared as so many greys
ALIKE, OTHER = 0.05, 0.2  # mean difference of the greys: measured 0.004 to 0.020 for the same name, 0.38 for one written backwards


def on_paper(name: str) -> tuple[Image.Image, str]:
    """The name alone, black on white, cut to its ink; and the font that drew it."""
    block = fit_block((Para((given_bold(name),), SIZE, SIZE),), 250.0, 60.0, load_fonts())
    assert block
    assert len(block.lines) == 1
    runs = place_block(block, 10.0, 15.0, Rect(5, 5, 280, 80))
    font = load_fonts().font_for(runs[0].text, Face.BOLD)
    assert isinstance(font, ShapedFont)
    pdf = write_pdf([Page(297.0, 90.0, (), runs=runs)], load_fonts(), Heading("n", "a", "p", "en"))
    return cut(pypdfium2.PdfDocument(pdf)[0].render(scale=PIXELS, grayscale=True).to_pil()), font.name


def in_browser(browser: Browser, name: str, font: str) -> Image.Image:
    data = base64.b64encode(read_shipped_bytes("fonts", font.rsplit("-", 1)[0] + ".ttf")).decode()
    page = browser.new_page(viewport={"width": 2600, "height": 500})
    page.set_content(
        f"<style>@font-face{{font-family:f;src:url(data:font/ttf;base64,{data})}}"
        f"body{{margin:60px;font:{SIZE * PIXELS}px f;white-space:pre;font-kerning:normal}}</style><span></span>"
    )
    page.evaluate("name => { document.querySelector('span').textContent = name; return document.fonts.ready }", name)
    picture = Image.open(BytesIO(page.screenshot())).convert("L")
    page.close()
    return cut(picture)


def cut(picture: Image.Image) -> Image.Image:
    box = ImageOps.invert(picture).point(lambda grey: 255 if grey > 100 else 0).getbbox()
    assert box
    return picture.crop(box)


def difference(one: Image.Image, other: Image.Image) -> float:
    greys = [numpy.asarray(picture.resize(COARSE, Image.Resampling.BOX), dtype=float) / 255 for picture in (one, other)]
    return float(numpy.abs(greys[0] - greys[1]).mean())


@pytest.mark.parametrize("script", NAMES)
def test_a_browser_writes_the_name_alike(browser: Browser, script: str) -> None:
    ours, font = on_paper(NAMES[script])
    theirs = in_browser(browser, NAMES[script], font)
    assert ours.width == pytest.approx(theirs.width, rel=0.02)
    assert ours.height == pytest.approx(theirs.height, rel=0.04)
    assert difference(ours, theirs) < ALIKE


def test_the_comparison_tells_names_apart(browser: Browser) -> None:
    """A name written backwards, as a program without direction prints it, is seen to be another."""
    ours, font = on_paper(NAMES["Hebrew"])
    backwards = in_browser(browser, "\u202d" + NAMES["Hebrew"] + "\u202c", font)
    assert difference(ours, backwards) > OTHER

"""Every sheet in every format as a picture and as structure, against what was looked at and kept. `tools/golden_pages` makes them anew.

The picture may differ by shades; what stands where, and in which size, may not. A failure writes what was drawn beside pytest's own files.
"""

from io import BytesIO
from pathlib import Path
from typing import Any

import numpy
import pytest
from PIL import Image
from tests.core.paper.golden_sample import SHEETS, Golden, in_format
from tools.golden_pages import FOLDER, picture, structure

from dosewright.core.paper import pdf as renderer
from dosewright.core.paper.labels import draw_labels
from dosewright.core.paper.operators import start_ops
from dosewright.core.paper.pdf import Heading, write_pdf

_SHADES = 90  # of 255: nearer is the same, as pages are smoothed a little otherwise from one PDFium to the next
_TILE = 10  # pixels a side: five millimetres, so that a small thing that is gone is not lost in a large page
_MOST = 0.15  # of any tile's pixels may differ by more


def greys(png: bytes) -> Any:
    return numpy.asarray(Image.open(BytesIO(png)).convert("L"), dtype=numpy.int16)


def differing(one: bytes, other: bytes) -> float:
    """The share of pixels that differ by more than a shade in the tile where most do; 1 where the pages differ in size."""
    first, second = greys(one), greys(other)
    if first.shape != second.shape:
        return 1.0
    odd = abs(first - second) > _SHADES
    high, wide = (side // _TILE * _TILE for side in odd.shape)
    tiles = odd[:high, :wide].reshape(high // _TILE, _TILE, wide // _TILE, _TILE)
    return float(tiles.mean(axis=(1, 3)).max())


@pytest.mark.parametrize("name", SHEETS)
def test_a_sheet_looks_as_it_did_when_somebody_looked_at_it(name: str, tmp_path: Path) -> None:
    golden = SHEETS[name]()
    drawn, said = picture(golden), structure(golden)
    (tmp_path / f"{name}.png").write_bytes(drawn)
    (tmp_path / f"{name}.txt").write_text(said, encoding="utf-8")
    assert said == (FOLDER / f"{name}.txt").read_text("utf-8"), tmp_path
    assert differing(drawn, (FOLDER / f"{name}.png").read_bytes()) <= _MOST, tmp_path


def test_there_is_a_page_for_each_sheet_and_no_other_and_together_they_are_small() -> None:
    files = {file.name for file in FOLDER.iterdir()}
    assert files == {f"{name}.{ending}" for name in SHEETS for ending in ("png", "txt")}
    assert sum(file.stat().st_size for file in FOLDER.iterdir()) < 3_000_000


def _drawn() -> Golden:
    """The labels' first page, written without the read-back: it would refuse most of what is broken here."""
    material = in_format("seven-by-four.toml")
    pages, _ = draw_labels(material.plan.people[0], material)
    return Golden(write_pdf(pages, material.fonts, Heading("Card labels", "Tern Street Pharmacy", "", "en")))


KEPT = "labels-seven-by-four"


def test_unbroken_the_written_page_is_the_kept_one() -> None:
    assert differing(picture(_drawn()), (FOLDER / f"{KEPT}.png").read_bytes()) <= _MOST
    assert structure(_drawn()) == (FOLDER / f"{KEPT}.txt").read_text("utf-8")


# Dials, frames and lines are what the read-back does not look at.
BREAKS: dict[str, tuple[str, Any]] = {
    "dials without a hand and a night": ("_face_ops", lambda at: ""),
    "heavier lines": ("_WEIGHTS", dict.fromkeys(renderer._WEIGHTS, 3.0)),
    "no code": ("dark_stretches", lambda text: ((0, 0, 1),)),
    "square corners and no frames": ("round_rect_ops", lambda *sides: ""),
}


@pytest.mark.parametrize("how", BREAKS)
def test_a_renderer_broken_on_purpose_is_seen_in_the_picture(how: str, monkeypatch: pytest.MonkeyPatch) -> None:
    name, wrong = BREAKS[how]
    monkeypatch.setattr(renderer, name, wrong)
    assert differing(picture(_drawn()), (FOLDER / f"{KEPT}.png").read_bytes()) > _MOST


def test_letters_a_fifth_of_a_millimetre_elsewhere_are_seen_in_the_structure(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(renderer, "start_ops", lambda x, baseline, height: start_ops(x + 0.2, baseline, height))
    assert structure(_drawn()) != (FOLDER / f"{KEPT}.txt").read_text("utf-8")

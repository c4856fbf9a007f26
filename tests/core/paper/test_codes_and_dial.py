"""The DataMatrix code reads on the printers that pharmacies have; the dial points where its clock time is; the bytes never change."""

import math
import subprocess
import sys
from dataclasses import replace
from datetime import time
from functools import cache

import pypdfium2
import pytest
import zxingcpp
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image
from tests.core.paper.paper_sample import CARD, MATERIAL

from dosewright.core.paper.datamatrix import code_side
from dosewright.core.paper.dial import hand, night_chords, on_face
from dosewright.core.paper.offer import offer_labels
from dosewright.core.paper.printer import Printer, module_at

PDF = offer_labels(MATERIAL).pdf
RESOLUTIONS = (203, 300, 600)


@cache
def labels_for(dpi: int) -> bytes:
    return offer_labels(replace(MATERIAL, printer=Printer("label printer", dpi))).pdf


def scan(dpi: int, skew: float = 0.0, stretch: float = 1.0, printer: int = 203) -> list[str]:
    """What a scanner reads from the upper quarter of the first page, printed in one bit a dot."""
    image = pypdfium2.PdfDocument(labels_for(printer))[0].render(scale=dpi * stretch / 72, grayscale=True).to_pil()
    image = image.crop((0, 0, image.width, image.height // 4))
    image = image.rotate(skew, resample=Image.Resampling.BICUBIC, fillcolor=255) if skew else image
    return [found.text for found in zxingcpp.read_barcodes(image.point(lambda grey: 255 if grey > 127 else 0))]


@pytest.mark.parametrize("dpi", [203, 300, 600])
def test_the_code_reads_as_the_cards_number_at_every_printers_resolution(dpi: int) -> None:
    assert scan(dpi) == [CARD.number]


@pytest.mark.parametrize("dpi", [203, 300, 600])
def test_it_reads_askew_and_stretched(dpi: int) -> None:
    assert scan(dpi, skew=1.0) == scan(dpi, stretch=1.05) == [CARD.number]


def test_a_module_is_a_whole_number_of_dots_at_203_dpi() -> None:
    """0.375 mm, within the 0.255 to 0.495 mm that small healthcare items use (GS1 General Specifications, from memory)."""
    assert pytest.approx(3) == module_at(203) / (25.4 / 203)
    assert round(module_at(203), 3) == 0.375


@pytest.mark.parametrize("dpi", RESOLUTIONS)
def test_a_module_is_a_whole_number_of_the_printers_dots_and_never_smaller_than_three_at_203(dpi: int) -> None:
    dots = module_at(dpi) / (25.4 / dpi)
    assert dots == pytest.approx(round(dots))
    assert 0.375 <= module_at(dpi) < 0.375 + 25.4 / dpi


@pytest.mark.parametrize("dpi", RESOLUTIONS)
@pytest.mark.parametrize("skew", [0.0, 1.0, -1.0])
@pytest.mark.parametrize("stretch", [1.0, 0.95, 1.05])
def test_labels_made_for_a_printer_read_on_it_askew_and_stretched(dpi: int, skew: float, stretch: float) -> None:
    assert scan(dpi, skew, stretch, printer=dpi) == [CARD.number]


def test_the_quiet_zone_is_part_of_the_code() -> None:
    assert code_side("TS-20417", 203) == pytest.approx((14 + 2) * module_at(203))


@pytest.mark.parametrize(("hour", "place"), [(12, (0, 1)), (18, (1, 0)), (0, (0, -1)), (6, (-1, 0))])
def test_noon_is_at_the_top_and_midnight_at_the_foot(hour: int, place: tuple[int, int]) -> None:
    assert on_face(hour) == pytest.approx(place, abs=1e-9)


@given(st.times())
def test_the_hand_turns_with_the_clock_once_a_day(at: time) -> None:
    across, up = hand(at)
    turned = (math.atan2(across, up) / math.tau * 24 + 12) % 24
    assert turned == pytest.approx(at.hour + at.minute / 60, abs=1e-6) or abs(turned - 24) < 1e-6
    assert math.hypot(across, up) < 1


def test_the_night_is_hatched_below_dusk_and_inside_the_face() -> None:
    chords = night_chords()
    assert all(height <= on_face(19)[1] + 1e-9 for _, _, height in chords)
    assert all(math.hypot(right, height) <= 1 + 1e-9 and left == -right for left, right, height in chords)


def test_another_process_with_another_hash_seed_makes_the_same_bytes() -> None:
    """R18: nothing depends on the order of a set."""
    script = (
        "from hashlib import sha256; from tests.core.paper.paper_sample import MATERIAL;"
        "from dosewright.core.paper.offer import offer_labels, offer_fill, offer_record;"
        "print(*(sha256(offer(MATERIAL).pdf).hexdigest() for offer in (offer_labels, offer_fill, offer_record)))"
    )
    runs = [
        subprocess.run([sys.executable, "-c", script], env={"PYTHONHASHSEED": seed, "PYTHONPATH": "src:."}, capture_output=True, check=True)
        for seed in ("1", "2")
    ]
    assert runs[0].stdout == runs[1].stdout != b""


def test_no_name_stands_in_any_code_nor_in_the_documents_title() -> None:
    document = pypdfium2.PdfDocument(PDF)
    assert not any("Okonedo" in str(value) for value in document.get_metadata_dict().values())
    assert document.get_metadata_dict()["Title"] == "Card labels, 7 days from 2026-03-02"
    assert b"/Lang (en)" in PDF

"""The printers' screen: the measuring sheet, the form, and what it answers to a slip of the ruler."""

import html
import re
from io import BytesIO

import pytest
from pypdf import PdfReader
from tests import small_bench
from tests.web.conftest import SignIn

from dosewright.core.custody.event import Role
from dosewright.store.printers import load_printers

pytestmark = pytest.mark.usefixtures("guarded")

MEASURED = {"name": "label printer", "dpi": "300", "left": "20.5", "top": "19", "across": "169,5", "down": "257"}


def test_measures_are_taken_and_shown_in_words(sign_in: SignIn) -> None:
    small_bench.opened()
    client = sign_in(Role.TECHNICIAN)
    assert client.post("/printers", MEASURED).status_code == 302
    page = client.get("/printers").content.decode()
    assert "0.5 mm too far right; 1 mm too far up; 0.5 mm too short across" in page


NO_LENGTHS = (
    *("", "   ", "twenty", "20 mm", "-20", "+20", "20,5,1", "1e1", "nan", "½", "41/2", "٢٠", "20.12345", "9999999999", "12345678901"),
    *("20\x00", "1,000.5"),
)
LENGTH = "Write millimetres like 20 or 19.5."
NO_MEASURES = [
    *((("left", "top", "across", "down")[n % 4], value, LENGTH) for n, value in enumerate(NO_LENGTHS)),
    *(("dpi", value, "Choose 203, 300 or 600.") for value in ("", "0", "72", "three hundred")),
    ("name", "  ", "Write the name by which people here call it."),
    ("name", "n" * 61, "Write 60 letters at most."),
]
BESIDE_FIELDS = re.compile('<span class="wrong" id="id_([a-z]+)-wrong">([^<]*)</span>')


def test_what_is_no_measure_is_refused_by_one_sentence_beside_its_field_and_nothing_is_kept(sign_in: SignIn) -> None:
    small_bench.opened()
    client = sign_in(Role.TECHNICIAN)
    for field, value, sentence in NO_MEASURES:
        answer = client.post("/printers", {**MEASURED, field: value})
        page = answer.content.decode()
        assert (answer.status_code, BESIDE_FIELDS.findall(page)) == (422, [(field, sentence)]), value
        assert 'class="finding' not in page, value
        assert load_printers() == (), value


@pytest.mark.parametrize(
    ("field", "value", "meant"), [("left", "0", 20), ("top", "1,000", 20), ("across", "0", 170), ("down", "9999", 257)]
)
def test_a_length_that_cannot_be_is_refused_by_one_sentence_and_leaves_what_was_measured_before(
    field: str, value: str, meant: int, sign_in: SignIn
) -> None:
    small_bench.opened()
    client = sign_in(Role.TECHNICIAN)
    client.post("/printers", MEASURED)
    before = load_printers()
    page = client.post("/printers", {**MEASURED, field: value}).content.decode()
    assert page.count('class="finding stop"') == 1
    assert f"{field}: {value.replace(',000', '')} mm was measured where about {meant} mm is right." in page
    assert len(before) == 1
    assert load_printers() == before


def test_a_printer_of_any_name_is_measured_again(sign_in: SignIn) -> None:
    small_bench.opened()
    client = sign_in(Role.TECHNICIAN)
    client.post("/printers", {**MEASURED, "name": "back room & #2"})
    again = html.unescape(re.findall('href="(/printers[?][^"]*)"', client.get("/printers").content.decode())[0])
    assert 'value="back room &amp; #2"' in client.get(again).content.decode()


def test_a_sheet_printed_fitted_to_the_page_is_noticed(sign_in: SignIn) -> None:
    small_bench.opened()
    answer = sign_in(Role.TECHNICIAN).post("/printers", {**MEASURED, "across": "160", "down": "242"})
    assert answer.status_code == 422
    assert answer.content.decode().count("Measure again on a sheet printed at full size") == 2


def test_the_measuring_sheet_is_as_large_as_the_label_stock(sign_in: SignIn) -> None:
    small_bench.opened()
    answer = sign_in(Role.MANAGER).get("/printers/measuring-sheet.pdf")
    page = PdfReader(BytesIO(answer.content)).pages[0]
    assert [round(float(side) * 25.4 / 72) for side in (page.mediabox.width, page.mediabox.height)] == [210, 297]

"""The printers' screen: the measuring sheet, the form, and what it answers to a slip of the ruler."""

from io import BytesIO

import pytest
from pypdf import PdfReader
from tests import small_bench
from tests.web.conftest import SignIn

from dosewright.core.custody.event import Role

pytestmark = pytest.mark.usefixtures("guarded")

MEASURED = {"name": "label printer", "dpi": "300", "left": "20.5", "top": "19", "across": "169,5", "down": "257"}


def test_measures_are_taken_and_shown_in_words(sign_in: SignIn) -> None:
    small_bench.opened()
    client = sign_in(Role.TECHNICIAN)
    assert client.post("/printers", MEASURED).status_code == 302
    page = client.get("/printers").content.decode()
    assert "0.5 mm too far right; −1 mm too far down; −0.5 mm too long across" in page


@pytest.mark.parametrize(("field", "value"), [("left", "twenty"), ("across", "-170"), ("down", ""), ("dpi", "72"), ("name", "")])
def test_what_is_no_measure_is_refused_beside_its_field(field: str, value: str, sign_in: SignIn) -> None:
    small_bench.opened()
    assert sign_in(Role.TECHNICIAN).post("/printers", {**MEASURED, field: value}).status_code == 422


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

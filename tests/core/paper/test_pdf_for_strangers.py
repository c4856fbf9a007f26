"""What a stranger's reader finds in our PDFs, asked of pypdf and fontTools: fonts embedded right, nothing that acts, the sheet's language.

Neither wrote the file nor reads it back in the product. Source: ISO 32000-1, 9.6.6.4 (TrueType encodings), 9.8 and 9.9 (embedded fonts),
12.5 and 12.6 (annotations and actions), 14.9.2 (language).
"""

from functools import cache
from io import BytesIO
from typing import Any

import pytest
from fontTools.ttLib import TTFont
from pypdf import PdfReader
from tests.core.paper.golden_sample import SHEETS
from tests.core.paper.paper_sample import MATERIAL

from dosewright.core.paper.page import MM_PER_POINT, Face, Kind, Page, Rect, Run
from dosewright.core.paper.pdf import Heading, write_pdf

NAMES = ("Wilhelmina (Żółć) Nguyễn Thị", "Ελένη Παπαδοπούλου", "Иван Ёжиков", "“é” ½ × 5 µg – ő")
SOME = ("labels-seven-by-four", "person-french", "measuring", "names")


@cache
def read(name: str) -> PdfReader:
    return PdfReader(BytesIO(_names() if name == "names" else SHEETS[name]().pdf), strict=True)


def _names() -> bytes:
    fonts = MATERIAL.fonts
    box = Rect(0, 0, 200, 100)
    runs = []
    for n, name in enumerate(NAMES):
        font = fonts.font_for(name, Face.REGULAR)
        assert font
        runs.append(Run(name, 10, 10 + 10 * n, font.width(name, 9), 9, 7, Face.REGULAR, Kind.GIVEN, box))
    return write_pdf([Page(200, 100, (), runs=tuple(runs))], fonts, Heading("Names", "Tern Street Pharmacy", "plan", "en"))


def fonts_of(reader: PdfReader) -> list[Any]:
    found = {ref.idnum: ref.get_object() for page in reader.pages for ref in page["/Resources"]["/Font"].values()}  # type: ignore[index]
    return list(found.values())


def letters_of(font: Any) -> dict[int, str]:
    """Code → character, by the font's own encoding: code page 1252, or names of characters."""
    codes = range(font["/FirstChar"], font["/LastChar"] + 1)
    if font["/Encoding"] == "/WinAnsiEncoding":
        return {code: bytes([code]).decode("cp1252") for code, wide in zip(codes, font["/Widths"], strict=True) if wide}
    found: dict[int, str] = {}
    code = 0
    for entry in font["/Encoding"]["/Differences"]:
        if isinstance(entry, int):
            code = int(entry)
            continue
        found[code] = " " if entry == "/space" else chr(int(str(entry).removeprefix("/uni"), 16))
        code += 1
    return found


def letters_of_all(font: Any) -> set[str]:
    return set(letters_of(font).values())


@pytest.mark.parametrize("name", SOME)
def test_every_font_is_embedded_as_a_subset_that_draws_each_letter_as_wide_as_the_file_says(name: str) -> None:
    reader = read(name)
    assert fonts_of(reader)
    for font in fonts_of(reader):
        descriptor = font["/FontDescriptor"]
        assert (font["/Subtype"], descriptor["/FontName"]) == ("/TrueType", font["/BaseFont"])
        assert font["/BaseFont"][7] == "+"  # "/ABCDEF+Name"
        assert font["/BaseFont"][1:7].isupper()
        inside = TTFont(BytesIO(descriptor["/FontFile2"].get_data()))
        glyphs, upem = inside.getBestCmap(), inside["head"].unitsPerEm
        letters = letters_of(font)
        assert letters
        for code, letter in letters.items():
            glyph = glyphs[ord(letter)]
            wide = float(font["/Widths"][code - font["/FirstChar"]])
            assert wide == pytest.approx(inside["hmtx"][glyph][0] * 1000 / upem, abs=0.01)
            assert letter == " " or inside["glyf"][glyph].numberOfContours != 0, letter
        drawn = [one for one in inside.getGlyphOrder() if inside["glyf"][one].numberOfContours]
        assert len(drawn) < 3 * len(set().union(*map(letters_of_all, fonts_of(reader)))) + 5  # the others were cut out; accents have parts


def test_letters_of_other_blocks_say_which_character_they_are() -> None:
    for font in fonts_of(read("names")):
        if font["/Encoding"] == "/WinAnsiEncoding":
            continue  # a reader knows code page 1252
        said = font["/ToUnicode"].get_object().get_data().decode("ascii").lower()
        assert all(f"<{code:02x}> <{ord(letter):04x}>" in said for code, letter in letters_of(font).items())
    lines = [line.strip() for line in read("names").pages[0].extract_text().splitlines()]
    assert lines == list(NAMES)


@pytest.mark.parametrize("name", SOME)
def test_nothing_in_the_file_acts_links_asks_or_claims_what_nobody_checked(name: str) -> None:
    """No annotation, link, script, form, attachment or encryption; and no claim to PDF/A, which no reader here could hold it to."""
    reader = read(name)
    root: Any = reader.root_object
    assert set(root) == {"/Type", "/Pages", "/Lang", "/StructTreeRoot", "/MarkInfo", "/ViewerPreferences"}
    for page in reader.pages:
        assert set(page) <= {"/Type", "/Parent", "/MediaBox", "/Resources", "/Contents", "/StructParents", "/Tabs"}
    assert not reader.is_encrypted


@pytest.mark.parametrize(
    ("name", "lang"), [("person-french", "fr"), ("person-giant-german", "de"), ("person-spanish", "es"), ("month", "en")]
)
def test_the_document_says_in_which_language_the_sheet_is(name: str, lang: str) -> None:
    root: Any = read(name).root_object
    assert root["/Lang"].partition("-")[0] == lang


@pytest.mark.parametrize("name", SOME[:2])
def test_a_page_is_as_large_as_the_paper(name: str) -> None:
    assert [round(float(side) * MM_PER_POINT, 1) for side in read(name).pages[0].mediabox[2:]] == [210.0, 297.0]

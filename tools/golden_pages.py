"""Draw every sheet in every card format as the golden pages have it: a small grey picture of each first page, and its structure as text.

`python -m tools.golden_pages` writes them anew into tests/core/paper/golden (NAME: only that one); look at what changed before you keep it.
The test draws the same and compares: the picture within a tolerance, because readers of PDF differ by a shade; the structure (what stands
where, in which size) exactly.
"""

import argparse
from collections.abc import Sequence
from io import BytesIO
from pathlib import Path

import pypdfium2
from tests.core.paper.golden_sample import SHEETS, Golden

__all__ = ["DPI", "FOLDER", "picture", "structure"]

FOLDER = Path(__file__).resolve().parents[1] / "tests" / "core" / "paper" / "golden"
DPI = 50  # enough to see a line, a border, a dial or a box that moved; small enough to keep


def picture(golden: Golden) -> bytes:
    """The page as a grey PNG of 16 shades."""
    document = pypdfium2.PdfDocument(golden.pdf)
    try:
        grey = document[golden.page].render(scale=DPI / 72, grayscale=True).to_pil()
    finally:
        document.close()
    png = BytesIO()
    grey.quantize(16).save(png, "PNG", optimize=True)
    return png.getvalue()


def structure(golden: Golden) -> str:
    """Every line of text as PDFium finds it on that page: place and size in tenths of a millimetre and of a point; then how many pages."""
    document = pypdfium2.PdfDocument(golden.pdf)
    try:
        page = document[golden.page]
        text, high = page.get_textpage(), page.get_height()
        lines = [f"{len(document)} pages, this one {page.get_width() * _MM:.1f} by {high * _MM:.1f} mm"]
        for n in range(text.count_rects()):
            left, bottom, right, top = text.get_rect(n)
            said = " ".join(text.get_text_bounded(left, bottom, right, top).split())
            lines.append(f"{left * _MM:6.1f} {(high - top) * _MM:6.1f} {(right - left) * _MM:6.1f} {(top - bottom) * _MM:5.1f}  {said}")
    finally:
        document.close()
    return "\n".join(lines) + "\n"


_MM = 25.4 / 72  # in a point


def main(words: Sequence[str] | None = None) -> None:
    """Write those that are named, or all."""
    names = _parser().parse_args(words).names or list(SHEETS)
    FOLDER.mkdir(exist_ok=True)
    for name in names:
        golden = SHEETS[name]()
        (FOLDER / f"{name}.png").write_bytes(picture(golden))
        (FOLDER / f"{name}.txt").write_text(structure(golden), encoding="utf-8")
    print(f"{len(names)} sheets drawn; {sum(file.stat().st_size for file in FOLDER.iterdir()) / 1024:.0f} KiB in {FOLDER}")


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="python -m tools.golden_pages",
        description="Draw the golden pages anew: a picture and the structure of each sheet. Look at what changed before you keep it.",
        epilog="example: python -m tools.golden_pages month recall; the sheets are: " + ", ".join(SHEETS),
    )
    parser.add_argument("names", nargs="*", metavar="NAME", type=_sheet, help="only these sheets (all)")
    return parser


def _sheet(name: str) -> str:
    if name not in SHEETS:
        raise argparse.ArgumentTypeError(f"no sheet {name!r}; --help names them all")
    return name


if __name__ == "__main__":
    main()

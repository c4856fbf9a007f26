"""Say each direction of `tests/cases/sentences.txt` in every language anew: `python -m tools.write_sentences`.

The file has a direction, `country | words`, and below it what it is said as, a line a language; EN is English with numbers as words, "-"
where it has no sentence. A person looks every sentence over; from then on one that changes shows.
"""

import sys
from collections.abc import Iterator
from pathlib import Path

from dosewright.core.regimen.reading.read import read
from dosewright.core.regimen.reading.reading_values import Setting
from dosewright.core.regimen.words.say_plain import PHRASEBOOKS, say_plain

__all__ = ["FILE", "blocks"]

FILE = Path(__file__).parents[1] / "tests" / "cases" / "sentences.txt"


def blocks(text: str) -> Iterator[str]:
    """The file's text with every sentence as it is now, line by line; comments and directions as they stand."""
    for line in text.splitlines():
        if line.startswith("  "):
            continue
        yield line
        if line and not line.startswith("#"):
            country, _, words = line.partition(" | ")
            dosages = read(words, Setting("en", country)).dosages
            said = {lang: say_plain(dosages, lang) for lang in PHRASEBOOKS} | {"EN": say_plain(dosages, "en", "words")}
            yield from (f"  {lang}: {sentence or '-'}" for lang, sentence in said.items())


def main() -> int:
    """Write the file."""
    FILE.write_text("".join(f"{line}\n" for line in blocks(FILE.read_text("utf-8"))), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())

"""Write down what every spelling that the reader knows means, in each country: `python -m tools.write_spellings`.

`tests/cases/spellings.txt` is looked over by a person; from then on a word that is lost, or that means something else, shows as a line of
its own that differs. Rows are `language countries | what it is | spelling`, where what it is stands as the word tables have it.
"""

import sys
from collections.abc import Iterator
from pathlib import Path

from dosewright.core.regimen.reading.languages import find_language
from dosewright.core.regimen.reading.lexicon import Sense

__all__ = ["COUNTRIES", "FILE", "spellings"]

FILE = Path(__file__).parents[1] / "tests" / "cases" / "spellings.txt"
# "" is a country that is not known. Every country that a row of the tables names has a test that it is here.
COUNTRIES = {
    "en": ("", "AU", "CA", "GB", "IE", "NZ", "US"),
    "fr": ("", "BE", "CA", "CH", "FR"),
    "es": ("", "AR", "CL", "ES", "MX", "US"),
    "de": ("", "AT", "CH", "DE"),
}
_HEAD = """# What every spelling that the reader knows means. Source: pharmacy practice, from memory.
# Written by `python -m tools.write_spellings`: look at every line that it changes.
# language countries ("-" not known, "*" all) | terminal value, note=, ask= | spelling
"""


def spellings() -> Iterator[str]:
    """The rows, in order."""
    for lang, countries in COUNTRIES.items():
        found: dict[tuple[str, str], list[str]] = {}
        for country in countries:
            language = find_language(lang, country)
            for words, senses in language.lexicon.spelled() if language else ():
                for sense in senses:
                    found.setdefault((_said(sense), words), []).append(country or "-")
        for (said, words), where in sorted(found.items()):
            yield f"{lang} {'*' if len(where) == len(countries) else ','.join(where)} | {said} | {words}"


def _said(sense: Sense) -> str:
    more = [f"{name}={value}" for name, value in (("note", sense.note), ("ask", sense.ask)) if value]
    return " ".join([sense.terminal, *([str(sense.value)] if sense.value else []), *more])


def main() -> int:
    """Write the file."""
    FILE.write_text(_HEAD + "".join(f"{row}\n" for row in spellings()), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())

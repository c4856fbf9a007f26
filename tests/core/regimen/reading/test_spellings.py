"""Every spelling means what was written down when a person looked it over: none is lost, none means something else, none came unseen."""

import importlib
import re

from tools.write_spellings import COUNTRIES, FILE, spellings

from dosewright.core.regimen.reading.languages import LANGUAGES


def test_each_spelling_means_what_was_looked_over() -> None:
    kept = {line for line in FILE.read_text("utf-8").splitlines() if not line.startswith("#")}
    now = set(spellings())
    assert (sorted(kept - now), sorted(now - kept)) == ([], []), "lost or changed, then new; look at each, then tools.write_spellings"


def test_each_country_that_a_table_names_is_looked_at() -> None:
    for lang, module in LANGUAGES.items():
        tables = importlib.import_module(f"dosewright.core.regimen.reading.{module}")
        named = re.findall(r"\b(?:in|not)=([A-Z,]+)", "\n".join((tables.WORDS, tables.INSTRUCTIONS, tables.REASONS)))
        assert named
        # South America's countries are always named in one row together: AR and CL stand for them
        assert all({*row.split(",")} & {*COUNTRIES[lang]} for row in named), lang

"""Keep the parse tables of the languages' grammars: `python -m tools.write_parse_tables` after every change of a grammar.

Goes out: `…_table.py` beside each language's module in `core/regimen/reading`. Without it lines read the same, only more slowly at first.
"""

from pathlib import Path

from dosewright.core.regimen.reading.compile_grammar import compile_grammar
from dosewright.core.regimen.reading.languages import LANGUAGES, digest, grammar_of
from dosewright.core.regimen.reading.parse_table import write_table

__all__ = ["page", "path_of"]

_READING = Path(__file__).parents[1] / "src" / "dosewright" / "core" / "regimen" / "reading"
_PAGE = '''"""The compiled grammar of one language. Made by tools/write_parse_tables.py: change the grammar, not this."""

__all__ = ["DIGEST", "TABLE"]

DIGEST = "{digest}"
TABLE = """
{table}
"""
'''


def path_of(lang: str) -> Path:
    """Where the table of a language lies."""
    return _READING / f"{LANGUAGES[lang]}_table.py"


def page(lang: str) -> str:
    """The module as it must be."""
    grammar = grammar_of(lang)
    return _PAGE.format(digest=digest(grammar), table=write_table(compile_grammar(grammar)))


if __name__ == "__main__":
    for lang in LANGUAGES:
        path_of(lang).write_text(page(lang), encoding="utf-8")

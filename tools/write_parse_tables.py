"""Keep the parse tables of the languages' grammars: `python -m tools.write_parse_tables` after every change of a grammar.

Goes out: `src/dosewright/core/regimen/reading/parse_tables.py`. Without it everything reads the same, and starts more slowly.
"""

from pathlib import Path

from dosewright.core.regimen.reading.compile_grammar import compile_grammar
from dosewright.core.regimen.reading.languages import LANGUAGES, digest, grammar_of
from dosewright.core.regimen.reading.parse_table import write_table

__all__ = ["TABLES", "page"]

TABLES = Path(__file__).parents[1] / "src" / "dosewright" / "core" / "regimen" / "reading" / "parse_tables.py"
_HEAD = '''"""The compiled grammars, by the digest of their text. Made by tools/write_parse_tables.py: change the grammar, not this."""

__all__ = ["TABLES"]

TABLES = {
'''


def page() -> str:
    """The module as it must be."""
    kept = {digest(grammar): write_table(compile_grammar(grammar)) for grammar in map(grammar_of, LANGUAGES)}
    return _HEAD + "".join(f'    "{name}": """{text}""",  # noqa: E501\n' for name, text in kept.items()) + "}\n"


if __name__ == "__main__":
    TABLES.write_text(page(), encoding="utf-8")

"""The kept parse tables: those of the grammars as they are, and read as the lark library reads the grammar itself."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lark import Lark, Token, Tree
from lark.exceptions import UnexpectedInput
from lark.lexer import Lexer
from tools.write_parse_tables import page, path_of

from dosewright.core.regimen.reading import german_table, languages
from dosewright.core.regimen.reading.build import Builder
from dosewright.core.regimen.reading.compile_grammar import compile_grammar
from dosewright.core.regimen.reading.languages import LANGUAGES, find_language, grammar_of
from dosewright.core.regimen.reading.parse_table import END, ParseTable, read_table, write_table


class Given(Lexer):
    def __init__(self, _conf: object) -> None:
        pass

    def lex(self, data: Any) -> Any:  # type: ignore[override]
        yield from data


ORACLE = {lang: Lark(grammar_of(lang), parser="lalr", lexer=Given) for lang in LANGUAGES}


class Shape:
    """Builds what lark's trees say, whatever the method."""

    def __getattr__(self, name: str) -> Any:
        return lambda parts: (name, tuple(parts))


def table_of(lang: str) -> ParseTable:
    language = find_language(lang, "")
    assert language is not None
    return language.table


def shape(node: Any) -> Any:
    return (str(node.data), tuple(shape(child) for child in node.children)) if isinstance(node, Tree) else str(node)


def by_lark(lang: str, row: list[str]) -> Any:
    """The tree's shape; None where lark does not accept the row."""
    try:
        return shape(ORACLE[lang].parse([Token(name, f"{place}") for place, name in enumerate(row)]))
    except UnexpectedInput:
        return None


def by_table(lang: str, row: list[str]) -> Any:
    table = table_of(lang)
    stack: tuple[int, ...] = (table.first,)
    for name in (*row, END):
        stack = table.advance(stack, name)
        if not stack:
            return None
    return table.build([(name, f"{place}") for place, name in enumerate(row)], Shape())


def _terminals(table: ParseTable, state: int) -> list[str]:
    return sorted(name for name in table.states[state] if name.isupper() and name != END)


@st.composite
def rows(draw: st.DrawFn) -> tuple[str, list[str]]:
    """A row that the grammar can go on from; mostly, it accepts it."""
    lang = draw(st.sampled_from(sorted(LANGUAGES)))
    table = table_of(lang)
    stack: tuple[int, ...] = (table.first,)
    row: list[str] = []
    for _ in range(draw(st.integers(1, 14))):
        names = [name for name in _terminals(table, stack[-1]) if table.advance(stack, name)]
        row.append(draw(st.sampled_from(names)))
        stack = table.advance(stack, row[-1])
    if draw(st.booleans()):
        row.insert(draw(st.integers(0, len(row))), draw(st.sampled_from(_terminals(table, 0))))
    return lang, row


@given(rows())
def test_a_row_is_accepted_and_shaped_as_lark_does_it(case: tuple[str, list[str]]) -> None:
    lang, row = case
    assert by_table(lang, row) == by_lark(lang, row)


@pytest.mark.parametrize("lang", sorted(LANGUAGES))
def test_the_rows_above_are_often_accepted_and_sometimes_not(lang: str) -> None:
    assert by_table(lang, ["NUM", "UNIT", "EVERY", "TIMEUNIT"]) == (
        "start",
        (("amount", (("exactly", ("0",)), "1")), ("each_period", ("2", "3"))),
    )
    assert by_table(lang, ["EVERY"]) is by_lark(lang, ["EVERY"]) is None


@pytest.mark.parametrize("lang", sorted(LANGUAGES))
def test_the_kept_tables_are_those_of_the_grammars(lang: str) -> None:
    assert path_of(lang).read_text(encoding="utf-8") == page(lang), "run: .venv/bin/python -m tools.write_parse_tables"


def test_a_grammar_without_a_kept_table_is_compiled_to_the_same() -> None:
    table = compile_grammar(grammar_of("de"))
    assert table == table_of("de") == read_table(write_table(table))


def test_a_grammar_that_was_changed_since_its_table_was_kept_is_compiled_when_it_is_read(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(german_table, "DIGEST", "of another grammar")
    changed = languages._table.__wrapped__(grammar_of("de"), "german_table")
    assert changed == table_of("de")


@pytest.mark.parametrize("lang", sorted(LANGUAGES))
def test_every_phrase_of_the_grammar_has_its_method(lang: str) -> None:
    methods = {rule.method for rule in table_of(lang).rules} - {"", "?"}
    assert {name for name in methods if not callable(getattr(Builder, name, None))} == set()


def test_a_row_that_the_grammar_does_not_accept_is_never_built() -> None:
    for row in (["EVERY"], ["NUM", "EVERY"]):
        with pytest.raises(ValueError, match="not accepted"):
            table_of("en").build([(name, name) for name in row], Shape())

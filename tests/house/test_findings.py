"""Every finding that the source can make has a sentence, every sentence has a finding, and the page that lists them is as the source is."""

import string

import pytest
from tests.house.source_tree import ROOT
from tools.finding_codes import is_mentioned, made
from tools.write_findings import page

from dosewright.core.paper.say import sentences


def test_the_reader_of_the_source_finds_findings() -> None:
    assert len({found.code for found in made()}) > 40


def test_every_code_that_the_source_makes_has_a_sentence() -> None:
    without = sorted({(found.code, found.module) for found in made() if found.code not in sentences()})
    assert not without


@pytest.mark.parametrize("code", sentences())
def test_every_sentence_has_a_finding(code: str) -> None:
    assert is_mentioned(code)


@pytest.mark.parametrize("code", sentences())
def test_a_sentence_is_a_sentence(code: str) -> None:
    text = sentences()[code]
    assert text[0].isupper() or text.startswith(("{", '"'))
    assert text.endswith((".", "?", "}"))
    assert all(name is None or name.isidentifier() for _, name, _, _ in string.Formatter().parse(text))


def test_the_page_of_findings_is_up_to_date() -> None:
    written = (ROOT / "docs" / "findings.md").read_text("utf-8")
    assert written == page(), "run: .venv/bin/python -m tools.write_findings"

"""Every benchmark says what it measures against what, and the page of figures shows what each printed."""

import ast

import pytest
from benchmarks.__main__ import all_names
from tests.house.source_tree import ROOT

PAGE = ROOT / "docs" / "benchmarks.md"


@pytest.mark.parametrize("name", all_names())
def test_a_benchmark_says_what_it_measures(name: str) -> None:
    assert ast.get_docstring(ast.parse((ROOT / "benchmarks" / f"{name}.py").read_text("utf-8")))


@pytest.mark.parametrize("name", all_names())
def test_the_page_has_its_figures_and_the_command_that_makes_them(name: str) -> None:
    (section,) = [part for part in PAGE.read_text("utf-8").split("\n## ") if f"`.venv/bin/python -m benchmarks {name}`" in part]
    assert any(digit in section.split("```")[1] for digit in "123456789")


def test_doses_columns_pages_and_requests_are_measured_and_grow_to_a_thousand_people() -> None:
    page = PAGE.read_text("utf-8")
    assert set(all_names()) >= {"expansion", "planning", "paper", "web"}
    assert page.count("ratio") >= 4
    assert page.count("1000") + page.count("1,000") >= 3

"""The page about running a pharmacy shows every setting as the program has it."""

from pathlib import Path

from dosewright.config.table import CONFIG

PAGE = (Path(__file__).parents[2] / "docs" / "running.md").read_text("utf-8")


def test_every_setting_is_on_the_page_with_its_default_and_meaning_and_no_other() -> None:
    rows = [tuple(cell.strip().strip("`") for cell in line.split("|")[1:4]) for line in PAGE.splitlines() if line.startswith("| `")]
    assert rows == [(setting.name, setting.default, setting.meaning) for setting in CONFIG]

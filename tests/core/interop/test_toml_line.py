"""One line of a settings file is changed, and nothing beside it: for every line of every file that ships."""

import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosewright.core.interop.card_format_toml import parse_card_format
from dosewright.core.interop.profile_toml import parse_profile
from dosewright.core.interop.toml_line import replaced, toml_lines

SHIPPED = Path(__file__).resolve().parents[3] / "src" / "dosewright" / "shipped"
FILES = [*sorted((SHIPPED / "formats").glob("*.toml")), *sorted((SHIPPED / "profiles").glob("*.toml"))]
SMALL = 'a = 1 # one\nb = "x # y" # two # three\n[t]\n"c.d" = { value = true, source = "s=1" } # four\n'


def flat(read: dict[str, object]) -> dict[str, object]:
    """Every value by its table and key."""
    said: dict[str, object] = {}
    for key, value in read.items():
        inner = flat(value) if isinstance(value, dict) and "value" not in value and "standing" not in value else {"": value}
        said |= {f"{key}.{name}" if name else key: one for name, one in inner.items()}
    return said


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_every_value_of_a_file_that_ships_has_its_line(path: Path) -> None:
    text = path.read_text("utf-8")
    lines = toml_lines(text)
    read = {f"{line.section}.{line.key}" if line.section else line.key: tomllib.loads(f"v = {line.value}")["v"] for line in lines}
    assert read == flat(tomllib.loads(text))
    assert all(line.comment for line in lines)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_a_line_that_is_given_its_own_value_leaves_the_file_as_it_was(path: Path) -> None:
    text = path.read_text("utf-8")
    assert all(replaced(text, line.number, line.value) == text for line in toml_lines(text))


def test_comments_and_marks_inside_texts_are_told_apart() -> None:
    assert [(line.key, line.value, line.comment) for line in toml_lines(SMALL)] == [
        ("a", "1", "one"),
        ("b", '"x # y"', "two # three"),
        ("c.d", '{ value = true, source = "s=1" }', "four"),
    ]


@given(st.integers(-(10**6), 10**6) | st.decimals(-100, 100, places=2).map(str), st.text("abc #=[]{}", max_size=8))
def test_only_the_line_changes(number: int | str, text: str) -> None:
    made = replaced(replaced(SMALL, 1, str(number)), 2, f'"{text}"')
    assert tomllib.loads(made) == {**tomllib.loads(SMALL), "a": float(number), "b": text}
    assert made.splitlines()[2:] == SMALL.splitlines()[2:]
    assert [line.rpartition(" # ")[2] for line in made.splitlines()[:2]] == ["one", "three"]


@pytest.mark.parametrize("value", ["", " ", "1\nz = 2", "1 # gone\r", "1 2", '"open', "{", "1 }", "true", '"text"', "[1]", "2026-03-02"])
def test_what_is_not_one_value_is_refused(value: str) -> None:
    with pytest.raises(ValueError, match=r"."):
        replaced(SMALL, 1, value)


@pytest.mark.parametrize("value", ['{ value = 1, source = "s" }', "{ value = true }", "true", '{ value = true, source = "s", more = 1 }'])
def test_a_table_keeps_its_keys_and_the_kind_of_each(value: str) -> None:
    """A limit that became a text would stop every plan."""
    with pytest.raises(ValueError, match="stays what it is"):
        replaced(SMALL, 4, value)
    assert 'source = "other"' in replaced(SMALL, 4, '{ value = false, source = "other" }')


def test_a_line_that_gives_no_value_cannot_be_changed() -> None:
    with pytest.raises(KeyError):
        replaced(SMALL, 3, "1")


def test_files_that_ship_are_read_after_a_change() -> None:
    text = (SHIPPED / "formats" / "seven-by-four.toml").read_text("utf-8")
    depth = next(line for line in toml_lines(text) if line.key == "depth_mm")
    assert parse_card_format(replaced(text, depth.number, "9.5")) != parse_card_format(text)
    profile = (SHIPPED / "profiles" / "uk.toml").read_text("utf-8")
    bud = next(line for line in toml_lines(profile) if line.key == "bud_max_days")
    assert parse_profile(replaced(profile, bud.number, bud.value.replace("56", "42"))).number("bud_max_days") == 42

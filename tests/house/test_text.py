"""What tracked files may not say: places on somebody's machine, package indexes, unfinished business."""

import re

import pytest
from tests.house.source_tree import tracked, tracked_text

# Written in pieces, so that this file does not find itself.
FORBIDDEN = {
    "a folder of one machine": r"(?:^|[^.\w])/(?:wo" + r"rk|home|root|Users)/\w",
    "a folder outside": r"\.\./sha" + r"red\b",
    "a package index": r"--(?:extra-)?index-" + r"url|file:/" + r"//|pypi-" + r"more",
    "unfinished business": r"\b(?:TO" + r"DO|FIX" + r"ME|XX" + r"X)\b",
    "where it came from": r"\bseed doc" + r"ument\b|\btran" + r"script\b",
}


@pytest.mark.parametrize("what", FORBIDDEN)
def test_no_tracked_file_mentions(what: str) -> None:
    pattern = re.compile(FORBIDDEN[what], re.MULTILINE)
    own = {path: text for path, text in tracked_text().items() if "vendor" not in path.parts and path.suffix not in {".json", ".txt"}}
    found = [f"{path}: {line.strip()}" for path, text in own.items() for line in text.splitlines() if pattern.search(line)]
    assert not found


def test_text_files_are_utf8_with_unix_line_ends() -> None:
    assert not [str(path) for path, text in tracked_text().items() if "\r\n" in text]


def test_nothing_built_is_tracked() -> None:
    built = {".venv", "out", "var", "build", "__pycache__"}
    assert not [str(path) for path in tracked() if built & set(path.parts)]

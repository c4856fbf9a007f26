"""Packed parts come back as they were put there, whether they wait in memory or, being many, in a file."""

import tempfile
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosewright.cli import waiting
from dosewright.cli.waiting import Shelf


@given(st.lists(st.binary(max_size=40), max_size=30), st.data())
def test_a_shelf_is_the_list_of_what_was_put_there(held: list[bytes], data: st.DataObject) -> None:
    shelf = Shelf()
    for packed in held:
        shelf.add(packed)
        assert shelf[len(shelf) - 1] == packed  # read between two writes
    assert (list(shelf), len(shelf)) == (held, len(held))
    part = slice(*(data.draw(st.none() | st.integers(-40, 40)) for _ in range(2)))
    assert shelf[part] == held[part]
    for beyond in (len(held), -len(held) - 1):
        with pytest.raises(IndexError):
            shelf[beyond]


def test_many_wait_in_a_file_that_has_no_name(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    monkeypatch.setattr(waiting, "_IN_MEMORY", 100)
    shelf, held = Shelf(), [bytes([at]) * 30 for at in range(50)]
    for packed in held:
        shelf.add(packed)
    assert shelf._file._rolled  # type: ignore[attr-defined]
    assert [shelf[at] for at in reversed(range(50))] == held[::-1]
    assert list(tmp_path.iterdir()) == []

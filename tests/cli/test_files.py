"""Files are written whole or not at all, whatever goes wrong in between."""

import os
from pathlib import Path

import pytest

from dosewright.cli.files import LARGEST_INPUT, Unreadable, read_text, write_folder

FILES = {"plan.json": b"new plan", "findings.json": b"new findings"}


def test_all_files_are_written_and_nothing_else(tmp_path: Path) -> None:
    write_folder(str(tmp_path / "a" / "b"), FILES)
    assert {entry.name: entry.read_bytes() for entry in (tmp_path / "a" / "b").iterdir()} == FILES


def test_a_file_of_an_earlier_run_goes_where_this_run_has_none(tmp_path: Path) -> None:
    write_folder(str(tmp_path), {"labels.pdf": b"old", **FILES})
    write_folder(str(tmp_path), FILES, instead_of=("labels.pdf", "plan.json"))
    assert sorted(os.listdir(tmp_path)) == ["findings.json", "plan.json"]


def test_a_folder_that_stands_in_the_way_stops_it_before_anything_is_written(tmp_path: Path) -> None:
    (tmp_path / "plan.json").write_bytes(b"old")
    (tmp_path / "findings.json").mkdir()
    with pytest.raises(Unreadable, match="cannot be written"):
        write_folder(str(tmp_path), FILES)
    assert sorted(os.listdir(tmp_path)) == ["findings.json", "plan.json"]
    assert (tmp_path / "plan.json").read_bytes() == b"old"


def test_a_disk_that_is_full_leaves_what_was_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "plan.json").write_bytes(b"old")
    synced: list[int] = []

    def full_at_the_second(handle: int) -> None:
        synced.append(handle)
        if len(synced) == 2:
            raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full_at_the_second)
    with pytest.raises(Unreadable, match="No space left"):
        write_folder(str(tmp_path), FILES)
    assert {entry.name: entry.read_bytes() for entry in tmp_path.iterdir()} == {"plan.json": b"old"}


def test_a_byte_order_mark_is_taken_off(tmp_path: Path) -> None:
    (tmp_path / "x").write_bytes(b"\xef\xbb\xbfperson")
    assert read_text(str(tmp_path / "x")) == "person"


def test_a_file_of_the_largest_size_is_read_and_one_byte_more_is_not(tmp_path: Path) -> None:
    for size, refused in ((LARGEST_INPUT, False), (LARGEST_INPUT + 1, True)):
        with (tmp_path / "x").open("wb") as file:
            file.truncate(size)
        if refused:
            with pytest.raises(Unreadable, match="larger than 64 MiB"):
                read_text(str(tmp_path / "x"))
        else:
            assert len(read_text(str(tmp_path / "x"))) == LARGEST_INPUT


@pytest.mark.parametrize("path", ["no/such/file", "nul\0in it", ""])
def test_what_is_not_there_is_one_sentence(path: str) -> None:
    with pytest.raises(Unreadable, match=r"cannot be read: .+\."):
        read_text(path)

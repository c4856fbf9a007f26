"""Files in, whole files out. A file that cannot be read raises `Unreadable` with the one sentence to show; the command exits 2."""

import contextlib
import os
import sys
import tempfile
from collections.abc import Mapping
from pathlib import Path

__all__ = ["LARGEST_INPUT", "Unreadable", "read_text", "write_folder"]

LARGEST_INPUT = 64 * 1024 * 1024  # bytes; a home's bundle is under one megabyte


class Unreadable(Exception):
    """Bad usage or input that cannot be read. The message is one clear sentence naming file, line and field, and what would be right."""


def read_text(path: str) -> str:
    """The UTF-8 text of a file, or of standard input for "-". A byte-order mark is taken off. Raises Unreadable."""
    name = "standard input" if path == "-" else path
    data = _read_bytes(path, name)
    if len(data) > LARGEST_INPUT:
        raise Unreadable(f"{name} is larger than {LARGEST_INPUT // 1024 // 1024} MiB; split it by home or by person.")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        raise Unreadable(f"{name}, line {line}: byte {error.start} is not UTF-8; save the file as UTF-8.") from error


def _read_bytes(path: str, name: str) -> bytes:
    try:
        if path == "-":
            return sys.stdin.buffer.read(LARGEST_INPUT + 1)
        with open(path, "rb") as file:
            return file.read(LARGEST_INPUT + 1)
    except OSError as error:
        raise Unreadable(f"{name} cannot be read: {error.strerror}.") from error


def write_folder(folder: str, files: Mapping[str, bytes]) -> None:
    """Write all files or none: each is written beside its place first, then all are moved in. Raises Unreadable."""
    target = Path(folder)
    waiting: dict[Path, Path] = {}
    try:
        target.mkdir(parents=True, exist_ok=True)
        for name, data in files.items():
            waiting[_write_beside(target, data)] = target / name
        for temporary, place in waiting.items():
            os.replace(temporary, place)
    except OSError as error:
        raise Unreadable(f"{folder} cannot be written: {error.strerror}.") from error
    finally:
        for temporary in waiting:
            with contextlib.suppress(FileNotFoundError):
                temporary.unlink()


def _write_beside(target: Path, data: bytes) -> Path:
    handle, temporary = tempfile.mkstemp(prefix=".dosewright-", dir=target)
    with os.fdopen(handle, "wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())
    os.chmod(temporary, 0o644)
    return Path(temporary)

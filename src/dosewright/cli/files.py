"""Files in, whole files out. A file that cannot be read raises `Unreadable` with the one sentence to show; the command exits 2."""

import contextlib
import errno
import os
import sys
import tempfile
from collections.abc import Collection, Iterable, Mapping
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
        raise _too_large(name)
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
            if os.fstat(file.fileno()).st_size > LARGEST_INPUT:
                raise _too_large(name)
            return file.read(LARGEST_INPUT + 1)
    except (OSError, ValueError) as error:  # ValueError: a path with a NUL in it
        raise Unreadable(f"{name} cannot be read: {getattr(error, 'strerror', None) or error}.") from error


def _too_large(name: str) -> Unreadable:
    return Unreadable(f"{name} is larger than {LARGEST_INPUT // 1024 // 1024} MiB; split it by home or by person.")


def write_folder(folder: str, files: Mapping[str, bytes | Iterable[bytes]], instead_of: Collection[str] = ()) -> None:
    """Write all files or none: each is written beside its place first, then all are moved in. Raises Unreadable. A file may come in pieces.

    `instead_of`: files of an earlier run that are taken away where this run has none, so that nothing lies beside a plan it is not of.
    """
    target = Path(folder)
    waiting: dict[Path, Path] = {}
    try:
        target.mkdir(parents=True, exist_ok=True)
        _require_places(target, (*files, *instead_of))
        for name, data in files.items():
            waiting[_write_beside(target, data)] = target / name
        for name in set(instead_of) - set(files):
            (target / name).unlink(missing_ok=True)
        for temporary, place in waiting.items():
            os.replace(temporary, place)
    except OSError as error:
        raise Unreadable(f"{folder} cannot be written: {error.strerror}.") from error
    finally:
        for temporary in waiting:
            with contextlib.suppress(FileNotFoundError):
                temporary.unlink()


def _require_places(target: Path, names: Iterable[str]) -> None:
    """Whatever would stop the last step is found before the first: a folder that stands where a file is to go."""
    for name in names:
        if (target / name).is_dir():
            raise IsADirectoryError(errno.EISDIR, f"{name} is a folder there")


def _write_beside(target: Path, data: bytes | Iterable[bytes]) -> Path:
    handle, name = tempfile.mkstemp(prefix=".dosewright-", dir=target)
    temporary = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.writelines((data,) if isinstance(data, bytes) else data)
            file.flush()
            os.fsync(file.fileno())
        temporary.chmod(0o644)
    except BaseException:  # also a stop on request: nothing of it stays
        temporary.unlink(missing_ok=True)
        raise
    return temporary

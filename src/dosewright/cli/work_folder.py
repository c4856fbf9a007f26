"""What is finished of a long run, kept beside the results until they are whole: so that a run that was stopped can go on.

Beside DIR stands `.DIR.work`, for its owner alone, with a folder named by everything that the results are made from: after any change of
input, rules or program nothing of an earlier run is used. Each part is written beside its place first, so that it is there whole or not.
"""

import contextlib
import json
import os
import shutil
from collections.abc import Iterator
from pathlib import Path

from dosewright.cli.files import Unreadable
from dosewright.cli.plan_chunk import ChunkDone

__all__ = ["WorkFolder"]

try:
    import fcntl
except ImportError:  # not on every system: then two runs into one folder are not told apart
    fcntl = None  # type: ignore[assignment]


class WorkFolder:
    """The parts of one run; `key` says what they are made from. Raises Unreadable where the folder cannot be used, or is in use."""

    def __init__(self, out: str, key: str, *, resume: bool) -> None:
        target = Path(out)
        self._root = target.with_name(f".{target.name}.work")
        self._parts = self._root / key
        try:
            self._root.mkdir(mode=0o700, parents=True, exist_ok=True)
            self._lock = self._locked()
            for other in self._root.iterdir():
                if other.is_dir() and not (resume and other == self._parts):
                    shutil.rmtree(other)
            self._parts.mkdir(mode=0o700, exist_ok=True)
        except OSError as error:
            raise Unreadable(f"{self._root} cannot be used for what is finished of the plan: {error.strerror}.") from error

    def _locked(self) -> int:
        handle = os.open(self._root / "lock", os.O_CREAT | os.O_RDWR, 0o600)
        if fcntl is not None:
            try:
                fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except OSError as error:
                os.close(handle)
                raise Unreadable(f"another run is working in {self._root}; wait for it, or name another folder.") from error
        return handle

    def has(self, number: int) -> bool:
        """Whether that part is finished."""
        return self._place(number, "json").exists() and self._place(number, "people").exists()

    def keep(self, number: int, done: ChunkDone) -> None:
        """The part is finished. Raises Unreadable where it cannot be written."""
        try:
            self._write(self._place(number, "people"), "\n".join(done.people))
            self._write(self._place(number, "json"), json.dumps(done.in_json(), ensure_ascii=False))
        except OSError as error:
            raise Unreadable(f"{self._parts} cannot be written: {error.strerror}.") from error

    def _write(self, place: Path, text: str) -> None:
        beside = place.with_suffix(place.suffix + ".new")
        with open(beside, "w", encoding="utf-8") as file:
            file.write(text)
        os.replace(beside, place)

    def lines(self, number: int) -> Iterator[str]:
        """The people's lines of that part."""
        text = self._place(number, "people").read_text(encoding="utf-8")
        return iter(text.split("\n") if text else ())

    def found(self, number: int) -> ChunkDone:
        """All of that part but its people."""
        return ChunkDone.from_json((), json.loads(self._place(number, "json").read_text(encoding="utf-8")))

    def _place(self, number: int, kind: str) -> Path:
        return self._parts / f"{number:07}.{kind}"

    def close(self) -> None:
        """Let others use it; what is finished stays."""
        os.close(self._lock)

    def remove(self) -> None:
        """The results are whole: nothing of this is needed any more."""
        with contextlib.suppress(OSError):
            shutil.rmtree(self._root)

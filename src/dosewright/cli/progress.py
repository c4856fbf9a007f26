"""How far a long run is, on standard error: one line that is written over on a terminal, a line now and then elsewhere if asked for."""

import sys
import time

__all__ = ["Progress"]

_ON_A_TERMINAL, _ELSEWHERE = 0.2, 10.0  # seconds between two lines


class Progress:
    """`total` people are to be planned (or whatever `what` says), `already` were before. Shown on a terminal, elsewhere if `always`."""

    def __init__(self, total: int, already: int, *, always: bool, what: str = "planned") -> None:
        self._what = what
        self._total, self._already, self._done = total, already, already
        self._terminal = sys.stderr.isatty()
        self._shown = self._terminal or always
        self._began = self._last = time.monotonic()

    def add(self, people: int) -> None:
        """So many more are done."""
        self._done += people
        now = time.monotonic()
        if self._shown and (now - self._last >= (_ON_A_TERMINAL if self._terminal else _ELSEWHERE) or self._done == self._total):
            self._last = now
            self._write(now - self._began)

    def _write(self, seconds: float) -> None:
        speed = (self._done - self._already) / seconds if seconds > 0 else 0.0
        left = f", {(self._total - self._done) / speed:.0f} s left" if speed else ""
        text = f"{self._what} {self._done} of {self._total} people, {speed:.0f} a second{left}"
        sys.stderr.write(f"\r{text:<70}" if self._terminal else f"{text}\n")
        sys.stderr.flush()

    def end(self) -> None:
        """Whatever is written next begins on a line of its own."""
        if self._terminal and self._shown and self._done > self._already:
            sys.stderr.write("\n")

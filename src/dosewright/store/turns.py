"""Writers take turns. On SQLite one process writes at a time and its own lock is not fair: one of eight writers was seen to wait for ever.
So whoever means to write queues here first, and is served in the order of coming. PostgreSQL needs no queue."""

import threading
from collections import deque
from collections.abc import Iterator
from contextlib import contextmanager

from django.db import connection, transaction

__all__ = ["FairLock", "one_write", "write_turn"]


class FairLock:
    """First come, first served, among the threads of this process."""

    def __init__(self) -> None:
        self._door = threading.Lock()
        self._waiting: deque[threading.Event] = deque()

    @contextmanager
    def turn(self) -> Iterator[None]:
        """Wait for one's turn; hold it until the block ends."""
        mine = threading.Event()
        with self._door:
            self._waiting.append(mine)
            if len(self._waiting) == 1:
                mine.set()
        mine.wait()
        try:
            yield
        finally:
            self._pass_on()

    def _pass_on(self) -> None:
        with self._door:
            self._waiting.popleft()
            if self._waiting:
                self._waiting[0].set()


_QUEUE = FairLock()


@contextmanager
def write_turn() -> Iterator[None]:
    """One transaction, begun when it is this writer's turn."""
    if connection.vendor == "sqlite" and not connection.in_atomic_block:
        with _QUEUE.turn(), transaction.atomic():
            yield
    else:
        with transaction.atomic():
            yield


@contextmanager
def one_write() -> Iterator[None]:
    """For a single statement, which is a transaction of its own without being begun and ended apart."""
    if connection.vendor == "sqlite" and not connection.in_atomic_block:
        with _QUEUE.turn():
            yield
    else:
        yield

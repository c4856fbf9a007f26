"""Writers are served in the order in which they come."""

import threading
import time

import pytest

from dosewright.store.turns import FairLock


def test_first_come_first_served() -> None:
    lock = FairLock()
    served: list[int] = []

    def come(number: int) -> None:
        with lock.turn():
            served.append(number)

    with lock.turn():
        threads = []
        for number in range(20):
            threads.append(threading.Thread(target=come, args=(number,)))
            threads[-1].start()
            time.sleep(0.005)  # so that they come one after the other
    for thread in threads:
        thread.join(timeout=10)
    assert served == list(range(20))


def test_nobody_is_kept_out_by_those_who_come_again_and_again() -> None:
    lock, until = FairLock(), time.monotonic() + 0.5
    turns = [0] * 8

    def work(station: int) -> None:
        while time.monotonic() < until:
            with lock.turn():
                turns[station] += 1
                time.sleep(0.0005)

    threads = [threading.Thread(target=work, args=(station,)) for station in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=10)
    assert min(turns) * 2 > max(turns)


def test_a_turn_that_fails_is_passed_on() -> None:
    lock = FairLock()
    with pytest.raises(OSError, match="full"):
        fail(lock)
    served = threading.Event()
    waiting = threading.Thread(target=lambda: served.set() if lock.turn().__enter__() is None else None, daemon=True)
    waiting.start()
    assert served.wait(timeout=5)


def fail(lock: FairLock) -> None:
    with lock.turn():
        raise OSError("the disk is full")

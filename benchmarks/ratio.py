"""Two ways of doing the same work, timed turn by turn in one run: a ratio survives a noisy machine, an absolute figure does not.

Used by the other benchmarks: `ratio = compare("expansion", ours, "dateutil.rrule", theirs)`, `grow("expansion", make, (10, 100, 1000))`.
"""

import gc
import statistics
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from time import perf_counter, process_time

__all__ = ["Ratio", "compare", "grow", "process_time", "seconds"]

Work = Callable[[], object]
Clock = Callable[[], float]


@dataclass(frozen=True, slots=True)
class Ratio:
    """`times`: how many times faster the first is (median over turns); `spread` is the middle half of
    the ratios; seconds are medians for one call."""

    times: float
    ours: float
    theirs: float
    spread: tuple[float, float]
    turns: int


def compare(name: str, ours: Work, other: str, theirs: Work, turns: int = 21, *, clock: Clock = perf_counter) -> Ratio:  # noqa: PLR0913
    """Time both in turn, print one line, give the ratio. Each is called once before, so that caches are as warm as in use.

    `clock=process_time` counts what this process had of a core: for work that waits for nothing, other processes matter less to it.
    """
    ours(), theirs()
    pairs = [_turn(ours, theirs, clock) if turn % 2 else _turn(theirs, ours, clock)[::-1] for turn in range(turns)]
    ratios = sorted(slow / fast for fast, slow in pairs)
    found = Ratio(
        statistics.median(ratios),
        statistics.median(fast for fast, _ in pairs),
        statistics.median(slow for _, slow in pairs),
        (ratios[len(ratios) // 4], ratios[3 * len(ratios) // 4]),
        turns,
    )
    low, high = found.spread
    print(f"{name}: {_ms(found.ours)}; {other}: {_ms(found.theirs)}; ratio {found.times:.1f} (middle half {low:.1f} to {high:.1f})")
    return found


def grow(name: str, make: Callable[[int], Work], sizes: Sequence[int], turns: int = 7) -> dict[int, float]:
    """Seconds per item at each size, median over turns; prints one line a size. Equal figures mean linear growth."""
    found: dict[int, float] = {}
    for size in sizes:
        work = make(size)
        work()
        taken = statistics.median(seconds(work) for _ in range(turns))
        found[size] = taken / size
        print(f"{name}, {size:>6}: {_ms(taken)} in all, {taken / size * 1e6:.1f} µs each")
    return found


def seconds(work: Work, clock: Clock = perf_counter) -> float:
    """How long one call takes. The collector is off meanwhile: its pauses fall on whoever happens to run."""
    gc.disable()
    try:
        began = clock()
        work()
        return clock() - began
    finally:
        gc.enable()


def _turn(first: Work, second: Work, clock: Clock) -> tuple[float, float]:
    return seconds(first, clock), seconds(second, clock)


def _ms(taken: float) -> str:
    return f"{taken * 1e3:.2f} ms"

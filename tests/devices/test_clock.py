"""The clocks: each tells a moment with a zone, and stays what it says it is."""

from datetime import UTC, datetime, timedelta, timezone

import pytest

from dosewright.devices.clock import FixedClock, MovedClock, SystemClock

NOON = datetime(2026, 3, 2, 12, 0, tzinfo=UTC)


def test_the_machine_s_clock_goes_forwards_and_has_a_zone() -> None:
    clock = SystemClock()
    first, second = clock.now(), clock.now()
    assert first.tzinfo is UTC
    assert first <= second


def test_a_fixed_clock_stands_until_it_is_moved() -> None:
    clock = FixedClock(NOON)
    assert clock.now() == clock.now() == NOON
    clock.advance(timedelta(minutes=-5))
    assert clock.now() == NOON - timedelta(minutes=5)


def test_a_fixed_clock_refuses_a_moment_without_a_zone() -> None:
    with pytest.raises(ValueError, match="zone"):
        FixedClock(NOON.replace(tzinfo=None))


@pytest.mark.parametrize("days", [0, -270, 1])
def test_a_moved_clock_keeps_the_time_of_day_and_the_zone(days: int) -> None:
    zone = timezone(timedelta(hours=1))
    moved = MovedClock(FixedClock(NOON.astimezone(zone)), days).now()
    assert moved == NOON + timedelta(days=days)
    assert moved.tzinfo is zone
    assert moved.timetz() == NOON.astimezone(zone).timetz()

"""The fixtures of the bench."""

from tests.bench_fixtures import guarded, many_stations

__all__ = ["guarded", "many_stations"]

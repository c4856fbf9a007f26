"""Why a dosing time lies in more columns than it needs: one person and the request in, notes out.

It never costs a card (`lay_out_columns`). A medicine keeps its column from week to week, or a column otherwise empty keeps look-alikes
apart and cavities from being crowded. Rolls have no columns to spare.
"""

from collections.abc import Iterator, Sequence

from dosewright.core.packing.columns import LoadColumns, solve_load
from dosewright.core.packing.free_columns import harm_of
from dosewright.core.packing.load import Load
from dosewright.core.packing.person_plan import lay_out_columns
from dosewright.core.packing.person_weeks import PersonWeeks
from dosewright.core.units.finding import Finding

__all__ = ["why_spread"]


def why_spread(mine: PersonWeeks, loads: Sequence[Load]) -> Iterator[Finding]:
    """A note for each dosing time that uses a column more than it needs in its fullest week. `loads` are all that the person has."""
    request = mine.request
    if request.format.roll or not loads:
        return
    solved = [solve_load(load, mine.weeks, request, request.places.get(mine.person.id, {})) for load in loads]
    for alone, settled, used in zip(solved, *lay_out_columns(solved, mine.person, request), strict=True):
        yield from _why(alone, settled, used, mine)


def _why(alone: LoadColumns, settled: LoadColumns, used: LoadColumns, mine: PersonWeeks) -> Iterator[Finding]:
    fewest = max(len(week.columns) for week in alone.weekly)
    kept, columns = (max(len(week.columns) for week in one.kept) for one in (settled, used))
    if kept > fewest:
        yield mine.note("explain.spread-places", alone.load, columns=kept, fewest=fewest)
    if columns > kept:
        before, after = harm_of(settled), harm_of(used)
        code = "explain.spread-alike" if after.alike < before.alike else "explain.spread-crowded"
        were, now = (before.alike, after.alike) if after.alike < before.alike else (before.crowded, after.crowded)
        yield mine.note(code, alone.load, columns=columns, fewest=kept, were=were, now=now)

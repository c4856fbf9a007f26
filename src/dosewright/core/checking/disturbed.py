"""The check of a card that was put right: every cavity that was opened is counted medicine by medicine, those that stayed closed by number.

The checker writes how much of each medicine lies there, the stopped one too: 0 must be said, not left out.
"""

from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction

from dosewright.core.checking.filled import FilledCard, FilledCavity
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import MedicineCode

__all__ = ["ByMedicine", "check_disturbed"]

ByMedicine = Mapping[tuple[int, int], Mapping[MedicineCode, Fraction]]


def check_disturbed(card: FilledCard, opened: Iterable[tuple[int, int]], counts: ByMedicine) -> tuple[Finding, ...]:
    """Find every opened cavity that was not counted so, and each medicine of which something else was counted than the orders put there.
    A cavity that is to be empty now has no place in the plan: everything counted in it is too much."""
    known = {(cavity.row, cavity.column): cavity for cavity in card.cavities}
    return tuple(found for spot in sorted(opened) for found in _check(card, spot, known.get(spot), counts.get(spot)))


def _check(
    card: FilledCard, spot: tuple[int, int], cavity: FilledCavity | None, counted: Mapping[MedicineCode, Fraction] | None
) -> Iterator[Finding]:
    nowhere: dict[str, Fact] = {"card": card.number, "row": spot[0], "column": spot[1], "date": "", "slot": "to be empty"}
    where = cavity.address if cavity else nowhere
    if counted is None:
        yield Finding("change.disturbed-not-counted", Severity.STOP, where)
        return
    wanted: dict[MedicineCode, Fraction] = {}
    for medicine, amount in cavity.wanted.values() if cavity else ():
        wanted[medicine] = wanted.get(medicine, Fraction(0)) + amount
    for medicine in sorted(wanted.keys() | counted.keys()):
        expected = wanted.get(medicine, Fraction(0))
        if medicine not in counted or counted[medicine] != expected:
            facts: dict[str, Fact] = {"medicine": medicine, "expected": expected, "counted": counted.get(medicine)}
            yield Finding("change.disturbed-differs", Severity.STOP, where, facts)

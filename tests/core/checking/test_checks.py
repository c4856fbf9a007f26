"""What is found in a filled card: wrong cells (R2, R3), late doses (R5), other counts, the same hands (R8), what keeps it here."""

from datetime import date, timedelta
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.core.card_maker import BISOPROLOL, CARD, MONDAY, NINE, RX1, RX2, card, filled, right_units, swapped

from dosewright.core.checking.counts import check_counts
from dosewright.core.checking.filled import FilledCard
from dosewright.core.checking.filling import check_filling
from dosewright.core.checking.last_days import check_last_days
from dosewright.core.checking.release import check_release
from dosewright.core.checking.same_hands import PAUSE, Alone, check_same_hands
from dosewright.core.checking.still_open import still_open
from dosewright.core.supply.placement import Cell, Placed
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import Lot, MedicineCode

UNITS = right_units(card())
HALF = Fraction(1, 2)


def codes(findings: tuple[Finding, ...]) -> list[str]:
    return [finding.code for finding in findings]


def places(findings: tuple[Finding, ...]) -> list[tuple[object, object]]:
    return [(finding.where["row"], finding.where["column"]) for finding in findings]


def test_a_card_filled_right_has_no_findings() -> None:
    assert check_filling(filled()) == check_last_days(filled()) == check_release(filled(), MONDAY) == ()


WRONG = [
    pytest.param(UNITS[1:], ["checking.cell-differs"], [(1, 1)], id="R2 R3 a unit is missing"),
    pytest.param(swapped(UNITS, 2, amount=Fraction(2)), ["checking.cell-differs"], [(1, 2)], id="one too many"),
    pytest.param(swapped(UNITS, 1, amount=Fraction(1)), ["checking.cell-differs"], [(1, 1)], id="a whole one for a half"),
    pytest.param((*UNITS, UNITS[0]), ["checking.cell-differs"], [(1, 1)], id="laid twice"),
    pytest.param(swapped(UNITS, 0, medicine=MedicineCode("bisoprolol-10")), ["checking.not-in-plan"], [(1, 1)], id="wrong strength"),
    pytest.param(
        (*UNITS, Placed(Cell(CARD, 1, 2, RX1), BISOPROLOL, Lot("A"), date(2027, 1, 1), Fraction(1))),
        ["checking.not-in-plan"],
        [(1, 2)],
        id="R2 what no order puts there",
    ),
    pytest.param(
        (*UNITS, Placed(Cell(CARD, 7, 4, RX1), BISOPROLOL, Lot("A"), date(2027, 1, 1), Fraction(1))),
        ["checking.no-such-cavity"],
        [(7, 4)],
        id="in a cavity that the plan leaves empty",
    ),
]


@pytest.mark.parametrize(("units", "expected", "where"), WRONG)
def test_every_cell_that_differs_from_the_plan_is_found(
    units: tuple[Placed, ...], expected: list[str], where: list[tuple[int, int]]
) -> None:
    found = check_filling(filled(units))
    assert (codes(found), places(found)) == (expected, where)
    assert codes(check_release(filled(units), MONDAY))[:1] == expected


LAST = MONDAY + timedelta(days=2)
LATE = [
    pytest.param(LAST, LAST, [], id="both end on the last day itself"),
    pytest.param(LAST - timedelta(days=1), LAST, ["checking.after-beyond-use"] * 2, id="R5 the card ends a day too soon"),
    pytest.param(
        LAST, LAST - timedelta(days=1), ["checking.expiry-before-beyond-use"] * 6 + ["checking.after-expiry"] * 3, id="R5 the lot"
    ),
]


@pytest.mark.parametrize(("beyond_use", "expiry", "expected"), LATE)
def test_r5_no_dose_lies_after_its_last_day(beyond_use: date, expiry: date, expected: list[str]) -> None:
    planned = card(beyond_use=beyond_use)
    assert codes(check_last_days(filled(right_units(planned, expiry=expiry), planned))) == expected


@given(days=st.integers(-5, 5), lot_days=st.integers(-5, 5))
def test_r5_a_dose_is_late_exactly_when_its_day_is_after_one_of_its_limits(days: int, lot_days: int) -> None:
    planned = card(beyond_use=LAST + timedelta(days=days))
    found = codes(check_last_days(filled(right_units(planned, expiry=LAST + timedelta(days=lot_days)), planned)))
    assert ("checking.after-beyond-use" in found) is (days < 0)
    assert ("checking.after-expiry" in found) is (lot_days < 0)
    assert bool(found) is (days < 0 or lot_days < 0 or lot_days < days)


def test_a_card_past_its_own_last_day_does_not_leave() -> None:
    assert codes(check_release(filled(), date(2026, 4, 28))) == ["checking.card-past"]
    assert check_release(filled(), date(2026, 4, 27)) == ()


def counted(of: FilledCard) -> dict[tuple[int, int], Fraction]:
    return {(cavity.row, cavity.column): cavity.asked for cavity in of.cavities}


def test_the_right_counts_have_no_findings_whatever_lies_in_the_card() -> None:
    assert check_counts(filled(), counted(filled())) == ()
    assert check_counts(filled(()), counted(filled())) == ()  # the orders are the measure, not the filler's ticks


@given(st.integers(1, 3), st.integers(1, 2), st.sampled_from([Fraction(0), HALF, Fraction(2), Fraction(3)]))
def test_a_count_that_differs_is_found_in_its_cavity(row: int, column: int, amount: Fraction) -> None:
    found = check_counts(filled(), counted(filled()) | {(row, column): amount})
    assert (codes(found), places(found)) == (["checking.count-differs"], [(row, column)])


def test_a_cavity_that_was_not_counted_is_found() -> None:
    counts = counted(filled())
    del counts[2, 1]
    assert [(f.code, f.where["row"], f.where["column"]) for f in check_counts(filled(), counts)] == [("checking.not-counted", 2, 1)]


def test_something_in_a_cavity_that_should_be_empty_is_found() -> None:
    assert codes(check_counts(filled(), counted(filled()) | {(5, 1): Fraction(1)})) == ["checking.should-be-empty"]
    assert check_counts(filled(), counted(filled()) | {(5, 1): Fraction(0)}) == ()


def alone(*, allowed: bool = True, reason: str = "nobody else is here today", waited: timedelta = PAUSE) -> Alone:
    return Alone(allowed, reason, NINE, NINE + waited)


HANDS = [
    pytest.param("checker one", alone(allowed=False), [], id="somebody else"),
    pytest.param("technician one", alone(allowed=False), ["checking.same-hands"], id="R8 the filler"),
    pytest.param("technician two", alone(allowed=False), ["checking.same-hands"], id="R8 one of several fillers"),
    pytest.param("technician one", alone(), ["checking.alone"], id="alone, allowed, with reason and pause"),
    pytest.param("technician one", alone(reason=" "), ["checking.alone-needs-reason", "checking.alone"], id="alone without a reason"),
    pytest.param(
        "technician one", alone(waited=PAUSE - timedelta(seconds=1)), ["checking.alone-needs-pause", "checking.alone"], id="alone too soon"
    ),
]


@pytest.mark.parametrize(("checker", "how", "expected"), HANDS)
def test_r8_the_checker_is_not_the_filler(checker: str, how: Alone, expected: list[str]) -> None:
    assert codes(check_same_hands(frozenset({"technician one", "technician two"}), checker, how)) == expected


def test_what_is_still_open_is_what_is_asked_less_what_lies_there() -> None:
    open_now = still_open([filled(UNITS[:2])], MedicineCode("metformin-500"))
    assert {(cell.row, cell.column): asked.amount for cell, asked in open_now.items()} == {
        (1, 2): 1,
        (2, 1): HALF,
        (2, 2): 1,
        (3, 1): HALF,
        (3, 2): 1,
    }
    assert {cell.order for cell in open_now} == {RX2}
    assert list(open_now) == sorted(open_now)

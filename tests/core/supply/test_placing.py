"""R5, R7, R11 where units are laid down: which cells, out of which lot, and what moves."""

from datetime import date, timedelta
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosewright.core.supply.lots import Stock
from dosewright.core.supply.movement import Batch, MovementKind
from dosewright.core.supply.placement import Cell
from dosewright.core.supply.placing import OpenCell, check_placing, first_cells, placing_movements
from dosewright.core.supply.scanning import Proof, check_proof
from dosewright.core.units.ids import CardNumber, Gtin, Lot, MedicineCode, OrderId

MONDAY, BEYOND_USE, EXPIRY = date(2026, 3, 2), date(2026, 4, 27), date(2026, 4, 27)
HALF = Fraction(1, 2)
METFORMIN = MedicineCode("metformin")


def cell(row: int, card: str = "1") -> Cell:
    return Cell(CardNumber(card), row, 1, OrderId("RX"))


def week(amount: Fraction = HALF, beyond_use: date = BEYOND_USE) -> dict[Cell, OpenCell]:
    return {cell(row): OpenCell(amount, MONDAY + timedelta(days=row - 1), beyond_use) for row in range(1, 8)}


def lot(amount: int = 100, expiry: date = EXPIRY) -> Stock:
    return Stock(Batch(expiry, Lot("A"), METFORMIN), Fraction(amount))


def found(cells: dict[Cell, Fraction], stock: Stock, still: dict[Cell, OpenCell] | None = None) -> set[str]:
    return {finding.code for finding in check_placing(cells, still or week(), stock, stock.batch.expiry)}


ALL = dict.fromkeys(week(), HALF)


def test_a_week_of_halves_out_of_a_lot_that_lasts_has_no_findings() -> None:
    assert found(ALL, lot()) == set()


CASES = [
    pytest.param({}, lot(), {"supply.nothing-to-place"}, id="nothing"),
    pytest.param({cell(1): Fraction(1)}, lot(), {"supply.cell-full"}, id="more than is asked"),
    pytest.param({cell(8): HALF}, lot(), {"supply.cell-full"}, id="a cell that asks for nothing, or that somebody filled"),
    pytest.param({cell(1, "2"): HALF}, lot(), {"supply.cell-full"}, id="another card's cell"),
    pytest.param({cell(1): Fraction(0)}, lot(), {"supply.cell-full"}, id="an amount of nothing"),
    pytest.param(ALL, lot(3), {"supply.not-enough"}, id="seven halves take four whole ones"),
    pytest.param({cell(7): HALF}, lot(expiry=date(2026, 3, 7)), {"checking.after-expiry"}, id="R5 the lot ends the day before"),
    pytest.param(ALL, lot(expiry=date(2026, 4, 26)), {"checking.expiry-before-beyond-use"}, id="R5 the label promises a later day"),
]


@pytest.mark.parametrize(("cells", "stock", "expected"), CASES)
def test_what_may_not_be_laid_is_found(cells: dict[Cell, Fraction], stock: Stock, expected: set[str]) -> None:
    assert found(cells, stock) == expected


def test_an_expiry_other_than_the_lots_is_found() -> None:
    assert [f.code for f in check_placing(ALL, week(), lot(), date(2027, 1, 31))] == ["supply.lot-expiry-clash"]


@given(st.integers(0, 20))
def test_so_many_units_fill_the_first_cells_whole_and_no_more(units: int) -> None:
    chosen = first_cells(week(Fraction(2)), Fraction(units))
    assert list(chosen) == list(week())[: min(7, units // 2)]


@given(
    st.dictionaries(
        st.builds(cell, st.integers(1, 7), st.sampled_from(["1", "2"])), st.sampled_from([HALF, Fraction(1), Fraction(3, 2)]), min_size=1
    )
)
def test_what_leaves_the_bottle_is_whole_and_all_of_it_is_in_a_card_or_waste(cells: dict[Cell, Fraction]) -> None:
    moves = placing_movements(cells, lot().batch)
    placed = [move for move in moves if move.kind is MovementKind.PLACED]
    wasted = [move for move in moves if move.kind is MovementKind.SPOILED]
    assert {move.card: move.amount for move in placed} == {
        card: sum(amount for one, amount in cells.items() if one.card == card) for card in {one.card for one in cells}
    }
    assert sum(move.amount for move in moves).denominator == 1
    assert sum(move.amount for move in wasted) < 1


GTIN = Gtin("06291041500213")
PROOFS = [
    pytest.param(Proof(GTIN, METFORMIN), set(), id="the right product, scanned"),
    pytest.param(Proof(reason="the code is torn"), set(), id="no scan, but a reason"),
    pytest.param(Proof(), {"supply.no-scan"}, id="R7 no scan and no reason"),
    pytest.param(Proof(reason="  "), {"supply.no-scan"}, id="R7 a blank reason is none"),
    pytest.param(Proof(GTIN, MedicineCode("metoprolol")), {"supply.wrong-product"}, id="R7 another product"),
    pytest.param(Proof(GTIN, MedicineCode("metoprolol"), reason="I am sure"), {"supply.wrong-product"}, id="R7 no reason mends that"),
    pytest.param(Proof(GTIN, None), {"supply.unknown-code"}, id="a code that nobody knows"),
    pytest.param(Proof(GTIN, METFORMIN, scanned_lot=Lot("B")), {"supply.lot-differs"}, id="the code names another lot"),
    pytest.param(Proof(GTIN, METFORMIN, scanned_expiry=date(2027, 1, 1)), {"supply.expiry-differs"}, id="the code names another day"),
]


@pytest.mark.parametrize(("proof", "expected"), PROOFS)
def test_r7_nothing_counts_as_placed_without_a_matching_scan_or_a_reason(proof: Proof, expected: set[str]) -> None:
    assert {finding.code for finding in check_proof(proof, METFORMIN, Lot("A"), EXPIRY)} == expected


def test_a_lot_is_no_longer_than_the_standard_lets_it_be() -> None:
    assert check_proof(Proof(GTIN, METFORMIN), METFORMIN, Lot("A" * 20), EXPIRY) == ()
    assert [finding.code for finding in check_proof(Proof(GTIN, METFORMIN), METFORMIN, Lot("A" * 21), EXPIRY)] == ["supply.lot-too-long"]


def test_r7_a_lot_goes_with_every_placement() -> None:
    assert [finding.code for finding in check_proof(Proof(GTIN, METFORMIN), METFORMIN, Lot(" "), EXPIRY)] == ["supply.no-lot"]

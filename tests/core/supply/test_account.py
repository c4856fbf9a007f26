"""R11: units are conserved: received = in stock + in cards + given + returned + waste, per lot, at every moment."""

from collections import Counter
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from dosewright.core.supply.account import LotKey, accounts, check_accounts
from dosewright.core.supply.movement import ROUTES, Movement, MovementKind, Place
from dosewright.core.units.ids import CardNumber, Lot, MedicineCode

AMOUNTS = st.sampled_from([Fraction(1, 2), Fraction(1), Fraction(7), Fraction(1, 3)])
HERE = (Place.STOCK, Place.CARD, Place.GIVEN, Place.RETURNED, Place.WASTE)


def move(kind: MovementKind, amount: Fraction | int, lot: str = "A") -> Movement:
    card = CardNumber("1") if Place.CARD in ROUTES[kind] else None
    return Movement(kind, MedicineCode("m"), Lot(lot), Fraction(amount), card)


MOVES = st.lists(st.builds(move, st.sampled_from(MovementKind), AMOUNTS, st.sampled_from(["A", "B"])))


@given(MOVES)
def test_whatever_moves_received_is_what_lies_somewhere(moves: list[Movement]) -> None:
    for account in accounts(moves).values():
        assert account.received == sum(account.at(place) for place in HERE)


@given(MOVES)
def test_received_is_exactly_what_came_in(moves: list[Movement]) -> None:
    came: Counter[LotKey] = Counter()
    for movement in moves:
        if movement.kind is MovementKind.RECEIVED:
            came[movement.medicine, movement.lot] += movement.amount  # type: ignore[assignment]
    assert {key: account.received for key, account in accounts(moves).items() if account.received} == dict(came)


KEY: LotKey = (MedicineCode("m"), Lot("A"))
MOVED = [move(MovementKind.RECEIVED, 100), move(MovementKind.PLACED, 21), move(MovementKind.SPOILED, 1)]


def found(stock: int, cards: int) -> list[tuple[str, object]]:
    return [(f.code, f.facts.get("place")) for f in check_accounts(MOVED, {KEY: Fraction(stock)}, {KEY: Fraction(cards)})]


def test_an_account_that_agrees_with_what_was_counted_has_no_findings() -> None:
    assert found(78, 21) == []


def test_units_that_are_lost_or_found_are_a_stop() -> None:
    assert found(77, 21) == [("supply.account-differs", "in stock")]
    assert found(78, 22) == [("supply.account-differs", "in cards")]


def test_units_that_never_came_in_are_a_stop() -> None:
    findings = check_accounts([move(MovementKind.PLACED, 3)], {KEY: Fraction(-3)}, {KEY: Fraction(3)})
    assert [finding.code for finding in findings] == ["supply.less-than-nothing"]


def test_a_lot_that_only_a_count_knows_is_a_stop() -> None:
    assert [f.code for f in check_accounts([], {KEY: Fraction(4)}, {})] == ["supply.account-differs"]

"""Card numbers say nothing, are always the same, and show every slip of the finger."""

from hypothesis import given
from hypothesis import strategies as st

from dosewright.core.packing.card_number import check_digit, format_card_number, make_card_number, right_card_number

numbers = st.text(min_size=1).map(lambda text: make_card_number("salt", text))


@given(numbers, st.integers(0, 14), st.integers(1, 9))
def test_every_wrong_digit_is_found(number: str, place: int, more: int) -> None:
    wrong = number[:place] + str((int(number[place]) + more) % 10) + number[place + 1 :]
    assert right_card_number(number)
    assert not right_card_number(wrong)


def test_every_wrong_digit_and_every_swapped_pair_is_found_after_every_state() -> None:
    """All states, all pairs of digits: the property that the check digit is chosen for."""
    for state in range(10):
        before = next(str(digits) for digits in range(100) if check_digit(str(digits)) == str(state))
        for one in "0123456789":
            for two in "0123456789":
                assert (one == two) == (check_digit(before + one) == check_digit(before + two))
                if one != two:
                    assert check_digit(before + one + two) != check_digit(before + two + one)


@given(st.text(), st.text(), st.text())
def test_the_salt_and_every_part_make_the_number(salt: str, one: str, other: str) -> None:
    number = make_card_number(salt, one, other)
    assert number == make_card_number(salt, one, other)
    assert number != make_card_number(salt + "x", one, other)
    assert number != make_card_number(salt, one, other + "x")


def test_parts_do_not_run_together() -> None:
    assert make_card_number("s", "ab", "c") != make_card_number("s", "a", "bc")


def test_it_is_read_in_three_groups() -> None:
    assert format_card_number(make_card_number("s", "a")) == " ".join(make_card_number("s", "a")[at : at + 5] for at in (0, 5, 10))


def test_what_is_no_number_is_not_right() -> None:
    for text in ("", "123", "1234567890123456", "12345678901234a", "²" * 15):
        assert not right_card_number(text)

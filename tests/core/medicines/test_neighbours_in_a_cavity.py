"""What may lie beside what, and what cannot be told apart by eye."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.core.medicines.shipped_rules import rules
from tests.core.packing.makers import medicine

from dosewright.core.medicines.medicine import Shape, Size
from dosewright.core.medicines.neighbours import PairRule, apart_because, look_alike, look_alikes
from dosewright.core.medicines.suitability import NO_RULES

WHITE = medicine("Alpha", colour="white")
PAIR = PairRule("pair.test", ("alpha",), ("beta",), "react", "test", "2026", "proposal")

ALIKE = [
    pytest.param({}, True, id="CV-2.4 same colour, outline and size, no mark"),
    pytest.param({"mark": "B5"}, True, id="one marked: its blank face may be up"),
    pytest.param({"colour": "White"}, True, id="capitals do not tell apart"),
    pytest.param({"colour": "pink"}, False, id="another colour"),
    pytest.param({"colour": ""}, False, id="colour not known"),
    pytest.param({"shape": Shape.OVAL}, False, id="another outline"),
    pytest.param({"size": Size(Fraction("8.9"), Fraction("8.9"), Fraction(3))}, True, id="less than a millimetre larger"),
    pytest.param({"size": Size(Fraction(9), Fraction(9), Fraction(3))}, False, id="a millimetre larger"),
    pytest.param({"size": None}, False, id="size not known"),
]


@pytest.mark.parametrize(("changes", "expected"), ALIKE)
def test_two_products_look_alike_when_nothing_tells_them_apart(changes: dict[str, object], *, expected: bool) -> None:
    other = replace(medicine("Beta", colour="white"), **changes)  # type: ignore[arg-type]
    assert look_alike(WHITE, other) is expected


def test_two_different_marks_tell_them_apart() -> None:
    assert not look_alike(replace(WHITE, mark="A5"), medicine("Beta", colour="white", mark="B5"))


def test_a_product_does_not_look_like_itself() -> None:
    assert look_alikes([WHITE, WHITE]) == ()


def test_what_must_lie_alone_lies_with_nothing() -> None:
    lonely = medicine("Alpha", flags=frozenset({"alone"}))
    assert apart_because(lonely, medicine("Beta"), (), NO_RULES) == apart_because(medicine("Beta"), lonely, (), NO_RULES) == "alone"
    assert apart_because(lonely, lonely, (), NO_RULES) is None


def test_hazardous_lies_with_hazardous_only() -> None:
    """By flag or by a rule about the name."""
    flagged, named, plain = medicine("Alpha", flags=frozenset({"hazardous"})), medicine("Methotrexate"), medicine("Beta")
    assert apart_because(flagged, plain, (), rules()) == apart_because(plain, named, (), rules()) == "hazardous"
    assert apart_because(flagged, named, (), rules()) is None


def test_a_forbidden_pair_is_forbidden_both_ways() -> None:
    assert apart_because(medicine("Alpha"), medicine("Beta"), (PAIR,), NO_RULES) == "pair.test"
    assert apart_because(medicine("Beta"), medicine("Alpha"), (PAIR,), NO_RULES) == "pair.test"
    assert apart_because(medicine("Alpha"), medicine("Gamma"), (PAIR,), NO_RULES) is None


@given(st.sampled_from(["alone", "hazardous", "light", ""]), st.sampled_from(["alone", "hazardous", "moisture", ""]))
def test_keeping_apart_is_mutual(one: str, other: str) -> None:
    first, second = (medicine(name, flags=frozenset({flag} - {""})) for name, flag in (("Alpha", one), ("Beta", other)))
    assert apart_because(first, second, (), rules()) == apart_because(second, first, (), rules())

"""Strict JSON: exact numbers, one place for every fault, and never anything but a value or a JsonError."""

import json
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosewright.core.interop.json_text import DEEPEST, JsonError, JsonValue, format_json, parse_json

texts = st.text(st.characters(exclude_categories=["Cs"]))
leaves = (
    st.none()
    | st.booleans()
    | st.integers(-(10**30), 10**30)
    | st.decimals(allow_nan=False, allow_infinity=False, places=6, min_value=-(10**12), max_value=10**12)
    | texts
)
values = st.recursive(leaves, lambda inner: st.lists(inner, max_size=4) | st.dictionaries(texts, inner, max_size=4), max_leaves=25)


@given(values)
def test_what_is_written_is_read_back(value: JsonValue) -> None:
    assert parse_json(format_json(value)) == value


@given(st.text(alphabet='{}[],:"\\0123456789.eE+-truefalsnNI \n\u2028é', max_size=60))
def test_any_text_is_a_value_or_one_sentence_with_its_place(text: str) -> None:
    """Where we take a text, so does the standard library, and the value is the same."""
    found = parsed_or_fault(text)
    if isinstance(found, JsonError):
        assert min(found.line, found.column) >= 1
        assert found.reason
    else:
        assert found == json.loads(text, parse_float=Decimal)


def parsed_or_fault(text: str) -> JsonValue | JsonError:
    try:
        return parse_json(text)
    except JsonError as error:
        return error


FAULTS = [
    pytest.param('{"a": 1,\n "a": 2}', 2, 2, 'the key "a" stands twice', id="a key twice"),
    pytest.param('{"b": [{"c": 1, "c": 2}]}', 1, 17, 'the key "c" stands twice', id="deep inside"),
    pytest.param('{"\\u0061": 1, "a": 2}', 1, 15, 'the key "a" stands twice', id="the same key spelt in two ways"),
    pytest.param("[1, NaN]", 1, 5, "NaN is not a number", id="NaN"),
    pytest.param("[-Infinity]", 1, 2, "-Infinity is not a number", id="Infinity"),
    pytest.param("[1e999999999]", 1, 2, "more digits", id="an exponent that fills the memory"),
    pytest.param("[" + "9" * 5000 + "]", 1, 2, "more digits", id="a number of five thousand digits"),
    pytest.param('["\\ud800"]', 1, 2, "half of a character", id="half of a surrogate pair"),
    pytest.param("[" * 100_000, 1, DEEPEST + 1, "levels deep", id="a hundred thousand brackets"),
    pytest.param('{"a": ', 1, 7, "ends before", id="cut off"),
    pytest.param("", 1, 1, "ends before", id="nothing"),
    pytest.param("[1] [2]", 1, 5, "not JSON", id="two values"),
    pytest.param("[01]", 1, 3, "not JSON", id="a leading zero"),
    pytest.param("{'a': 1}", 1, 2, "not JSON", id="single quotes"),
]


@pytest.mark.parametrize(("text", "line", "column", "reason"), FAULTS)
def test_a_fault_is_named_with_its_line_and_column(text: str, line: int, column: int, reason: str) -> None:
    with pytest.raises(JsonError) as stopped:
        parse_json(text)
    assert (stopped.value.line, stopped.value.column) == (line, column)
    assert reason in stopped.value.reason


def test_a_number_keeps_its_digits_and_is_never_a_float() -> None:
    assert str(parse_json("0.10")) == "0.10"
    assert isinstance(parse_json("1e2"), Decimal)
    with pytest.raises(TypeError):
        format_json(0.5)  # type: ignore[arg-type]


def test_the_same_key_in_different_objects_is_no_fault() -> None:
    assert parse_json('[{"a": 1}, {"a": {"a": 2}}]') == [{"a": 1}, {"a": {"a": 2}}]

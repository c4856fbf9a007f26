"""Values are kept as canonical JSON: read back equal, written with the same bytes, and nothing else is read."""

import json
from dataclasses import dataclass
from datetime import UTC, date, datetime, time
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dosewright.core.custody.event import Role
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import Lot, OrderId, SlotName
from dosewright.store.value_json import format_value, parse_value


@dataclass(frozen=True, slots=True)
class Sample:
    """One of each kind that core keeps."""

    name: OrderId
    role: Role
    amount: Fraction
    day: date | None
    moment: datetime | None
    clock: time
    lots: tuple[Lot, ...]
    pair: tuple[str, int]
    flags: frozenset[str]
    often: dict[int, tuple[SlotName, ...]]
    places: dict[tuple[str, str], int]


SAMPLES = st.builds(
    Sample,
    st.text().map(OrderId),
    st.sampled_from(Role),
    st.fractions(),
    st.none() | st.dates(),
    st.none() | st.datetimes(timezones=st.just(UTC)),
    st.times(),
    st.lists(st.text().map(Lot)).map(tuple),
    st.tuples(st.text(), st.integers()),
    st.frozensets(st.text()),
    st.dictionaries(st.integers(), st.lists(st.text().map(SlotName)).map(tuple), max_size=3),
    st.dictionaries(st.tuples(st.text(), st.text()), st.integers(), max_size=3),
)


@given(SAMPLES)
def test_a_value_is_read_back_equal_and_written_with_the_same_bytes(sample: Sample) -> None:
    text = format_value(sample)
    back = parse_value(Sample, text)
    assert back == sample
    assert format_value(back) == text


FACTS: st.SearchStrategy[Fact] = (
    st.none() | st.booleans() | st.integers() | st.text() | st.fractions() | st.dates() | st.times() | st.lists(st.text()).map(tuple)
)


@given(st.dictionaries(st.text(), FACTS), st.sampled_from(Severity))
def test_findings_keep_the_kind_of_every_fact(facts: dict[str, Fact], severity: Severity) -> None:
    finding = Finding("room.code", severity, {"card": "1"}, facts)
    back = parse_value(Finding, format_value(finding))
    assert back == finding
    assert {name: type(value) for name, value in back.facts.items()} == {name: type(value) for name, value in facts.items()}


def test_no_float_is_ever_kept_or_read() -> None:
    with pytest.raises(TypeError):
        format_value({"amount": 0.5})
    with pytest.raises(ValueError, match="float"):
        parse_value(dict[str, Fact], '{"amount": 0.5}')


WRONG = [
    pytest.param("{", id="no JSON"),
    pytest.param("[]", id="another shape"),
    pytest.param('{"name": "x"}', id="fields missing"),
    pytest.param('{"colour": "red"}', id="a field that is not known"),
]


@pytest.mark.parametrize("text", WRONG)
def test_what_does_not_fit_the_type_is_not_read(text: str) -> None:
    with pytest.raises(ValueError):  # noqa: PT011  JSON's own errors are ValueErrors too
        parse_value(Sample, text)


@given(SAMPLES, st.sampled_from(["name", "role", "amount", "clock", "lots", "pair", "flags"]))
def test_a_field_of_another_kind_is_not_read(sample: Sample, field: str) -> None:
    plain = json.loads(format_value(sample))
    plain[field] = {"strange": 1}
    with pytest.raises(ValueError):  # noqa: PT011
        parse_value(Sample, json.dumps(plain))

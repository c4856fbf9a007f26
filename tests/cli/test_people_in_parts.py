"""A large orders file read some people at a time: the same as at once, or not read in parts at all."""

from collections.abc import Iterator
from dataclasses import astuple
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.cli.home_makers import HEAD, MANY, arguments, made, orders, plan_through
from tests.core.interop.interop_makers import source

from dosewright.cli import files, people_in_parts, plan_homes, plan_input
from dosewright.cli import plan as plan_command
from dosewright.cli.files import Unreadable
from dosewright.cli.through import InThisProcess
from dosewright.cli.waiting import unpack
from dosewright.core.interop.csv_text import CsvError
from dosewright.core.interop.order_csv import parse_orders
from dosewright.core.interop.order_parts import NotByPerson, read_parts
from dosewright.core.interop.orders_in import OrdersIn

# Something to find of every kind: a line of treatment, one that cannot be followed, one medicine twice, people who differ, bad fields.
AWKWARD = """\
p0,Ann,1950-01-01,,,n1,biso5,Take one tablet in the morning,2026-03-02,,,
p0,Ann,1950-01-01,,,n1,biso5,Take two tablets in the morning,2026-03-09,,,
p0,Ann,1950-01-01,,,n2,biso5,Take one tablet at bedtime,2026-03-02,,,
p1,Ben,,,,n3,los50,Take one tablet in the morning,2026-03-02,,,
p1,Benjamin,,,,n4,thyr,Take one tablet in the morning,2026-03-02,,,
p2,Cleo,,,,n5,nothing,Take one tablet in the morning,2026-13-02,,,
,Nobody,,,,n6,los50,Take one tablet in the morning,2026-03-02,,,
p3,Dora,,,,n7,los50,as the doctor said,2026-03-02,,,
p3,Dora,,,,n7,thyr,Take one tablet in the morning,2026-03-03,,,
p4,Emil with a very long name indeed,,,,n8,los50,"Take one tablet
in the morning",2026-03-02,2026-03-01,,
p5,Finn,,,,n9,los50,Take one tablet twice a day,,,,
"""


def text_of(rows: str) -> str:
    return f"{HEAD}\n{rows}"


def in_parts(text: str, size: int) -> OrdersIn:
    """As `parse_orders` puts it."""
    read = list(read_parts(text.splitlines(keepends=True), source("orders.csv"), size))
    kinds = ([found for one in read for found in getattr(one, kind)] for kind in ("by_row", "by_line", "by_medicine"))
    return OrdersIn(
        tuple(person for one in read for person in one.people),
        tuple(order for one in read for order in one.received),
        tuple(found for kind in kinds for found in kind),
    )


@pytest.mark.parametrize("size", [1, 2, 3, 100])
def test_parts_give_what_the_whole_file_gives(size: int) -> None:
    at_once = parse_orders(text_of(AWKWARD), source("orders.csv"))
    assert {found.code for found in at_once.findings} > {"order.same-medicine-twice", "person.differs", "order.unknown-medicine"}
    assert astuple(in_parts(text_of(AWKWARD), size))[:3] == astuple(at_once)[:3]


rows = st.tuples(
    st.integers(0, 4),
    st.integers(0, 9),
    st.sampled_from(["biso5", "los50", "thyr", "none"]),
    st.sampled_from(["2026-03-02", "2026-03-05", "x"]),
)


@given(st.lists(rows, max_size=12), st.integers(1, 3), st.sampled_from(["together", "as drawn"]))
def test_a_file_is_read_in_parts_only_where_they_say_all_about_their_people(
    drawn: list[tuple[int, int, str, str]], size: int, order: str
) -> None:
    """Either the parts give the whole file's people, orders and findings, or they are refused; and they are refused only for a reason."""
    drawn = sorted(drawn, key=lambda row: row[0]) if order == "together" else drawn
    text = text_of(
        "".join(f"p{who},P{who},,,,{number},{code},Take one tablet in the morning,{start},,,\n" for who, number, code, start in drawn)
    )
    try:
        found = in_parts(text, size)
    except NotByPerson:
        assert order != "together" or len({row[:2] for row in drawn}) > len({row[1] for row in drawn})
        return
    assert astuple(found)[:3] == astuple(parse_orders(text, source("orders.csv")))[:3]


def both_ways(monkeypatch: pytest.MonkeyPatch, *more: str) -> tuple[dict[str, bytes], dict[str, bytes]]:
    """What the command writes: read in parts, and read as a whole."""
    plan_through(InThisProcess(), "parts", *more, workers=1)
    with monkeypatch.context() as patched:
        patched.setattr(plan_command, "read_in_parts", lambda *_: None)
        plan_through(InThisProcess(), "at-once", *more, workers=1)
    return made("parts"), made("at-once")


@pytest.mark.parametrize(
    "rows_of", [AWKWARD, AWKWARD.replace("p4,Emil", "p0,Emil"), AWKWARD.replace("n9", "n3")], ids=["together", "apart", "shared"]
)
def test_the_command_writes_the_same_however_it_reads(folder: Path, monkeypatch: pytest.MonkeyPatch, rows_of: str) -> None:
    Path("orders.csv").write_text(text_of(rows_of), "utf-8")
    monkeypatch.setattr(plan_homes, "CHUNK", 2)
    parts, at_once = both_ways(monkeypatch, "--explain")
    assert parts == at_once


def test_the_last_cycle_s_places_reach_each_part(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    plan_through(InThisProcess(), "before", workers=1)
    parts, at_once = both_ways(monkeypatch, "--last-cycle", "before/plan.json")
    assert parts == at_once


def test_people_who_wait_are_packed_and_nobody_is_held_besides(folder: Path) -> None:
    found = plan_command._read(arguments("out")).given
    assert found.waiting is not None
    assert not any((found.request.people, found.request.orders, found.orders.received))
    held = [unpack(part) for part in found.waiting.parts]
    assert [len(part.request.people) for part in held] == list(found.waiting.people)
    assert found.people == MANY == sum(found.waiting.people)


@pytest.mark.parametrize("more", [("--shorten",), ("--explain",)], ids=["shortened", "explained"])
def test_only_what_needs_everybody_is_read_as_a_whole(folder: Path, more: tuple[str, ...]) -> None:
    found = plan_command._read(arguments("out", *more)).given
    assert (found.waiting is None) == ("--shorten" in more)


def test_a_file_larger_than_any_other_may_be_is_planned_without_paper(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(files, "LARGEST_INPUT", 4000)
    assert Path("orders.csv").stat().st_size > 4000
    plan_through(InThisProcess(), "out", workers=1)
    with pytest.raises(Unreadable, match=r"orders\.csv is larger than"):
        plan_through(InThisProcess(), "out", "--shorten", workers=1)


def unusable() -> Iterator[tuple[str, bytes]]:
    text = orders().encode()
    yield "two bytes that are no UTF-8", text.replace(b"Person 3", b"Person \xff3")
    yield "a NUL", text.replace(b"Person 3", b"Person \0")
    yield "a row too short", text + b"p9,Person 9\n"
    yield "a bundle", b'  {"resourceType": "Bundle"}'
    yield "nothing", b" \n"


@pytest.mark.parametrize("content", [pytest.param(content, id=what) for what, content in unusable()])
def test_what_cannot_be_read_in_parts_is_left_to_the_whole_reading(folder: Path, content: bytes) -> None:
    Path("orders.csv").write_bytes(content)
    args = arguments("out")
    setting = plan_input.read_setting(args, args.first, args.days, args.profile, args.card_format)
    assert people_in_parts.read_in_parts(args, setting, {}) is None


def test_a_row_that_is_wrong_stops_the_parts_as_it_stops_the_whole() -> None:
    with pytest.raises(CsvError, match="line 3"):
        in_parts(text_of("p0,Ann,,,,1,los50,Take one tablet in the morning,,,,\nshort\n"), 1)

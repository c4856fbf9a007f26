"""The published cases: every line judged as its own file says. Not one may be silently wrong; at least 98 of 100 readable ones are read.

A line is a direction as written, its language and country, and how it must be read. `accept` lists further right outcomes; `per_slot` is
what each day must give, `doses` exactly what 28 days must give, `doses_status` that the text is clear and no dosing time fits.
"""

import json
from collections import defaultdict
from collections.abc import Mapping
from datetime import date, timedelta
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from dosewright.core.regimen.expand import expand
from dosewright.core.regimen.expansion import Expansion, ExpansionStatus
from dosewright.core.regimen.order import Order
from dosewright.core.regimen.reading.read import read
from dosewright.core.regimen.reading.reading_values import Reading, ReadingStatus, Setting
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE
from dosewright.core.units.ids import MedicineCode, OrderId, PersonId

CASES = [json.loads(line) for line in (Path(__file__).parents[3] / "cases" / "directions.jsonl").read_text(encoding="utf-8").splitlines()]
Given = Mapping[tuple[date, str], Fraction]


def read_case(case: Mapping[str, Any]) -> Reading:
    return read(case["text"], Setting(case["lang"], case.get("country") or ""))


def expanded(reading: Reading, case: Mapping[str, Any]) -> Expansion:
    order = Order(OrderId("o"), PersonId("p"), MedicineCode("m"), reading.dosages)
    return expand(
        order, STANDARD_TIMETABLE, date.fromisoformat(case["expect"].get("doses_from", "2026-03-02")), case["expect"].get("days", 28)
    )


def given(expansion: Expansion) -> Given:
    found: dict[tuple[date, str], Fraction] = defaultdict(Fraction)
    for dose in expansion.doses:
        found[dose.day, dose.slot] += dose.quantity.count
    return dict(found)


def expected(expect: Mapping[str, Any]) -> list[Given]:
    if "doses" in expect:
        return [{(date.fromisoformat(d["date"]), d["slot"]): Fraction(d["quantity"]) for d in expect["doses"]}]
    first = date.fromisoformat(expect["doses_from"])
    maps = [expect["per_slot"], *expect.get("alternatives", [])]
    return [{(first + timedelta(n), slot): Fraction(q) for n in range(expect["days"]) for slot, q in one.items()} for one in maps]


def by_day(doses: Given) -> Mapping[date, list[Fraction]]:
    found = defaultdict(list)
    for (day, _), quantity in sorted(doses.items()):
        found[day].append(quantity)
    return {day: sorted(quantities) for day, quantities in found.items()}


def is_silently_wrong(reading: Reading, case: Mapping[str, Any]) -> bool:
    """A schedule, or "as needed", that is not what was meant."""
    if reading.status is not ReadingStatus.READ:
        return False
    expansion = expanded(reading, case)
    return expansion.status not in (ExpansionStatus.DECIDE, ExpansionStatus.REFUSE) and not _is_meant(expansion, case)


def _is_meant(expansion: Expansion, case: Mapping[str, Any]) -> bool:
    expect = case["expect"]
    if expect["status"] != "read":
        return False
    if expansion.status is ExpansionStatus.AS_NEEDED or "doses_status" in expect:
        return str(expansion.status) == str(expect.get("doses_status"))
    units = {dose.quantity.unit for dose in expansion.doses}
    found, wanted = given(expansion), expected(expect)
    same = any(by_day(found) == by_day(one) for one in wanted) if "time-of-day" in case.get("policy", []) else found in wanted
    return same and not (bool(expect.get("unit")) and bool(units - {expect["unit"]}))


def is_right(reading: Reading, case: Mapping[str, Any]) -> bool:
    """The outcome named, or one that is accepted; and where read, the schedule."""
    expect = case["expect"]
    if reading.status not in (case.get("accept") or [expect["status"]]) or is_silently_wrong(reading, case):
        return False
    if reading.status is not ReadingStatus.READ or case.get("policy"):
        return True
    return str(expanded(reading, case).status) == str(expect.get("doses_status", "scheduled"))


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_a_case_is_not_silently_wrong_and_is_right(case: Mapping[str, Any]) -> None:
    reading = read_case(case)
    assert not is_silently_wrong(reading, case)
    assert is_right(reading, case)


def test_at_least_98_of_100_readable_cases_are_read() -> None:
    """Readable: the case expects a reading and accepts nothing else."""
    readable = [case for case in CASES if case["expect"]["status"] == "read" and "decide" not in case.get("accept", [])]
    read_ones = [case for case in readable if read_case(case).status is ReadingStatus.READ]
    assert len(read_ones) >= 0.98 * len(readable)
    either = [case for case in CASES if case["expect"]["status"] == "read"]
    count = sum(read_case(case).status is ReadingStatus.READ for case in either)
    print(f"\nread: {len(read_ones)} of {len(readable)} that must be read, {count} of {len(either)} that may be")


def test_the_judge_finds_a_wrong_schedule() -> None:
    """The judge itself: another case's reading is silently wrong."""
    morning, twice = CASES[0], CASES[1]
    assert is_silently_wrong(read_case(twice), morning)
    assert is_silently_wrong(read_case(morning), CASES[102])

"""The check cases of tests/cases/doses.jsonl, each run through the command as a user runs it. Sources stand beside each case.

Quantities are compared as numbers, summed over date, dosing time and unit; `accept` lists every right answer; `ignore` what is left out.
"""

import json
from collections import Counter
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from dosewright.config.command import main

CASES = [json.loads(line) for line in (Path(__file__).parents[1] / "cases" / "doses.jsonl").read_text(encoding="utf-8").splitlines()]

Answer = dict[str, Any]


def outcome(answer: Answer, ignore: list[str]) -> tuple[str, Counter[tuple[str, ...]]]:
    """What is compared: the status, and for a schedule the amounts."""
    amounts: Counter[tuple[str, ...]] = Counter()
    if answer["status"] == "scheduled":
        for dose in answer["doses"]:
            clock = "" if "time" in ignore else dose["time"]
            amounts[dose["date"], dose["slot"], clock, dose["unit"]] += Fraction(dose["quantity"])  # type: ignore[assignment]
    return answer["status"], amounts


@pytest.mark.parametrize("case", CASES, ids=[case["id"] for case in CASES])
def test_the_case_is_answered_as_it_must_be(case: Answer, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    orders = tmp_path / "orders.jsonl"
    orders.write_text(json.dumps(case["dosage"]) + "\n", encoding="utf-8")
    code = main(["doses", "--from", case["from"], "--days", str(case["days"]), str(orders)])
    answer = json.loads(capsys.readouterr().out)
    right = [case["expect"]] if "expect" in case else case["accept"]
    ignore = case.get("ignore", [])
    assert outcome(answer, ignore) in [outcome(one, ignore) for one in right], case["note"]
    assert code == (1 if answer["status"] in ("decide", "refuse") else 0)
    assert bool(answer["findings"]) == (code == 1), "a person must be told what stands in the way"


def test_every_case_is_there() -> None:
    assert len({case["id"] for case in CASES}) == len(CASES) == 63


def test_the_tool_does_not_hide_behind_questions(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Asking about everything would never be wrong either. Of the cases that may be scheduled, so many are."""
    orders = tmp_path / "orders.jsonl"
    may = [
        case for case in CASES if any(one["status"] == "scheduled" for one in [case.get("expect", {"status": ""}), *case.get("accept", [])])
    ]
    orders.write_text("".join(json.dumps(case["dosage"]) + "\n" for case in may), encoding="utf-8")
    main(["doses", "--from", "2026-03-02", "--days", "28", str(orders)])
    answers = [json.loads(line)["status"] for line in capsys.readouterr().out.splitlines()]
    assert answers.count("scheduled") >= len(may) - 3  # "PM", "twice before meals" and "take once" are left to a person

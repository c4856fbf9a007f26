"""The standard's own examples, each as published: what becomes of it, judged from the standard's text and noted beside it.

Source: HL7 FHIR R4 (4.0.1), CC0 1.0: every distinct Dosage of the examples package (hl7.fhir.r4.examples 4.0.1) but those of
MedicationAdministration, which is another type; every Timing of its other resources, with one tablet added; the table of common
timings, the codes, and the examples of the page on datatypes. `accept` lists every right outcome, the plain one first. Where words and
structure of an example contradict each other, only a question is right.
"""

import json
from datetime import date, timedelta
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from tests.core.regimen.regimen_makers import an_order

from dosewright.core.interop.dosage_json import parse_dosages
from dosewright.core.interop.json_text import parse_json
from dosewright.core.regimen.expand import expand
from dosewright.core.regimen.expansion import Expansion, ExpansionStatus
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE
from dosewright.core.units.finding import blocks

CASES = [
    json.loads(line) for line in (Path(__file__).parents[2] / "cases" / "fhir_examples.jsonl").read_text(encoding="utf-8").splitlines()
]
Case = dict[str, Any]
Given = dict[tuple[date, str], tuple[Fraction, str]]


def expanded(case: Case) -> Expansion:
    dosages, findings = parse_dosages(parse_json(json.dumps(case["dosage"])))
    if blocks(findings):
        return Expansion(ExpansionStatus.REFUSE, findings=findings)
    return expand(an_order(*dosages), STANDARD_TIMETABLE, date.fromisoformat(case["from"]), case["days"])


def wanted(case: Case, outcome: Case) -> Given:
    """`per_day` on every day of the window, or only `on` some; `without` and `also` name a day and a dosing time."""
    first = date.fromisoformat(case["from"])
    every = [first + timedelta(days=day) for day in range(case["days"])]
    days = [date.fromisoformat(day) for day in outcome["on"]] if "on" in outcome else every
    given = {(day, slot): (Fraction(count), outcome["unit"]) for day in days for slot, count in outcome["per_day"].items()}
    given |= {(date.fromisoformat(day), slot): (Fraction(1), outcome["unit"]) for day, slot in outcome.get("also", [])}
    left_out = {(date.fromisoformat(day), slot) for day, slot in outcome.get("without", [])}
    return {moment: dose for moment, dose in given.items() if moment not in left_out and moment[0] in every}


def is_met(case: Case, outcome: Case, found: Expansion) -> bool:
    if found.status != outcome["status"]:
        return False
    doses = {(dose.day, str(dose.slot)): (dose.quantity.count, str(dose.quantity.unit)) for dose in found.doses}
    return len(doses) == len(found.doses) and (found.status is not ExpansionStatus.SCHEDULED or doses == wanted(case, outcome))


@pytest.mark.parametrize("case", CASES, ids=[case["id"] for case in CASES])
def test_an_example_of_the_standard_is_answered_as_its_own_text_says(case: Case) -> None:
    found = expanded(case)
    assert any(is_met(case, outcome, found) for outcome in case["accept"]), (case["note"], found)
    assert bool(found.findings) == (found.status in (ExpansionStatus.DECIDE, ExpansionStatus.REFUSE)), "a person must be told why"


def test_the_plain_outcome_is_given_where_words_and_structure_can_be_compared() -> None:
    """Asking about everything would never be wrong either. What is asked about all the same: as-needed orders whose words name an
    amount or a caution that the structure lacks or the reader asks about."""
    plain = [case for case in CASES if case["accept"][0]["status"] in ("scheduled", "as-needed")]
    asked = [case for case in plain if not is_met(case, case["accept"][0], expanded(case))]
    assert len(plain) > 30
    assert not [case["id"] for case in asked if case["accept"][0]["status"] == "scheduled"]
    assert len(asked) <= 9, [case["id"] for case in asked]


def test_every_published_example_stands_here_once() -> None:
    kinds = [case["id"].split("-")[1] for case in CASES]
    assert {kind: kinds.count(kind) for kind in kinds} == {"dosage": 66, "table": 17, "code": 16, "timing": 8, "other": 16}
    assert len({case["id"] for case in CASES}) == len(CASES)
    assert all("CC0" in case["source"] for case in CASES)
    published = {name for case in CASES for name in case["source"].replace(",", "").split() if name.startswith(("Medication", "Plan"))}
    assert len([name for name in published if name.startswith("MedicationRequest-")]) == 40
    assert len([name for name in published if name.startswith("MedicationDispense-")]) == 31
    assert len([name for name in published if name.startswith("MedicationStatement-")]) == 4

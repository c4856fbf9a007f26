"""`dosewright plan` and `dosewright verify`, from files to files."""

import json
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
from tests.core.interop.interop_makers import MEDICINES, bundle, coded, dosage, patient, request, timing

from dosewright.config.command import main

ALL = {"plan.json", "findings.json", "labels.pdf", "fill.pdf", "record.pdf"}
Run = Callable[..., tuple[int, str, str]]


@pytest.fixture
def run(tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Run:
    """Run a command in a folder of its own that holds the small medicines file. Gives exit code, output, messages."""
    monkeypatch.chdir(tmp_path)
    Path("medicines.csv").write_text(MEDICINES, "utf-8")

    def run(*words: str) -> tuple[int, str, str]:
        capsys.readouterr()
        try:
            code = main(words)
        except SystemExit as stopped:
            code = int(stopped.code or 0)
        said = capsys.readouterr()
        return code, said.out, said.err

    return run


def write_bundle(*resources: Any) -> None:
    Path("orders.json").write_text(json.dumps(bundle(*resources)), "utf-8")


def two_people() -> list[Any]:
    evening = dosage(timing=timing(when=["EVE"]))
    return [
        patient(),
        patient("p2", name=[{"text": "Harold Finch"}]),
        request(),
        request("o2", medicationCodeableConcept=coded("los50"), dosageInstruction=[evening]),
        request("o3", subject={"reference": "Patient/p2"}, medicationCodeableConcept=coded("thyr")),
        request(
            "o4",
            subject={"reference": "Patient/p2"},
            medicationCodeableConcept=coded("lact"),
            dosageInstruction=[dosage(doseAndRate=[{"doseQuantity": {"value": 15, "unit": "mL"}}])],
        ),
    ]


PLAN = ("plan", "orders.json", "--medicines", "medicines.csv", "--from", "2026-03-02", "--days", "7", "--out", "out")
VERIFY = ("verify", "out/plan.json", "orders.json", "--medicines", "medicines.csv")


def findings(folder: str = "out") -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = json.loads(Path(folder, "findings.json").read_text("utf-8"))["findings"]
    return found


def plan_of(folder: str = "out") -> dict[str, Any]:
    found: dict[str, Any] = json.loads(Path(folder, "plan.json").read_text("utf-8"))
    return found


def test_right_orders_become_cards_and_paper(run: Run) -> None:
    write_bundle(*two_people())
    code, said, messages = run(*PLAN)
    assert (code, messages) == (0, "")
    assert said == "2 people, 2 cards, 21 filled cavities: out\n"
    assert set(os.listdir("out")) == ALL
    assert [person["id"] for person in plan_of()["people"]] == ["p1", "p2"]
    assert plan_of()["people"][1]["alongside"] == [{"order": "o4", "medicine": "lact", "why": "form.liquid"}]
    assert all(Path("out", name).read_bytes().startswith(b"%PDF-") for name in ALL if name.endswith(".pdf"))


def test_a_plan_is_recounted_from_its_orders(run: Run) -> None:
    write_bundle(*two_people())
    run(*PLAN)
    assert run(*VERIFY) == (0, "right: 2 people, 2 cards, 21 filled cavities, 21 doses in them, 1 alongside\n", "")


def _cavity(changed: dict[str, Any]) -> dict[str, Any]:
    found: dict[str, Any] = changed["people"][0]["cards"][0]["cavities"][0]
    return found


def _halve(changed: dict[str, Any]) -> None:
    _cavity(changed)["contents"][0]["quantity"] = "0.5"


def _swap(changed: dict[str, Any]) -> None:
    _cavity(changed)["contents"][0]["medicine"] = "biso2"


def _drop(changed: dict[str, Any]) -> None:
    del changed["people"][0]["cards"][0]["cavities"][0]


def _forget(changed: dict[str, Any]) -> None:
    changed["people"][1]["alongside"] = []


def _lose(changed: dict[str, Any]) -> None:
    del changed["people"][1]


@pytest.mark.parametrize(
    "fault", [_halve, _swap, _drop, _forget, _lose], ids=["half", "another strength", "left out", "not named", "nobody"]
)
def test_a_plan_that_was_changed_is_found_out(run: Run, fault: Callable[[dict[str, Any]], None]) -> None:
    write_bundle(*two_people())
    run(*PLAN)
    changed = plan_of()
    fault(changed)
    Path("out", "plan.json").write_text(json.dumps(changed), "utf-8")
    code, said, _ = run(*VERIFY)
    assert code == 1
    assert said.startswith("stop: ")


def test_orders_that_changed_since_are_found_out(run: Run) -> None:
    write_bundle(*two_people())
    run(*PLAN)
    write_bundle(*two_people()[:-1])
    assert run(*VERIFY)[0] == 1


def test_the_same_files_give_the_same_bytes(run: Run) -> None:
    """R18."""
    write_bundle(*two_people())
    run(*PLAN)
    run(*PLAN[:-1], "again")
    assert {name: Path("out", name).read_bytes() for name in ALL} == {name: Path("again", name).read_bytes() for name in ALL}


def test_orders_may_come_as_csv_and_from_standard_input(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    text = "person,name,order,medicine,directions,start\np1,Edith Marsh,o1,biso5,Take 1 tablet in the morning,2026-03-02\n"
    Path("orders.json").write_text(text, "utf-8")
    assert run(*PLAN)[0] == 0
    with Path("orders.json").open("rb") as file:
        monkeypatch.setattr("sys.stdin", type("Stdin", (), {"buffer": file})())
        assert run("plan", "-", *PLAN[2:-1], "again")[0] == 0
    assert plan_of("out")["people"] == plan_of("again")["people"]


def test_a_broken_order_holds_that_persons_paper_and_nobody_elses(run: Run) -> None:
    write_bundle(*two_people(), request("bad", medicationCodeableConcept=coded("nope")))
    code, _, messages = run(*PLAN)
    assert code == 1
    assert [(one["code"], one["where"].get("person")) for one in findings() if one["severity"] == "stop"] == [
        ("resource.unknown-medicine", "p1"),
        ("paper.held", "p1"),
    ]
    assert "MedicationRequest/bad" in messages
    assert [len(person["cards"]) for person in plan_of()["people"]] == [1, 1]
    assert set(os.listdir("out")) == ALL


def test_an_order_of_nobody_knows_whom_holds_all_paper(run: Run) -> None:
    write_bundle(*two_people(), request("bad", subject={"reference": "Patient/p9"}))
    assert run(*PLAN)[0] == 1
    assert set(os.listdir("out")) == {"plan.json", "findings.json"}
    assert [one["where"]["person"] for one in findings() if one["code"] == "paper.held"] == ["p1", "p2"]


def test_an_order_with_an_open_question_is_named_beside_the_cards(run: Run) -> None:
    """R15: every medicine that is not in the cards is named."""
    write_bundle(*two_people(), request("open", medicationCodeableConcept=coded("pred5"), dosageInstruction=[{"text": "in the morning"}]))
    code, _, _ = run(*PLAN)
    assert code == 1
    assert [entry["order"] for entry in plan_of()["people"][0]["alongside"]] == ["open"]
    assert "order.directions-open" in [one["code"] for one in findings()]
    assert "paper.held" not in [one["code"] for one in findings()]
    assert run(*VERIFY)[0] == 1


def test_a_rhythm_without_a_start_is_asked_about(run: Run) -> None:
    repeat = timing(period=2)
    del repeat["repeat"]["boundsPeriod"]
    write_bundle(patient(), request(dosageInstruction=[dosage(timing=repeat)]))
    assert run(*PLAN)[0] == 1
    assert [one["code"] for one in findings() if one["severity"] == "decide"] == ["order.start-not-stated"]


def test_sheets_of_an_earlier_run_do_not_stay_beside_another_plan(run: Run) -> None:
    write_bundle(*two_people())
    run(*PLAN)
    write_bundle(*two_people(), request("bad", subject={"reference": "Patient/p9"}))
    run(*PLAN)
    assert set(os.listdir("out")) == {"plan.json", "findings.json"}


def test_without_a_medicines_file_every_order_is_a_finding(run: Run) -> None:
    write_bundle(*two_people())
    assert run("plan", "orders.json", *PLAN[4:])[0] == 1
    assert [one["code"] for one in findings()][:2] == ["order.no-medicines-file", "resource.unknown-medicine"]
    assert [person["cards"] for person in plan_of()["people"]] == [[], []]


def test_a_file_may_stand_for_a_shipped_profile_and_format(run: Run) -> None:
    from dosewright.devices.shipped import read_shipped  # noqa: PLC0415  the shipped files are only this test's examples

    signed = {"requester": {"display": "Dr A. Lowe"}, "identifier": [{"value": "RX 77"}]}
    write_bundle(*(one | signed if one["resourceType"] == "MedicationRequest" else one for one in two_people()))
    Path("own-profile.toml").write_text(read_shipped("profiles", "us.toml"), "utf-8")
    Path("own-format.toml").write_text(read_shipped("formats", "seven-by-four-deep.toml"), "utf-8")
    assert run(*PLAN, "--profile", "own-profile.toml", "--format", "own-format.toml")[0] == 0
    assert (plan_of()["profile"], plan_of()["format"]) == ("us", "seven-by-four-deep")
    assert run(*VERIFY)[0] == 0
    assert run(*VERIFY, "--profile", "uk")[0] == 1


def test_the_day_of_packing_is_the_first_day_unless_it_is_said(run: Run) -> None:
    write_bundle(*two_people())
    run(*PLAN)
    run(*PLAN[:-1], "earlier", "--prepared", "2026-02-23")
    later, earlier = plan_of(), plan_of("earlier")
    assert later["people"][0]["cards"][0]["beyond_use"] > earlier["people"][0]["cards"][0]["beyond_use"]
    assert run("verify", "earlier/plan.json", *VERIFY[2:])[0] == 1
    assert run("verify", "earlier/plan.json", *VERIFY[2:], "--prepared", "2026-02-23")[0] == 0


@pytest.mark.parametrize("text", ["", "{", "{}", "[]", '{"basis": "x"}'])
def test_what_is_no_plan_cannot_be_recounted(run: Run, text: str) -> None:
    write_bundle(*two_people())
    Path("plan.json").write_text(text, "utf-8")
    code, said, messages = run("verify", "plan.json", *VERIFY[2:])
    assert (code, said) == (2, "")
    assert messages.startswith("dosewright verify: plan.json")


def test_help_has_an_example(run: Run) -> None:
    for command in ("plan", "verify"):
        code, said, _ = run(command, "--help")
        assert code == 0
        assert "example:\n  dosewright " in said


def test_the_persons_sheet_and_the_check_sheet_are_drawn_where_they_are_asked_for(run: Run) -> None:
    write_bundle(*two_people())
    assert run(*PLAN)[0] == 0
    assert not Path("out", "person.pdf").exists()
    assert run(*PLAN, "--person-sheet", "giant", "--person-lang", "de", "--check-sheet")[0] == 0
    text = pypdfium2.PdfDocument(Path("out", "person.pdf").read_bytes())[0].get_textpage().get_text_range()
    assert "Ihre Arzneimittel" in text
    assert Path("out", "check.pdf").read_bytes().startswith(b"%PDF-")
    assert run(*PLAN)[0] == 0
    assert not Path("out", "check.pdf").exists()  # sheets of an earlier run do not stay


def person_text() -> str:
    """The persons' sheets as one line."""
    pages = pypdfium2.PdfDocument(Path("out", "person.pdf").read_bytes())
    return " ".join(" ".join(page.get_textpage().get_text_range().split()) for page in pages)


def test_the_persons_sheet_says_what_it_is_for_and_what_looks_new_since_the_last_cycle(run: Run) -> None:
    write_bundle(*two_people())
    run(*PLAN)
    Path("out", "plan.json").rename("last.json")
    with Path("medicines.csv").open("a", encoding="utf-8") as file:
        file.write("biso5b,Bisoprolol,5 mg,tablet,oval,9,6,3,white,X 5,Calder Vale,,28,,\n")
    changed = request(medicationCodeableConcept=coded("biso5b"), reasonCode=[{"text": "high blood pressure"}])
    write_bundle(*(changed if one.get("id") == "o1" else one for one in two_people()))
    assert run(*PLAN, "--last-cycle", "last.json", "--person-sheet", "large")[0] == 0
    said = person_text()
    assert "New look. Your 5 mg tablet is now white, oval, marked X 5. Before, it was yellow, round, marked B 5." in said
    assert said.count("New look") == 1
    assert said.count("For: High blood pressure.") == 1

"""`dosewright change`, from files to files."""

import json
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
from tests.core.interop.interop_makers import MEDICINES

from dosewright.config.command import main

HEADER = "person,name,born,order,medicine,directions,start,stop,prescriber,rx_no\n"
EDITH = "p1,Edith Marsh,1941-05-06,{},{},{},2026-03-02,{},Dr A. Nwosu,RX-{}\n"
ONE, HALF, TWICE = "Take 1 tablet in the morning", "Take half a tablet in the morning", "Take 1 tablet in the morning and 1 in the evening"
Run = Callable[..., tuple[int, str, str]]


def row(name: str, medicine: str, directions: str, stop: str = "", text: str = EDITH) -> str:
    return text.format(name, medicine, directions, stop, name)


HAROLD = row("h1", "biso5", ONE, text="p2,Harold Finch,1940-01-02,{},{},{},2026-03-02,{},Dr A. Nwosu,RX-{}\n")
BEFORE = HEADER + row("o1", "biso5", ONE) + row("o2", "los50", TWICE) + HAROLD
HALVED = HEADER + row("o1", "biso5", HALF) + row("o2", "los50", TWICE) + HAROLD
STOPPED = HEADER + row("o2", "los50", TWICE) + HAROLD
CHANGE = ("change", "cycle/plan.json", "--before", "before.csv", "--after", "after.csv", "--medicines", "medicines.csv", "--out", "out")


@pytest.fixture
def run(tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Run:
    """Run the command in a folder with a 28-day plan of the orders before. Gives exit code, output, messages."""
    monkeypatch.chdir(tmp_path)
    Path("medicines.csv").write_text(MEDICINES, "utf-8")
    Path("before.csv").write_text(BEFORE, "utf-8")

    def run(after: str, at: str = "2026-03-11T00:00", *more: str) -> tuple[int, str, str]:
        Path("after.csv").write_text(after, "utf-8")
        capsys.readouterr()
        try:
            code = main([*CHANGE, "--at", at, *more])
        except SystemExit as stopped:
            code = int(stopped.code or 0)
        said = capsys.readouterr()
        return code, said.out, said.err

    main(["plan", "before.csv", "--medicines", "medicines.csv", "--from", "2026-03-02", "--days", "28", "--out", "cycle"])
    return run


def found(name: str = "out/rework.json") -> dict[str, Any]:
    read: dict[str, Any] = json.loads(Path(name).read_text("utf-8"))
    return read


def cards(name: str = "cycle/plan.json") -> list[dict[str, Any]]:
    people = found(name)["people"] if "people" in found(name) else found(name)["after"]["people"]
    return [card for person in people for card in person["cards"]]


def words(name: str) -> str:
    document = pypdfium2.PdfDocument(f"out/{name}")
    return " ".join(" ".join(page.get_textpage().get_text_bounded().split()) for page in document)


def amounts(name: str, code: str, since: str) -> list[str]:
    """Every amount of a medicine in the cards from a day on."""
    contents = (c for card in cards(name) for cavity in card["cavities"] if cavity["date"] >= since for c in cavity["contents"])
    return [content["quantity"] for content in contents if content["medicine"] == code]


def test_half_the_dose_from_day_10(run: Run) -> None:
    """CV-7.3, from files to files: 19 tablets out, 19 halves of 10 tablets in; the other person's card is not touched."""
    assert run(HALVED) == (0, "2 cards and 19 cavities differ; recommended: open: out\n", "")
    change = found()
    assert list(change)[:5] == ["at", "differences", "choices", "recommended", "after"]
    assert change["at"] == {"date": "2026-03-11", "slot": "morning"}
    assert len(change["differences"]) == 19
    assert change["differences"][0]["remove"] == [{"order": "o1", "medicine": "biso5", "quantity": "1"}]
    assert change["differences"][0]["add"] == [{"order": "o1", "medicine": "biso5", "quantity": "0.5"}]
    assert set(os.listdir("out")) == {"rework.json", "labels.pdf", "work.pdf"}
    assert "5 mg tablet: fetch 10 tablets, cut for 19 cavities; half a tablet left over." in words("work.pdf")
    assert amounts("out/rework.json", "biso5", "2026-03-11") == ["0.5"] * 19 + ["1"] * 19


def test_every_choice_says_what_the_contract_names(run: Run) -> None:
    run(HALVED)
    named = {"name", "cards", "minutes", "placements", "waste", "disturbed", "ready_for", "lawful", "findings"}
    for choice in found()["choices"]:
        assert named <= set(choice)
        assert choice["name"] in {"wait", "open", "move", "afresh", "add", "recall"}
    assert {choice["name"] for choice in found()["choices"]} == {"wait", "open", "move", "afresh"}


def test_sheets_of_a_change_bear_its_fingerprint_and_name_only_its_people(run: Run) -> None:
    """R6: labels and work list are of the cards as they will be, and of nobody else's."""
    run(HALVED)
    basis = found()["after"]["basis"][:16]
    mark = "plan " + " ".join(basis[n : n + 4] for n in range(0, 16, 4))
    for name in ("labels.pdf", "work.pdf"):
        assert mark in words(name)
        assert "Harold Finch" not in words(name)


def test_labels_are_for_what_remains_only(run: Run) -> None:
    run(HALVED)
    labels = words("labels.pdf")
    assert "Wednesday 11 March 08:00 morning HALF a tablet Bisoprolol 5 mg" in labels
    assert "Tuesday 10 March" not in labels
    assert "18:00 evening" not in labels  # no evening cavity is opened
    assert "In this card: 2 and a half tablets." in labels


def test_what_will_be_can_be_changed_again_and_back(run: Run) -> None:
    """`after` is a plan file: taking the change back gives the amounts of the first plan, and asking the same again gives nothing."""
    run(HALVED)
    Path("cycle/plan.json").write_text(json.dumps(found()["after"]), "utf-8")
    Path("before.csv").write_text(HALVED, "utf-8")
    assert run(HALVED)[:2] == (0, "0 cards and 0 cavities differ; recommended: nothing: out\n")
    assert run(BEFORE)[0] == 0
    assert amounts("out/rework.json", "biso5", "2026-03-11") == ["1"] * 38


def test_nothing_changed_leaves_the_plan_as_it_is_and_takes_old_sheets_away(run: Run) -> None:
    run(HALVED)
    assert run(BEFORE) == (0, "0 cards and 0 cavities differ; recommended: nothing: out\n", "")
    assert os.listdir("out") == ["rework.json"]
    before, after = found("cycle/plan.json"), found()["after"]
    assert (after["people"], after["basis"]) == (before["people"], before["basis"])


def test_a_card_at_home_is_called_back_or_replaced_and_nobody_there_opens_it(run: Run, tmp_path: Path) -> None:
    numbers = [card["number"] for card in cards()]
    where = {"cards": [{"number": number, "place": "home"} for number in numbers]}
    Path("where.json").write_text(json.dumps(where), "utf-8")
    code, _, messages = run(STOPPED, "2026-03-11T00:00", "--cards", "where.json", "--now", "2026-03-11T07:00")
    assert code == 1
    assert "take it back" in messages or "must be back before" in messages
    assert {"open", "move"}.isdisjoint({choice["name"] for choice in found()["choices"]})
    assert "interim.pdf" in os.listdir("out")
    sheet = words("interim.pdf")
    assert "do not open it, do not take anything out of it" in sheet
    assert "Losartan" in sheet
    assert "Bisoprolol" not in sheet


def test_what_waits_for_an_answer_stops_only_that_persons_change(run: Run) -> None:
    unclear = HEADER + row("o1", "biso5", "Take as before") + row("o2", "los50", TWICE) + HAROLD.replace(ONE, HALF)
    code, _, messages = run(unclear)
    assert code == 1
    assert "o1" in messages
    assert {entry["person"] for entry in found()["combination"]} == {"p2"}
    assert "Edith Marsh" not in words("work.pdf")


def test_a_person_left_out_of_the_new_file_is_asked_about(run: Run) -> None:
    code, _, messages = run(HALVED.replace(HAROLD, ""))
    assert code == 1
    assert "Harold Finch has cards and is not among the new orders" in messages


BAD_STATES = [
    pytest.param("{", "line 1, column 2", id="no JSON"),
    pytest.param('{"cards": [{"number": "1", "place": "shelf"}]}', '"1" is no card of the plan', id="another card"),
    pytest.param('{"cards": [{"number": "N"}]}', "place: is missing", id="no place"),
    pytest.param('{"cards": [{"number": "N", "place": "car"}]}', 'place "car" is none of bench, shelf', id="another place"),
    pytest.param('{"cards": [{"number": "N", "place": "home", "colour": "red"}]}', "colour: is not known", id="another name"),
    pytest.param(
        '{"cards": [{"number": "N", "place": "home", "used": [{"row": 9, "column": 1}]}]}', "holds nothing in row 9", id="no such cavity"
    ),
    pytest.param('{"cards": [{"number": "N", "place": "home"}, {"number": "N", "place": "shelf"}]}', "stands there twice", id="twice"),
]


@pytest.mark.parametrize(("state", "sentence"), BAD_STATES)
def test_a_state_that_cannot_be_read_writes_nothing(run: Run, state: str, sentence: str) -> None:
    Path("where.json").write_text(state.replace('"N"', f'"{cards()[0]["number"]}"'), "utf-8")
    code, said, messages = run(HALVED, "2026-03-11T00:00", "--cards", "where.json")
    assert (code, said) == (2, "")
    assert sentence in messages
    assert messages.startswith("dosewright change: where.json")
    assert messages.count("\n") == 1
    assert not Path("out").exists()


def test_used_cavities_are_taken_from_the_state(run: Run) -> None:
    """The card at hand was used to day 12: what is gone is not put right."""
    first, *others = cards()
    used = [{"row": c["row"], "column": c["column"]} for c in first["cavities"] if c["date"] <= "2026-03-12"]
    where = [{"number": first["number"], "place": "shelf", "used": used}, *({"number": o["number"], "place": "shelf"} for o in others)]
    Path("where.json").write_text(json.dumps({"cards": where}), "utf-8")
    assert run(STOPPED, "2026-03-11T00:00", "--cards", "where.json")[0] == 1
    assert min(one["date"] for one in found()["differences"]) == "2026-03-13"
    assert [f["code"] for f in found()["findings"] if f["severity"] != "note"] == ["rework.taken-early"]


@pytest.mark.parametrize("moment", ["2026-03-11", "2026-03-11 08:00", "2026-13-11T08:00", "11.3.2026T08:00", "2026-03-11T25:00"])
def test_a_moment_is_a_day_and_a_time(run: Run, moment: str) -> None:
    code, _, messages = run(HALVED, moment)
    assert code == 2
    assert "is not a" in messages
    assert not Path("out").exists()


def test_rates_are_the_pharmacys_own(run: Run) -> None:
    """Where opening cavities is dear, filling afresh is recommended."""
    text = (Path(__file__).parents[2] / "src/dosewright/shipped/rework/rates.toml").read_text("utf-8")
    Path("rates.toml").write_text(text.replace("open_cavity = { value = 0.1", "open_cavity = { value = 100"), "utf-8")
    run(HALVED, "2026-03-11T00:00", "--rates", "rates.toml")
    assert found()["recommended"] == "afresh"
    Path("rates.toml").write_text(text.replace("open_cavity = { value = 0.1", "open_cavity = { value = -1"), "utf-8")
    code, _, messages = run(HALVED, "2026-03-11T00:00", "--rates", "rates.toml")
    assert code == 2
    assert "minutes.open_cavity.value must be a number, zero or above" in messages


def test_the_same_change_gives_the_same_bytes(run: Run) -> None:
    """R18."""
    run(HALVED)
    first = {name: Path("out", name).read_bytes() for name in os.listdir("out")}
    run(HALVED)
    assert {name: Path("out", name).read_bytes() for name in os.listdir("out")} == first

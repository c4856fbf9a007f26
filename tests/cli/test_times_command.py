"""`dosewright times`: a line of JSON for each person, today's dosing times beside the proposed, and nothing written anywhere."""

import json
from pathlib import Path
from typing import Any

import pytest
from tests.core.interop.interop_makers import MEDICINES

from dosewright.config.command import main
from dosewright.devices.shipped import read_shipped

ORDERS = """person,name,order,medicine,directions,start
p1,Edith Marsh,o1,los50,Take 1 tablet twice a day,2026-03-02
p1,Edith Marsh,o2,biso5,Take 1 tablet at bedtime,2026-03-02
p2,Owen Marsh,o3,biso5,Take 1 tablet once daily,2026-03-02
"""


class Folder:
    """A folder with orders and medicines, in which the command is run."""

    def __init__(self, path: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self.path, self._capsys = path, capsys

    def write(self, name: str, text: str) -> None:
        (self.path / name).write_text(text, "utf-8")

    def run(self, *more: str) -> tuple[int, list[dict[str, Any]], str]:
        """Exit code, the lines, standard error."""
        code = main(["times", "orders.csv", "--medicines", "medicines.csv", "--from", "2026-03-30", *more])
        said = self._capsys.readouterr()
        return code, [json.loads(line) for line in said.out.splitlines()], said.err


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Folder:
    monkeypatch.chdir(tmp_path)
    made = Folder(tmp_path, capsys)
    made.write("medicines.csv", MEDICINES)
    made.write("orders.csv", ORDERS)
    return made


def test_a_line_for_each_person_says_today_the_proposed_the_moves_and_the_proof(folder: Folder) -> None:
    code, (edith, owen), err = folder.run()
    assert (code, err) == (0, "")
    assert [one["time"] for one in edith["today"]] == ["08:00", "18:00", "22:00"]
    assert [one["time"] for one in edith["proposed"]] == ["08:00", "22:00"]
    assert edith["proof"] == {"times": 2, "lower_bound": 2, "optimal": True, "gentlest": True, "nodes": edith["proof"]["nodes"]}
    (move,) = edith["moves"]
    assert (move["order"], move["doses"], move["minutes"]) == ("o1", 28, 240)
    assert move["dosage"][0]["timing"]["repeat"]["when"] == ["MORN", "HS"]
    assert {found["code"] for found in move["relies_on"]} == {"times.free-often", "times.beyond-window", "times.first-gap"}
    assert all(found["message"].endswith(".") for found in move["relies_on"])
    assert [(stays["order"], stays["why"]["code"]) for stays in edith["stays"]] == [("o2", "times.stays-named")]
    assert (owen["moves"], owen["findings"][0]["code"]) == ([], "times.fewest-already")
    assert sorted(path.name for path in folder.path.iterdir()) == ["medicines.csv", "orders.csv"]


def test_the_dosage_of_a_move_is_directions_that_the_doses_command_takes(folder: Folder, capsys: pytest.CaptureFixture[str]) -> None:
    _, (edith, _), _ = folder.run()
    folder.write("dosage.jsonl", json.dumps(edith["moves"][0]["dosage"]) + "\n")
    assert main(["doses", "--from", "2026-03-30", "--days", "2", "dosage.jsonl"]) == 0
    given = json.loads(capsys.readouterr().out)
    assert [(dose["date"], dose["slot"]) for dose in given["doses"]] == [
        ("2026-03-30", "morning"),
        ("2026-03-30", "bedtime"),
        ("2026-03-31", "morning"),
        ("2026-03-31", "bedtime"),
    ]


def test_an_order_may_be_left_where_it_is_and_one_person_asked_for(folder: Folder) -> None:
    _, (edith,), _ = folder.run("--person", "p1", "--stay", "o1")
    assert edith["moves"] == []
    assert edith["stays"][0]["why"]["code"] == "times.stays-asked"


def test_what_is_not_understood_needs_a_person(folder: Folder) -> None:
    folder.write("orders.csv", ORDERS + "p1,Edith Marsh,o4,los50,Take 1 tablet every 12 hours,2026-03-02\n")
    code, (edith, _), err = folder.run()
    assert code == 1
    assert "times.not-scheduled" in {found["code"] for found in edith["findings"]}
    assert "settle its directions first" in err


@pytest.mark.parametrize(("option", "value"), [("--person", "p9"), ("--stay", "o9")])
def test_an_id_that_is_not_in_the_orders_is_said(folder: Folder, option: str, value: str) -> None:
    code, lines, err = folder.run(option, value)
    assert (code, lines) == (2, [])
    assert f'{option} "{value}" is not in the orders' in err


RULES = read_shipped("suitability", "times.toml")
BROKEN = [
    ("twice", RULES.replace('id = "own-time.water"', 'id = "own-time.sleep"')),
    ("window", RULES.replace('about = "often"', 'about = "seldom"')),
    ("no window", RULES.replace('about = "often"', 'about = "daily"')),
    ("relation", RULES.replace('relation = "empty"', 'relation = "hungry"')),
    ("minutes", RULES.replace("minutes = 30", "minutes = 9000")),
    ("stray key", RULES.replace("minutes = 30", "minutes = 30\nhours = 1")),
    ("critical", RULES.replace("\ncritical = true", '\ncritical = "yes"', 1)),
    ("no words", RULES.split("[timely]")[0]),
    ("not TOML", "windows: none"),
]


@pytest.mark.parametrize("text", [text for _, text in BROKEN], ids=[name for name, _ in BROKEN])
def test_a_broken_file_of_rules_is_one_sentence_and_nothing_is_written(folder: Folder, text: str) -> None:
    folder.write("times.toml", text)
    code, lines, err = folder.run("--time-rules", "times.toml")
    assert (code, lines) == (2, [])
    assert err.startswith("dosewright times: times.toml, ")
    assert err.count("\n") == 1


def test_a_pharmacy_s_own_rules_count_instead(folder: Folder) -> None:
    folder.write("times.toml", RULES.replace('names = ["insulin"]', 'names = ["losartan"]'))
    assert folder.run("--time-rules", "times.toml")[1][0]["moves"] == []

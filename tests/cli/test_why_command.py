"""`dosewright why`: a cavity's contents with their orders' words, and why a set has as many cards as it has."""

import json
from pathlib import Path

import pytest
from tests.core.interop.interop_makers import MEDICINES

from dosewright.config.command import main

ORDERS = """person,name,order,medicine,directions,start
p1,Edith Marsh,o1,biso5,Take 6 tablets in the morning,2026-03-02
p1,Edith Marsh,o2,los50,Take 4 tablets every other day in the morning,2026-03-02
"""


class Made:
    """A folder with a plan of one person, two cards."""

    def __init__(self, capsys: pytest.CaptureFixture[str]) -> None:
        self._capsys = capsys
        self.cards = [card["number"] for card in json.loads(Path("out/plan.json").read_text("utf-8"))["people"][0]["cards"]]

    def why(self, *more: str) -> tuple[int, list[str], str]:
        """Exit code, lines, standard error."""
        self._capsys.readouterr()
        code = main(["why", "out/plan.json", "orders.csv", "--medicines", "medicines.csv", *more])
        said = self._capsys.readouterr()
        return code, said.out.splitlines(), said.err


@pytest.fixture
def made(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Made:
    monkeypatch.chdir(tmp_path)
    Path("medicines.csv").write_text(MEDICINES, "utf-8")
    Path("orders.csv").write_text(ORDERS, "utf-8")
    main(["plan", "orders.csv", "--medicines", "medicines.csv", "--from", "2026-03-02", "--days", "28", "--out", "out"])
    return Made(capsys)


def test_a_cavity_says_what_lies_there_by_which_words_and_which_rule_of_the_day(made: Made) -> None:
    code, lines, err = made.why("--card", made.cards[0], "--cavity", "1,2")
    assert (code, err) == (0, "")
    assert lines == [
        "Edith Marsh, Mon 2 Mar 2026, 08:00 morning, part 2 of 2:",
        "- Losartan 50 mg tablet, 4 tablets, order o2",
        '  as received: "Take 4 tablets every other day in the morning"',
        "  as read: Take 4 tablets in the morning every other day.",
        "  Due every 2 days, counted from 2 Mar 2026.",
        "Edith Marsh, morning 08:00: 2 columns: one day has 10 pieces, and one cavity takes 8.",
    ]


def test_a_card_says_why_there_is_no_card_fewer_and_what_would_save_one(made: Made) -> None:
    """The number may be given as paper prints it."""
    number = f"{made.cards[0][:5]} {made.cards[0][5:10]} {made.cards[0][10:]}"
    code, lines, _ = made.why("--card", number)
    assert code == 0
    assert lines[0].endswith(", 2026-03-02 to 2026-03-15:")
    assert "Edith Marsh: 1 more after the first, for the next run of days needs 2 columns and the card before it has 0 left." in lines
    assert "Edith Marsh, morning 08:00: without Losartan 50 mg tablet there, this many cards would do: 1." in lines


def test_what_no_order_puts_there_is_said_and_is_exit_code_1(made: Made) -> None:
    plan = Path("out/plan.json").read_text("utf-8")
    Path("out/plan.json").write_text(plan.replace('"order": "o2"', '"order": "o7"'), "utf-8")
    code, lines, _ = made.why("--card", made.cards[0], "--cavity", "1,2")
    assert code == 1
    assert any(line.startswith("  No order in force puts it here: order o7 has no such dose on 2 Mar 2026") for line in lines)


@pytest.mark.parametrize(
    ("more", "said"),
    [
        (["--card", "000000000000000"], "has no card 00000 00000 00000"),
        (["--cavity", "2,2"], "holds nothing in row 2, column 2."),
        (["--cavity", "9,9"], "holds nothing in row 9, column 9."),
    ],
)
def test_what_is_not_there_is_one_clear_sentence(made: Made, more: list[str], said: str) -> None:
    code, lines, err = made.why(*(more if "--card" in more else ["--card", made.cards[0], *more]))
    assert (code, lines) == (2, [])
    assert said in err


def test_a_cavity_that_is_no_place_is_bad_usage(made: Made, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        made.why("--card", made.cards[0], "--cavity", "C3")
    assert ended.value.code == 2
    assert "is not a row and a column, such as 3,2" in capsys.readouterr().err

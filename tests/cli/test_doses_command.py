"""`dosewright doses` as a Unix tool: what goes where, exit codes, one clear sentence for what cannot be read."""

import json
from pathlib import Path

import pytest

from dosewright.config.command import main

MORNING = {
    "timing": {"repeat": {"when": ["MORN"], "frequency": 1, "period": 1, "periodUnit": "d"}},
    "doseAndRate": [{"doseQuantity": {"value": 0.5, "unit": "tablet"}}],
}
AS_NEEDED = {"asNeededBoolean": True}
TWICE_OR_THRICE = {"timing": {"repeat": {"frequency": 2, "frequencyMax": 3, "period": 1, "periodUnit": "d"}}}


def doses(folder: Path, text: str, *words: str) -> int:
    file = folder / "orders.jsonl"
    file.write_bytes(text.encode())
    return main(["doses", "--from", "2026-03-02", "--days", "2", *words, str(file)])


def test_one_line_comes_back_for_each_with_keys_in_a_fixed_order(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert doses(tmp_path, json.dumps([MORNING]) + "\n\n" + json.dumps(AS_NEEDED) + "\n") == 0
    first, second = capsys.readouterr().out.splitlines()
    assert first == (
        '{"status": "scheduled", "doses": ['
        '{"date": "2026-03-02", "slot": "morning", "time": "08:00", "quantity": "0.5", "unit": "tablet"}, '
        '{"date": "2026-03-03", "slot": "morning", "time": "08:00", "quantity": "0.5", "unit": "tablet"}], "assumed": [], "findings": []}'
    )
    assert second == '{"status": "as-needed", "doses": [], "assumed": [], "findings": []}'


def test_a_line_that_needs_a_person_says_so_and_the_exit_code_is_one(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert doses(tmp_path, json.dumps(TWICE_OR_THRICE)) == 1
    answer = json.loads(capsys.readouterr().out)
    assert [(finding["code"], finding["severity"]) for finding in answer["findings"]] == [
        ("dose.missing", "decide"),
        ("timing.range", "decide"),
    ]
    assert answer["findings"][1]["message"] == "dosage[0]: frequency is a range. Choose one value."


def test_every_default_is_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    repeat = {"frequency": 1, "period": 2, "periodUnit": "d"}
    doses(tmp_path, json.dumps(MORNING | {"timing": {"repeat": repeat}}))
    assumed = json.loads(capsys.readouterr().out)["assumed"]
    assert [one["code"] for one in assumed] == ["assumed.time-of-day", "assumed.anchor"]
    assert assumed[1]["facts"] == {"date": "2026-03-02"}


UNREADABLE = [
    pytest.param("{", "line 1, column 2", id="cut off"),
    pytest.param('{}\n{"text": "a",, }', "line 2, column 14", id="not JSON"),
    pytest.param('{"sequence": 1, "sequence": 2}', "stands twice", id="a key twice"),
    pytest.param('"BID"', "must be a FHIR Dosage", id="a string"),
    pytest.param('{"sequence": NaN}', "NaN is not a number", id="not a number"),
    pytest.param("", "is empty", id="empty"),
    pytest.param(" \n \n", "is empty", id="blank lines"),
]


@pytest.mark.parametrize(("text", "sentence"), UNREADABLE)
def test_a_line_that_cannot_be_read_is_one_sentence_and_nothing_is_written(
    text: str, sentence: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert doses(tmp_path, json.dumps(MORNING) + "\n" + text if text.strip() and "line" not in sentence else text) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert sentence in said.err
    assert "orders.jsonl" in said.err
    assert said.err.count("\n") == 1


@pytest.mark.parametrize(
    "words", [["--from", "2026-02-30", "--days", "2"], ["--from", "2026-03-02", "--days", "0"], ["--from", "20260302", "--days", "1"]]
)
def test_a_day_or_a_number_of_days_that_does_not_exist_is_bad_usage(words: list[str]) -> None:
    with pytest.raises(SystemExit) as stopped:
        main(["doses", *words, "-"])
    assert stopped.value.code == 2


def test_a_file_that_is_not_there_is_one_sentence(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["doses", "--from", "2026-03-02", "--days", "1", str(tmp_path / "none.jsonl")]) == 2
    assert "cannot be read" in capsys.readouterr().err


def test_a_timetable_file_settles_the_dosing_times(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    timetable = tmp_path / "home.json"
    timetable.write_text(
        '{"slots": [{"name": "early", "time": "07:15", "when": ["MORN"]}, {"name": "late", "time": "19:15"}], "twice": ["early", "late"]}'
    )
    repeat = {"frequency": 1, "period": 12, "periodUnit": "h"}
    assert doses(tmp_path, json.dumps(MORNING | {"timing": {"repeat": repeat}}), "--timetable", str(timetable)) == 0
    answer = json.loads(capsys.readouterr().out)
    assert [(dose["slot"], dose["time"]) for dose in answer["doses"]] == [("early", "07:15"), ("late", "19:15")] * 2


def test_a_timetable_that_cannot_be_used_is_one_sentence(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    timetable = tmp_path / "home.json"
    timetable.write_text('{"slots": [{"name": "early", "time": "7"}]}')
    assert doses(tmp_path, json.dumps(MORNING), "--timetable", str(timetable)) == 2
    assert "slots[0].time must be a clock time such as 08:00." in capsys.readouterr().err


def test_help_shows_an_example(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(["doses", "--help"])
    assert "dosewright doses --from 2026-03-02 --days 7" in capsys.readouterr().out

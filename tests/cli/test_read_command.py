"""`dosewright read` as a Unix tool: what goes where, exit codes, one clear sentence for what cannot be read."""

import json
from pathlib import Path

import pytest

from dosewright.config.command import main


def read(folder: Path, text: str, *words: str) -> int:
    file = folder / "directions.txt"
    file.write_bytes(text.encode())
    return main(["read", *words, str(file)])


def test_a_line_comes_back_with_its_keys_in_a_fixed_order(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert read(tmp_path, "Take 1 tablet in the morning and half at bedtime\n") == 0
    assert capsys.readouterr().out == (
        '{"text": "Take 1 tablet in the morning and half at bedtime", "status": "read", "dosage": ['
        '{"timing": {"repeat": {"frequency": 1, "period": 1, "periodUnit": "d", "when": ["MORN"]}}, '
        '"doseAndRate": [{"doseQuantity": {"value": 1, "unit": "tablet"}}]}, '
        '{"timing": {"repeat": {"frequency": 1, "period": 1, "periodUnit": "d", "when": ["HS"]}}, '
        '"doseAndRate": [{"doseQuantity": {"value": 0.5, "unit": "tablet"}}]}], '
        '"plain": {"en": "Take 1 tablet in the morning and half a tablet at bedtime."}, "assumed": [], "questions": []}\n'
    )


def test_a_question_carries_its_choices_with_two_weeks_of_doses(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert read(tmp_path, "Take 1-2 tablets at night") == 1
    answer = json.loads(capsys.readouterr().out)
    (question,) = answer["questions"]
    assert list(answer) == ["text", "status", "dosage", "plain", "assumed", "questions"]
    assert (answer["status"], answer["dosage"], list(question)) == ("decide", [], ["code", "message", "span", "choices"])
    assert (question["code"], question["message"]) == ("read.dose-range", '"1-2 tablets" is a range. Choose one amount.')
    assert answer["text"][slice(*question["span"])] == "1-2 tablets"
    said = [choice["plain"]["en"] for choice in question["choices"]]
    assert said == ["Take 1 tablet at bedtime.", "Take 2 tablets at bedtime."]
    doses = question["choices"][1]["doses"]
    assert doses[0] == {"day": 1, "weekday": "mon", "slot": "bedtime", "time": "22:00", "quantity": "2", "unit": "tablet"}
    assert [dose["day"] for dose in doses] == list(range(1, 15))


def test_a_choice_that_starts_on_a_day_shows_the_doses_from_that_day(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert read(tmp_path, "Take 1 tablet at night from 03/04/2026", "--country", "CA") == 1
    (question,) = json.loads(capsys.readouterr().out)["questions"]
    said = [(choice["doses"][0]["weekday"], len(choice["doses"]), choice["doses_status"]) for choice in question["choices"]]
    assert said == [("fri", 14, "scheduled"), ("wed", 14, "scheduled")]  # 3 April and 4 March 2026


def test_a_choice_without_doses_says_why(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert read(tmp_path, "One in the morning and one at night when required") == 1
    (question,) = json.loads(capsys.readouterr().out)["questions"]
    assert [(choice["plain"]["en"], choice["doses_status"], choice["doses"]) for choice in question["choices"]] == [
        ("When needed take 1 in the morning and 1 at bedtime.", "as-needed", []),
        ("Take 1 in the morning. Take 1 at bedtime when needed.", "decide", []),
    ]


def test_a_json_line_says_its_own_setting(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    line = {"text": "5 mg le matin", "lang": "fr", "country": "FR", "form": "tablet", "strength": "10 mg"}
    assert read(tmp_path, json.dumps(line)) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["plain"] == {"en": "Take half a tablet in the morning.", "fr": "Prendre un demi-comprimé le matin."}
    assert [note["code"] for note in answer["assumed"]] == ["read.in-units"]


def test_the_country_settles_what_a_country_settles(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert read(tmp_path, "1 od\n", "--country", "GB") == 0
    assert read(tmp_path, "1 od\n", "--country", "US") == 1
    assert read(tmp_path, json.dumps({"text": "1 od", "country": None})) == 1
    assert [json.loads(line)["status"] for line in capsys.readouterr().out.splitlines()] == ["read", "decide", "decide"]


def test_an_empty_direction_is_refused_and_the_lines_beside_it_are_read(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert read(tmp_path, '1 nocte\r\n\n{"text": ""}\n', "--country", "GB") == 1
    answers = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    assert [answer["status"] for answer in answers] == ["read", "refuse", "refuse"]
    assert answers[1]["questions"][0]["code"] == "read.empty"


def test_an_amount_that_fhir_cannot_hold_is_a_question(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert read(tmp_path, "Take 5/7 tablet daily", "--country", "US") == 1
    (question,) = json.loads(capsys.readouterr().out)["questions"]
    assert (question["code"], question["choices"]) == ("read.odd-fraction", [])


def test_a_language_without_tables_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert read(tmp_path, "1 compressa al mattino", "--lang", "it") == 1
    assert json.loads(capsys.readouterr().out)["questions"][0]["code"] == "read.language"


UNREADABLE = [
    pytest.param("", "is empty", id="an empty file"),
    pytest.param('1 bd\n{"text": ', "line 2", id="JSON that ends early"),
    pytest.param('{"directions": "1 bd"}', "field directions", id="a field that is not known"),
    pytest.param('{"lang": "en"}', "text is missing", id="no text"),
    pytest.param('{"text": 5}', "field text: must be text", id="a text that is a number"),
]


@pytest.mark.parametrize(("text", "said"), UNREADABLE)
def test_what_cannot_be_read_is_said_in_one_sentence_and_nothing_is_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], text: str, said: str
) -> None:
    assert read(tmp_path, text) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert said in captured.err
    assert captured.err.count("\n") == 1

"""Bad input: one clear sentence and exit 2 with nothing written, or findings and exit 1 where a part can be used. Never a traceback."""

import time

import pytest
from tests.cli.bad_inputs import BAD_MEDICINES, BAD_OPTIONS, BAD_ORDERS, GOOD_ORDERS
from tests.core.interop.interop_makers import MEDICINES
from tests.house.source_tree import ROOT
from tools.write_bad_input import KEPT, Answer, answers, page, try_plan


@pytest.fixture(scope="module")
def answered() -> dict[str, Answer]:
    return {answer.name: answer for answer in answers()}


@pytest.mark.parametrize("name", [*BAD_ORDERS, *BAD_MEDICINES, *BAD_OPTIONS])
def test_bad_input_is_a_sentence_or_findings(name: str, answered: dict[str, Answer]) -> None:
    answer = answered[name]
    assert answer.exit_code in (1, 2)
    assert not any("Traceback" in line for line in answer.lines)
    if answer.exit_code == 2:
        assert len([line for line in answer.lines if line.startswith("dosewright plan: ")]) == 1
        assert answer.files == {"plan.json": KEPT}
    else:
        assert answer.lines[0].startswith(("stop: ", "decide: "))
        assert {"findings.json", "plan.json"} <= set(answer.files)
        assert answer.files["plan.json"] != KEPT
        assert not [file for file in answer.files if file.startswith(".")]


def test_a_refusal_names_the_file(answered: dict[str, Answer]) -> None:
    files = ("orders", "medicines.csv")
    refused = [answered[name] for name in (*BAD_ORDERS, *BAD_MEDICINES) if answered[name].exit_code == 2]
    assert len(refused) > 20
    assert not [one.name for one in refused if not one.lines[-1].removeprefix("dosewright plan: ").startswith(files)]


def test_a_file_that_is_too_large_is_not_read_first() -> None:
    began = time.process_time()
    assert try_plan("200 MB", BAD_ORDERS["a file of 200 MB"], MEDICINES).exit_code == 2
    assert time.process_time() - began < 1


def test_right_input_is_not_refused() -> None:
    """The rows above spoil this one."""
    answer = try_plan("right", GOOD_ORDERS, MEDICINES)
    assert answer.exit_code == 0, answer.lines
    assert {"plan.json", "findings.json", "labels.pdf", "fill.pdf", "record.pdf"} == set(answer.files)


def test_the_page_of_bad_input_is_up_to_date() -> None:
    assert (ROOT / "docs" / "bad-input.md").read_text("utf-8") == page(), "run: .venv/bin/python -m tools.write_bad_input"

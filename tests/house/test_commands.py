"""Every subcommand can be asked for help and shows an example; every command in the documents exists."""

import re

import pytest
from tests.house.source_tree import documents, tracked_text

from dosewright.config.command import COMMANDS, main


@pytest.mark.parametrize("name", COMMANDS)
def test_help_shows_an_example(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as done:
        main([name, "--help"])
    shown = capsys.readouterr().out
    assert done.value.code == 0
    assert f"dosewright {name}" in shown.split("xample", 1)[1], "no example"


def test_every_command_that_the_documents_show_exists() -> None:
    shown = {
        (str(path), command)
        for path in documents()
        for command in re.findall(r"(?:^ {4}|`)dosewright ([a-z]+)", tracked_text()[path], re.MULTILINE)
    }
    assert shown
    assert not [(path, command) for path, command in shown if command not in COMMANDS]

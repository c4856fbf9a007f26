"""What a joining rule begins with is written in a table, so that most rules need not be asked. The table must leave no rule out."""

import pytest
from tests.core.regimen.reading.test_worked_directions import LINES, parts
from tools.random_lines import random_line, setting_of

from dosewright.core.regimen.reading import folding
from dosewright.core.regimen.reading.read import read
from dosewright.core.regimen.reading.reading_values import Setting

WORKED = [(text, Setting(lang, country)) for lang, country, text, _ in map(parts, LINES)]
RANDOM = [(random_line(11, number, setting), setting) for number in range(2000) for setting in [setting_of(11, number)]]


def test_asking_every_rule_everywhere_gives_the_same_answers(monkeypatch: pytest.MonkeyPatch) -> None:
    """Lines are read anew each time: an answer that was kept would agree with itself."""
    lines = [*WORKED, *RANDOM]
    quick = [read.__wrapped__(text, setting) for text, setting in lines]
    monkeypatch.setattr(folding, "_HEADS", {})
    slow = [read.__wrapped__(text, setting) for text, setting in lines]
    assert [text for (text, _), one, other in zip(lines, quick, slow, strict=True) if one != other] == []

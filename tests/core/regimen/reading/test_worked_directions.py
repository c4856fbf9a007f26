"""Some hundreds of directions in four languages, each with what it must be read as, or what must be asked about it."""

from collections import Counter
from pathlib import Path

import pytest
from tests.core.regimen.reading.brief_form import in_brief

from dosewright.core.paper.say import say
from dosewright.core.regimen.reading.read import read
from dosewright.core.regimen.reading.reading_values import ReadingStatus, Setting
from dosewright.core.units.finding import Finding, Severity

TABLE = Path(__file__).parents[3] / "cases" / "worked_directions.txt"
LINES = [line for line in TABLE.read_text(encoding="utf-8").splitlines() if line and not line.startswith("#")]


def parts(line: str) -> tuple[str, str, str, str]:
    setting, _, rest = line.partition(" | ")
    text, _, expected = rest.rpartition(" => ")
    lang, country = setting.split()
    return lang, country, text.replace("\\n", "\n"), expected


@pytest.mark.parametrize("lang", ["en", "fr", "es", "de"])
def test_every_worked_direction_is_read_as_the_table_says(lang: str) -> None:
    wrong = []
    for line in LINES:
        said, country, text, expected = parts(line)
        if said == lang:
            found = in_brief(read(text, Setting(said, country)))
            if found.split() != expected.split():
                wrong.append(f"{text!r}: expected {expected!r}, found {found!r}")
    assert not wrong, "\n".join(wrong)


def test_the_table_holds_every_language_and_outcome() -> None:
    found = Counter((parts(line)[0], parts(line)[3][:1] if parts(line)[3][:1] in "?!" else "read") for line in LINES)
    assert all(found[lang, outcome] >= 2 for lang in ("en", "fr", "es", "de") for outcome in ("read", "?", "!"))
    assert sum(count for (_, outcome), count in found.items() if outcome == "read") > 400


def test_everything_asked_or_noted_has_its_sentence() -> None:
    """Every fact that a sentence names is there; every span lies in the text."""
    readings = [(text, read(text, Setting(lang, country))) for lang, country, text, _ in map(parts, LINES)]
    readings += [(text, read(text, setting)) for text, setting in (("", Setting()), ("x" * 500, Setting()), ("1", Setting("it")))]
    readings += [
        ("2 mg daily", read("2 mg daily", Setting("en", "GB", "tablet", "5 mg"))),
        ("Tkae 1 daily", read("Tkae 1 daily", Setting())),
    ]
    for text, reading in readings:
        for question in reading.questions:
            assert say(Finding(question.code, Severity.DECIDE, facts=question.facts)).endswith((".", "?")), question
            assert 0 <= question.span[0] <= question.span[1] <= len(text)
        assert all(say(finding) for finding in (*reading.assumed, *reading.notes))
        assert bool(reading.dosages) == (reading.status is ReadingStatus.READ)
        assert bool(reading.questions) == (reading.status is not ReadingStatus.READ)

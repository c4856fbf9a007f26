"""Sentences in four languages, each looked over by a person: none changes unseen, and each reads back to what it was made from."""

import pytest
from tools.write_sentences import FILE, blocks

from dosewright.core.regimen.reading.read import read
from dosewright.core.regimen.reading.reading_values import ReadingStatus, Setting
from dosewright.core.regimen.words.say_plain import PHRASEBOOKS

LINES = FILE.read_text("utf-8").splitlines()


def test_every_sentence_is_the_one_that_was_looked_over() -> None:
    changed = [(kept, now) for kept, now in zip(LINES, blocks("\n".join(LINES)), strict=True) if kept != now]
    assert changed == [], "each: as it was, as it is now; look at them, then tools.write_sentences"
    directions = [line for line in LINES if line and not line.startswith(("#", "  "))]
    assert len(directions) > 150
    assert len(directions) == len(set(directions))


@pytest.mark.parametrize("lang", PHRASEBOOKS)
def test_nearly_all_have_a_sentence_and_it_is_no_question(lang: str) -> None:
    said = [line.partition(": ")[2] for line in LINES if line.startswith(f"  {lang}: ")]
    sentences = [one for one in said if one != "-"]
    assert len(sentences) > 0.9 * len(said)
    country = {"en": "GB", "fr": "FR", "es": "ES", "de": "DE"}[lang]
    assert [one for one in sentences if read(one, Setting(lang, country)).status is ReadingStatus.REFUSE] == []

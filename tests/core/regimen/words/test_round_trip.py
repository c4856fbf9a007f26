"""What is said reads back: structure → sentence → the same doses, in four languages and both number styles."""

from collections import Counter
from collections.abc import Sequence

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from tests.core.regimen.words.structures import same_meaning, structures

from dosewright.core.regimen.dosage import Dosage
from dosewright.core.regimen.reading.read import read
from dosewright.core.regimen.reading.reading_values import ReadingStatus, Setting
from dosewright.core.regimen.words.say_plain import PHRASEBOOKS, say_plain
from dosewright.core.units.amount_words import NumberStyle
from dosewright.core.units.safe_text import check_safe_text

QUICK = settings(max_examples=50, deadline=None, suppress_health_check=[HealthCheck.filter_too_much, HealthCheck.too_slow])


@pytest.mark.parametrize("style", ["digits", "words"])
@pytest.mark.parametrize("lang", PHRASEBOOKS)
def test_a_sentence_reads_back_to_the_same_doses(lang: str, style: NumberStyle) -> None:
    @QUICK
    @given(structures(lang))
    def check(dosages: Sequence[Dosage]) -> None:
        sentence = say_plain(dosages, lang, style)
        assume(sentence is not None)
        assert sentence is not None
        reading = read(sentence, Setting(lang, {"en": "GB", "fr": "FR", "es": "ES", "de": "DE"}[lang]))
        assert reading.status is ReadingStatus.READ, (sentence, reading.questions)
        assert same_meaning(reading.dosages) == same_meaning(dosages), sentence

    check()


@QUICK
@given(st.data(), st.sampled_from(sorted(PHRASEBOOKS)))
def test_every_sentence_obeys_the_safe_text_rules(data: st.DataObject, lang: str) -> None:
    sentence = say_plain(data.draw(structures(lang)), lang)
    assert sentence is None or not check_safe_text(sentence)


def test_most_structures_can_be_said() -> None:
    """The strategy reaches structures that have a sentence and few that have none: else the round trip would prove nothing."""
    found: Counter[bool] = Counter()

    @settings(max_examples=200, deadline=None)
    @given(structures("en"))
    def count(dosages: Sequence[Dosage]) -> None:
        found[say_plain(dosages, "en") is not None] += 1

    count()
    assert found[True] > 3 * found[False]

"""Words beside a schedule: which leave it as it is, in which language, beside which times."""

import pytest

from dosewright.core.regimen.reading.instructions import changes_nothing

QUIET = [
    ("en", "Take with food"), ("en", "swallow whole, do not crush or chew"), ("en", "for high blood pressure"), ("en", "to help you sleep"),
    ("en", "with a full glass of water on an empty stomach"), ("fr", "à jeun"), ("fr", "avec un grand verre d'eau"), ("es", "en ayunas"),
    ("de", "unzerkaut mit Wasser"), ("de", "nach dem Essen"),
]  # fmt: skip


@pytest.mark.parametrize(("lang", "words"), QUIET)
def test_instructions_and_reasons_change_nothing(lang: str, words: str) -> None:
    assert changes_nothing(words, lang, ())
    assert changes_nothing(words, lang, ("HS",))


LOUD = [
    "Do not take on Sundays", "twice a day", "2 tablets", "for 7 days", "if pain", "when needed", "with each meal", "at night",
    "as directed", "half the dose", "with blorp", "", "or", "then stop", "start tomorrow", "OD", "max 4 a day", "not with milk",
]  # fmt: skip


@pytest.mark.parametrize("words", LOUD)
def test_what_says_anything_of_the_schedule_is_not_an_instruction(words: str) -> None:
    assert not changes_nothing(words, "en", ())


MEALS = [
    pytest.param("with meals", (), True, id="a count says how often"),
    pytest.param("with meals", ("EVE", "MORN"), True, id="each has its meal"),
    pytest.param("with meals", ("MORN",), False, id="several meals, one time"),
    pytest.param("with meals", ("HS",), False, id="bedtime has no meal"),
    pytest.param("with meals", ("clock",), False, id="a clock time has none that is known"),
    pytest.param("pc", ("MORN",), True, id="after food in the morning"),
    pytest.param("ac", ("HS",), False, id="before meals and at bedtime"),
]


@pytest.mark.parametrize(("words", "named", "expected"), MEALS)
def test_meals_beside_named_times_may_add_to_them(words: str, named: tuple[str, ...], *, expected: bool) -> None:
    assert changes_nothing(words, "en", named) is expected


def test_a_language_without_tables_understands_nothing() -> None:
    assert not changes_nothing("con cibo", "it", ())

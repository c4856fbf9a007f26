"""What is said with the second of two times never spreads over the first in silence. Wordings: common practice, no source."""

from itertools import product

import pytest

from dosewright.core.regimen.reading.read import read
from dosewright.core.regimen.reading.reading_values import ReadingStatus, Setting

JOINTS = [", ", ". ", "; ", " - ", " (", "\n", " and "]
AND = {"en": " and ", "fr": " et ", "es": " y ", "de": " und "}
WORDS = {  # an amount with its first time of day, what may be of the second alone, the second time
    "en": (
        "1 tablet in the morning",
        ["on Mondays", "at weekends", "every other day", "for 5 days", "until 1 March 2027"],
        "at bedtime",
    ),
    "fr": (
        "1 comprimé le matin",
        ["le lundi", "le week-end", "un jour sur deux", "pendant 5 jours", "jusqu'au 1er mars 2027"],
        "au coucher",
    ),
    "es": (
        "1 comprimido en el desayuno",
        ["los lunes", "los fines de semana", "cada dos días", "durante 5 días", "hasta el 1 de marzo de 2027"],
        "en la cena",
    ),
    "de": ("1 Tablette morgens", ["montags", "am Wochenende", "alle zwei Tage", "5 Tage lang", "bis zum 1. März 2027"], "abends"),
}


@pytest.mark.parametrize("lang", WORDS)
def test_what_stands_with_the_second_time_is_asked(lang: str) -> None:
    amount, held, second = WORDS[lang]
    lines = [
        f"{amount}{AND[lang] if joint == ' and ' else joint}{one} {second}{')' if '(' in joint else ''}"
        for joint, one in product(JOINTS, held)
    ]
    assert [line for line in lines if read(line, Setting(lang)).status is ReadingStatus.READ] == []


@pytest.mark.parametrize("lang", WORDS)
def test_what_stands_before_a_list_or_behind_it_holds_for_all_of_it(lang: str) -> None:
    """Else every line would be asked, and the test above would prove nothing."""
    amount, held, second = WORDS[lang]
    lines = [f"{amount}{AND[lang]}{second} {one}" for one in held]
    assert [line for line in lines if read(line, Setting(lang)).status is not ReadingStatus.READ] == []

"""A time that may be that of an instruction, of a reason or of one dose alone is asked. Wordings: common practice, no source."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tools.write_spellings import FILE

from dosewright.core.regimen.reading.read import read
from dosewright.core.regimen.reading.reading_values import ReadingStatus, Setting

ROWS = [line.split(" | ") for line in FILE.read_text("utf-8").splitlines() if not line.startswith("#")]
DAILY = {"en": "1 tablet daily", "fr": "1 comprimé par jour", "es": "1 comprimido al día", "de": "1 Tablette täglich"}
TIMES = {
    "en": [
        "on Sundays",
        "at night",
        "in the morning",
        "for 3 days",
        "every 4 hours",
        "twice a day",
        "when needed",
        "until 5 May 2027",
        "at 09:00",
    ],
    "fr": [
        "le dimanche",
        "le soir",
        "pendant 3 jours",
        "toutes les 4 heures",
        "2 fois par jour",
        "si besoin",
        "jusqu'au 5 mai 2027",
        "à 9h",
    ],
    "es": ["los domingos", "por la mañana", "durante 3 días", "cada 4 horas", "2 veces al día", "si precisa", "a las 9:00"],
    "de": ["sonntags", "abends", "für 3 Tage", "alle 4 Stunden", "2-mal täglich", "bei Bedarf", "bis zum 5. Mai 2027", "um 9 Uhr"],
}


def instructions(lang: str, role: str) -> list[str]:
    """The spellings of one role, but for those that end with a number or a time of their own."""
    return [words for tongue, means, words in ROWS if tongue == f"{lang} *" and means == f"INSTR {role}".strip()]


@pytest.mark.parametrize("lang", TIMES)
def test_no_time_after_an_instruction_of_another_matter_becomes_the_time_of_the_dose(lang: str) -> None:
    @settings(max_examples=80)
    @given(st.sampled_from(instructions(lang, "")), st.sampled_from(TIMES[lang]), st.sampled_from([". ", ", ", " "]))
    def check(instruction: str, time: str, joint: str) -> None:
        line = f"{DAILY[lang]}{joint}{instruction} {time}"
        assert read(line, Setting(lang)).status is not ReadingStatus.READ, line

    check()


@pytest.mark.parametrize("lang", TIMES)
def test_an_instruction_alone_and_a_time_before_it_are_read_as_ever(lang: str) -> None:
    """Else every line with an instruction would be a question, and the property above would prove nothing."""
    for role in ("", "how"):
        lines = [f"{DAILY[lang]}. {words}" for words in instructions(lang, role)]
        asked = [line for line in lines if read(line, Setting(lang)).status is not ReadingStatus.READ]
        assert len(asked) <= len(lines) // 20, asked[:5]


@pytest.mark.parametrize("thing", [words for tongue, means, words in ROWS if means == "INSTR thing"])
def test_the_name_of_another_thing_is_asked_but_in_a_list_of_what_to_avoid(thing: str) -> None:
    assert [q.code for q in read(f"1 tablet daily and {thing}", Setting("en")).questions] == ["read.other-thing"]
    assert read(f"1 tablet daily. Avoid alcohol and {thing}", Setting("en")).status is ReadingStatus.READ

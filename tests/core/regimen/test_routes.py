"""By which way a medicine is given: what is not by mouth is never taken for it. Wordings: common practice, no source."""

import pytest
from tools.write_spellings import FILE

from dosewright.core.regimen.dosage import Coding, Dosage
from dosewright.core.regimen.reading.read import read
from dosewright.core.regimen.reading.reading_values import ReadingStatus, Setting
from dosewright.core.regimen.routes import by_mouth, other_way
from dosewright.core.regimen.words.say_plain import PHRASEBOOKS, say_plain

SNOMED = "http://snomed.info/sct"
ORAL = [  # the codings: HL7 FHIR R4 (4.0.1), official examples of MedicationRequest
    Coding(SNOMED, "26643006", "Oral Route"),
    Coding(SNOMED, "26643006", "by mouth; Oral route (qualifier value)"),
    Coding(SNOMED, "260548002", "Oral"),
    Coding(SNOMED, "26643006"),
    Coding(text="P.O."),
]
OTHER = [
    Coding(SNOMED, "16857009", "Vaginal Route"),
    Coding(SNOMED, "255560000", "Intravenous"),
    Coding(SNOMED, "359540000", "Topical (qualifier value)"),
    Coding(SNOMED, "26643006", "per rectum"),  # a code and words that differ
    Coding(text="by mouth; per rectum"),
    Coding(SNOMED, "1"),
    Coding(text="xyz"),
]
BY_MOUTH = {
    "en": {"by mouth", "by oral route", "oral", "orally", "per oral", "per os", "po", "via mouth"},
    "fr": {"oral", "orale", "par bouche", "par la bouche", "par voie orale", "per os", "po", "voie orale"},
    "es": {"oral", "po", "por boca", "por la boca", "por via oral", "por vía oral", "via oral", "vo", "vía oral"},
    "de": {"durch den mund", "oral", "per os", "peroral", "po"},
}


@pytest.mark.parametrize("route", ORAL, ids=str)
def test_what_says_by_mouth_is_by_mouth(route: Coding) -> None:
    assert by_mouth(route)
    assert not other_way([Dosage(route=route)])


@pytest.mark.parametrize("route", OTHER, ids=str)
def test_every_other_way_is_told_apart_known_or_not(route: Coding) -> None:
    assert not by_mouth(route)
    assert other_way([Dosage(), Dosage(route=route)]) == (route.text or route.code)


@pytest.mark.parametrize("lang", BY_MOUTH)
def test_of_the_routes_that_the_reader_knows_these_and_no_others_are_by_mouth(lang: str) -> None:
    rows = [line.split(" | ") for line in FILE.read_text("utf-8").splitlines() if line.startswith(f"{lang} ")]
    known = {words for _, means, words in rows if means.split()[0] == "ROUTE"}
    assert {words for words in known if by_mouth(Coding(text=words))} == BY_MOUTH[lang]


KEPT = [
    ("en", "1 tablet PR daily", "PR"),
    ("en", "1 tab crushed via PEG bd", "via PEG"),
    ("en", "Insert 1 tablet at night", "Insert"),
    ("en", "Inhale 1 capsule daily", "Inhale"),
    ("en", "1 tablet under the tongue when needed", "under the tongue"),
    ("en", "Take 1 tablet daily, dissolve under the tongue", "dissolve under the tongue"),
    ("fr", "Inhaler 1 gélule par jour", "Inhaler"),
    ("fr", "1 comprimé le matin, à laisser fondre sous la langue", "à laisser fondre sous la langue"),
    ("es", "1 comprimido sublingual al día", ""),  # a sublingual tablet: its form keeps it out
    ("es", "1 comprimido debajo de la lengua al día", "debajo de la lengua"),
    ("de", "1 Kapsel täglich inhalieren", "inhalieren"),
    ("de", "1 Tablette unter die Zunge morgens", "unter die Zunge"),
    ("en", "Apply 1 patch weekly", ""),  # the unit says it
]


@pytest.mark.parametrize(("lang", "text", "way"), KEPT)
def test_words_of_another_way_are_kept_with_the_reading(lang: str, text: str, way: str) -> None:
    reading = read(text, Setting(lang))
    assert reading.status is ReadingStatus.READ
    assert other_way(reading.dosages) == way


@pytest.mark.parametrize("lang", PHRASEBOOKS)
def test_no_sentence_says_take_for_what_is_given_another_way(lang: str) -> None:
    """What has no plain words of its own keeps the words that were received."""
    by_mouth_, under, rectal = (read(f"1 tablet {way} daily", Setting("en")).dosages for way in ("po", "sl", "PR"))
    assert say_plain(rectal, lang) is None
    plain, tongue = say_plain(by_mouth_, lang), say_plain(under, lang)
    assert plain
    assert tongue
    assert tongue.startswith(plain)
    assert other_way(read(tongue, Setting(lang)).dosages)

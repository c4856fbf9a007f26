"""What a country, a language and the ordered product settle; everything else is asked."""

import re

import pytest
from tests.core.regimen.reading.brief_form import in_brief

from dosewright.core.regimen.reading import english, french, german, spanish
from dosewright.core.regimen.reading.grammar import SHARED
from dosewright.core.regimen.reading.languages import LANGUAGES, find_language
from dosewright.core.regimen.reading.read import LONGEST_LINE, read
from dosewright.core.regimen.reading.reading_values import ReadingStatus, Setting

GRAMMARS = {"en": english.GRAMMAR, "fr": french.GRAMMAR, "es": spanish.GRAMMAR, "de": german.GRAMMAR}

BY_COUNTRY = [
    pytest.param("1 od", "GB", "1 x1/1d", id="od is once daily in the UK"),
    pytest.param("1 od", "NZ", "1 x1/1d", id="and in New Zealand"),
    pytest.param("1 od", "US", "?abbreviation", id="and the right eye in the United States"),
    pytest.param("1 od", "", "?abbreviation", id="not settled without a country"),
    pytest.param("1 with dinner", "US", "1 x1/1d @CV", id="dinner is the evening in the United States"),
    pytest.param("1 with dinner", "GB", "?word", id="and nothing certain in the UK"),
    pytest.param("1 with lunch and dinner", "GB", "1 x2/1d @CD,CV", id="lunch beside it settles dinner"),
    pytest.param("1 with breakfast, dinner and tea", "GB", "1 x3/1d @CM,CD,CV", id="tea beside it settles dinner the other way"),
    pytest.param("1 with tea", "US", "?unknown-word", id="tea is a drink in the United States"),
    pytest.param("1 with supper", "CA", "1 x1/1d @CV", id="supper is the evening in Canada"),
    pytest.param("1 with supper", "GB", "?word", id="supper may be bedtime in the UK"),
    pytest.param("1 bd 5/7", "IE", "1 x2/1d for 5d", id="5/7 is five days in Ireland"),
    pytest.param("1 bd 5/7", "US", "?no-match", id="5/7 is no custom in the United States"),
    pytest.param("1 daily until 03/04/2026", "GB", "1 x1/1d from  to 2026-04-03", id="day first"),
    pytest.param("1 daily until 03/04/2026", "US", "1 x1/1d from  to 2026-03-04", id="month first"),
    pytest.param("1 daily until 03/04/2026", "CA", "?word", id="either in Canada"),
    pytest.param("1 daily until 13/04/2026", "CA", "1 x1/1d from  to 2026-04-13", id="there is no month 13"),
    pytest.param("1 od", "uk", "1 x1/1d", id="the country's other name"),
]


@pytest.mark.parametrize(("text", "country", "expected"), BY_COUNTRY)
def test_a_country_settles_what_it_settles_in_the_trade(text: str, country: str, expected: str) -> None:
    assert in_brief(read(text, Setting("en", country))).split() == expected.split()


MEALS = [("FR", "1 tablet x1/1d @CD"), ("CA", "1 tablet x1/1d @CM"), ("BE", "?word"), ("", "?word")]


@pytest.mark.parametrize(("country", "expected"), MEALS)
def test_dejeuner_is_lunch_in_france_and_breakfast_in_canada(country: str, expected: str) -> None:
    assert in_brief(read("1 comprimé au déjeuner", Setting("fr", country))) == expected


def test_a_region_in_the_language_tag_is_a_country() -> None:
    assert in_brief(read("1 od", Setting("en-GB"))) == "1 x1/1d"
    assert in_brief(read("1 od", Setting("en_US"))) == "?abbreviation"


PRODUCTS = [
    pytest.param("5 mg daily", "tablet", "5 mg", "1 tablet x1/1d", id="one tablet"),
    pytest.param("7.5 mg daily", "tablet", "5 mg", "1.5 tablet x1/1d", id="one and a half"),
    pytest.param("62.5 micrograms daily", "tablet", "0.125 mg", "0.5 tablet x1/1d", id="over units of mass"),
    pytest.param("1 g twice daily", "tablet", "500 mg", "2 tablet x2/1d", id="grams"),
    pytest.param("2 mg daily", "tablet", "5 mg", "?not-in-units", id="two fifths of a tablet"),
    pytest.param("10 mg daily", "capsule", "20 mg", "?not-in-units", id="half a capsule"),
    pytest.param("500 mg daily", "tablet", "500 mg / 30 mg", "500 mg x1/1d", id="two contents: mg stay mg"),
    pytest.param("500 mg daily", "", "", "500 mg x1/1d", id="no product: mg stay mg"),
    pytest.param("500 mg daily", "tablet", "0 mg", "500 mg x1/1d", id="a strength of nothing: mg stay mg"),
    pytest.param("1 tablet (5 mg) daily", "tablet", "5 mg", "1 tablet x1/1d", id="said twice, agreeing"),
    pytest.param("2 tablets (10 mg) daily", "tablet", "5 mg", "2 tablet x1/1d", id="the content of both"),
    pytest.param("1 tablet (20 mg) daily", "tablet", "5 mg", "?strength", id="another strength than ordered"),
    pytest.param("10 mg (2 tablets) daily", "tablet", "5 mg", "2 tablet x1/1d", id="mass first"),
    pytest.param("5 mL daily", "tablet", "5 mg", "5 mL x1/1d", id="another unit is left as it is"),
]


@pytest.mark.parametrize(("text", "form", "strength", "expected"), PRODUCTS)
def test_mg_become_units_of_the_product_only_where_that_is_exact(text: str, form: str, strength: str, expected: str) -> None:
    assert in_brief(read(text, Setting("en", "GB", form, strength))) == expected


def test_what_was_done_to_the_amount_is_named() -> None:
    (note,) = read("5 mg daily", Setting("en", "GB", "tablet", "10 mg")).assumed
    assert (note.code, note.facts["unit"]) == ("read.in-units", "mg")


MARKED = [
    ("1 qd", "US", "read.error-prone"),
    ("ii bd", "GB", "read.roman"),
    ("1 bd 5/7", "GB", "read.day-fraction"),
    ("1-0-1", "ES", "read.pattern-places"),
]


@pytest.mark.parametrize(("text", "country", "code"), MARKED)
def test_what_is_misread_elsewhere_is_read_with_a_mark(text: str, country: str, code: str) -> None:
    reading = read(text, Setting("es" if country == "ES" else "en", country))
    assert [note.code for note in reading.notes] == [code]


MISREAD = [
    "1.0 tablet daily",
    ".5 tablet daily",
    "11/2 tablets daily",
    "1-1/2 tablets daily",
    "10U at bedtime",
    "1,5 tablets daily",
    "01 tablet daily",
]


@pytest.mark.parametrize("text", MISREAD)
def test_spellings_that_people_misread_are_asked(text: str) -> None:
    assert read(text, Setting("en", "GB")).status is ReadingStatus.DECIDE


def test_long_lines_are_refused_and_unknown_languages_too() -> None:
    assert read("1 " * LONGEST_LINE, Setting()).questions[0].code == "read.too-long"
    assert read("1 compressa", Setting("it")).questions[0].code == "read.language"


@pytest.mark.parametrize("text", ["", " ", " \n\t ", ".", ", ; .", "\n\n", "(", "and", "then", "then stop", "- - -", "swallow whole", "🙂"])
def test_a_line_without_anything_to_schedule_is_refused(text: str) -> None:
    reading = read(text, Setting())
    assert (reading.status, reading.dosages) == (ReadingStatus.REFUSE, ())
    assert reading.questions


@pytest.mark.parametrize("lang", LANGUAGES)
def test_the_grammar_of_every_language_can_be_built(lang: str) -> None:
    language = find_language(lang, "")
    assert language is not None
    assert len(language.lexicon.words) > 300


def test_every_terminal_of_the_tables_is_in_the_grammar() -> None:
    """A misspelled terminal would make a word that no phrase can take: a question for ever, and nobody would know why."""
    shaped_by_the_lexer = {"NUMW", "FRACW", "ROMAN", "BY_X", "ON_NOCTE", "PARTICLE"}
    for lang in LANGUAGES:
        language = find_language(lang, "GB" if lang == "en" else "")
        assert language is not None
        known = set(re.findall(r"\b[A-Z][A-Z_]*\b", SHARED + GRAMMARS[lang]))
        used = {sense.terminal for senses in language.lexicon.all_spellings() for sense in senses}
        assert used - shaped_by_the_lexer <= known, lang


def test_no_spelling_is_two_kinds_of_words_beside_the_schedule() -> None:
    """An instruction that is a route as well would give two structures that differ in nothing that matters: a question for nothing."""
    quiet = {"VERB", "ROUTE", "SITE", "INSTR", "ALSO", "PURPOSE"}
    for lang in LANGUAGES:
        language = find_language(lang, "GB" if lang == "en" else "")
        assert language is not None
        assert all(len(quiet & {sense.terminal for sense in senses}) < 2 for senses in language.lexicon.all_spellings()), lang


def test_a_slip_of_the_keyboard_is_a_question_with_the_mended_line_as_its_choice() -> None:
    reading = read("Tkae 1 tablte in the mornign", Setting("en", "US"))
    assert [(q.code, q.facts["words"], q.facts["meant"], len(q.choices)) for q in reading.questions] == [
        ("read.spelling", "Tkae", "take", 1),
        ("read.spelling", "tablte", "tablet", 0),
        ("read.spelling", "mornign", "morning", 0),
    ]
    assert reading.questions[0].choices[0].dosages == read("Take 1 tablet in the morning", Setting("en", "US")).dosages
    assert reading.status is ReadingStatus.DECIDE


def test_the_question_is_about_the_word_that_has_two_meanings() -> None:
    (question,) = read("Take 1 tablet with dinner", Setting("en", "GB")).questions
    assert (question.facts["words"], question.span, len(question.choices)) == ("dinner", (19, 25), 2)

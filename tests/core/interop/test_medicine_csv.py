"""The medicines file: each right row becomes a medicine, each wrong field is named with file, line, field and what would be right."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.core.interop.interop_makers import catalogue, codes

from dosewright.core.interop.csv_text import CsvError
from dosewright.core.interop.medicine_csv import MEDICINE_COLUMNS, Catalogue, parse_medicines
from dosewright.core.medicines.gtin import gtin_check_digit
from dosewright.core.medicines.medicine import Shape, Size
from dosewright.core.paper.say import say
from dosewright.core.units.quantity import Quantity, Unit

GOOD = {
    "code": "x5",
    "name": "Xamine",
    "strength": "5 mg",
    "form": "tablet",
    "shape": "round",
    "length_mm": "8",
    "width_mm": "8",
    "thickness_mm": "3.2",
    "colour": "white",
    "mark": "X 5",
    "maker": "Fenwold",
    "gtin": "6291041500213",
    "pack_size": "28",
    "flags": "",
    "cautions": "",
}


def file_with(**changes: str) -> str:
    """A file of one row, its fields in quotes."""
    row = GOOD | changes
    quoted = ",".join('"' + row[name].replace('"', '""') + '"' for name in MEDICINE_COLUMNS)
    return f"{','.join(MEDICINE_COLUMNS)}\n{quoted}\n"


def parse(**changes: str) -> Catalogue:
    return parse_medicines(file_with(**changes), "medicines.csv")


def test_a_right_row_is_a_medicine() -> None:
    found = parse(flags="alone; Hazardous", cautions="Take with food; swallow whole")
    assert found.findings == ()
    (medicine,) = found.medicines
    assert medicine.size == Size(Fraction(8), Fraction(8), Fraction(16, 5))
    assert (medicine.shape, medicine.unit, medicine.pack_size) == (Shape.ROUND, Unit("tablet"), Fraction(28))
    assert medicine.strength_amount == Quantity(Fraction(5), Unit("mg"))
    assert medicine.gtin == "06291041500213"
    assert medicine.flags == {"alone", "hazardous"}
    assert medicine.cautions == ("Take with food", "swallow whole")
    assert medicine.label == "Xamine 5 mg tablet"


WRONG = [
    ("code", "", "field.missing"),
    ("name", "", "field.missing"),
    ("form", "", "field.missing"),
    ("code", "=1+1", "field.formula"),
    ("name", "@SUM(1)", "field.formula"),
    ("name", "Xam\u202eine", "field.forbidden-character"),
    ("name", "Xam\nine", "field.forbidden-character"),
    ("name", "x" * 201, "field.too-long"),
    ("strength", ".5 mg", "field.unsafe-strength"),
    ("strength", "5.0 mg", "field.unsafe-strength"),
    ("strength", "100 U", "field.unsafe-strength"),
    ("form", "thing", "medicine.unknown-form"),
    ("shape", "star", "medicine.unknown-shape"),
    ("length_mm", "-8", "field.not-an-amount"),
    ("length_mm", "8,5", "field.not-an-amount"),
    ("length_mm", "1e3", "field.not-an-amount"),
    ("length_mm", "0", "field.out-of-range"),
    ("length_mm", "8000", "field.out-of-range"),
    ("thickness_mm", "", "medicine.side-missing"),
    ("width_mm", "9", "medicine.wider-than-long"),
    ("gtin", "6291041500214", "medicine.gtin-check-digit"),
    ("gtin", "629104150021", "medicine.gtin-check-digit"),
    ("gtin", "62910416", "medicine.gtin-check-digit"),
    ("gtin", "ABC", "medicine.not-a-gtin"),
    ("gtin", "\u0661\u0662\u0663\u0664\u0665\u0666\u0667\u0668", "medicine.not-a-gtin"),
    ("pack_size", "-28", "field.not-an-amount"),
    ("pack_size", "999999999", "field.out-of-range"),
    ("flags", "hazardos", "medicine.unknown-flag"),
]


@pytest.mark.parametrize(("column", "value", "code"), WRONG)
def test_a_wrong_field_is_named_and_its_row_is_left_out(column: str, value: str, code: str) -> None:
    found = parse(**{column: value})
    assert found.medicines == ()
    assert codes(found.findings) == [code]
    where = found.findings[0].where
    assert (where["file"], where["line"], where["field"]) == ("medicines.csv", 2, column)
    assert say(found.findings[0]).startswith(f"medicines.csv, line 2, {column}: ")


def test_all_that_is_wrong_in_a_row_is_said_at_once() -> None:
    assert codes(parse(form="thing", gtin="1", pack_size="x").findings) == [
        "medicine.unknown-form",
        "medicine.not-a-gtin",
        "field.not-an-amount",
    ]


def test_a_code_that_stands_there_twice_is_used_neither_time() -> None:
    row = file_with().splitlines()[1]
    found = parse_medicines(f"{file_with()}{row}\n{row.replace('x5', 'x6', 1)}\n", "medicines.csv")
    assert [medicine.code for medicine in found.medicines] == ["x6"]
    assert codes(found.findings) == ["medicine.twice", "medicine.twice"]


def test_one_number_on_two_products_is_asked_about() -> None:
    row = file_with().splitlines()[1].replace("x5", "x6", 1)
    assert codes(parse_medicines(f"{file_with()}{row}\n", "m.csv").findings) == ["medicine.gtin-twice", "medicine.gtin-twice"]


UNITS = [
    ("tablet", "tablet"),
    ("Gastro-resistant tablet", "tablet"),
    ("modified-release capsule", "capsule"),
    ("oral solution", "mL"),
    ("powder for oral solution", "sachet"),
    ("solution for injection", "mL"),
    ("transdermal patch", "patch"),
    ("inhaler", "puff"),
    ("eye drops", "drop"),
]


@pytest.mark.parametrize(("form", "unit"), UNITS)
def test_a_form_is_counted_in_its_own_word(form: str, unit: str) -> None:
    """Source of the forms: EDQM standard terms; of the counting words: common practice, no source."""
    assert [medicine.unit for medicine in parse(form=form).medicines] == [unit]


STRENGTHS = [
    ("5mg", "5 mg", Quantity(Fraction(5), Unit("mg"))),
    ("0.5 g", "0.5 g", Quantity(Fraction(1, 2), Unit("g"))),
    ("62.5 micrograms", "62.5 micrograms", Quantity(Fraction(125, 2), Unit("microgram"))),
    ("25 mg/100 mg", "25 mg and 100 mg", None),
    ("3.35 g per 5 mL", "3.35 g per 5 mL", None),
    ("1.5 g and 400 units", "1.5 g and 400 units", None),
    ("", "", None),
]


@pytest.mark.parametrize(("written", "printed", "amount"), STRENGTHS)
def test_a_strength_is_printed_safely_and_counted_only_where_it_is_one(written: str, printed: str, amount: Quantity | None) -> None:
    (medicine,) = parse(strength=written).medicines
    assert (medicine.strength, medicine.strength_amount) == (printed, amount)


def test_optional_columns_may_be_left_out() -> None:
    found = parse_medicines("form,code,strength,name\ntablet,a,5 mg,Aname\n", "m.csv")
    assert (found.findings, found.medicines[0].size, found.medicines[0].gtin) == ((), None, None)


def test_an_unknown_column_is_refused_by_its_name() -> None:
    with pytest.raises(CsvError, match='unknown column "dose"'):
        parse_medicines("code,name,strength,form,dose\na,b,5 mg,tablet,1\n", "m.csv")


@pytest.mark.parametrize("name", ['Xamine "forte"', "Xamin\u00e9", "Xamine\u0301", "\u05ea\u05e8\u05d5\u05e4\u05d4", "Xamine, coated"])
def test_names_with_quotes_marks_and_other_scripts_are_kept(name: str) -> None:
    (medicine,) = parse(name=name).medicines
    assert len(medicine.name) in (len(name), len(name) - 1)  # a letter and its mark may become one letter
    assert medicine.name.replace("\u00e9", "e\u0301") == name.replace("\u00e9", "e\u0301")


@given(st.integers(0, 10**13 - 1))
def test_one_wrong_digit_is_always_seen(stem: int) -> None:
    """GS1 General Specifications: the check digit finds every single wrong digit."""
    digits = f"{stem:013d}"
    right = digits + gtin_check_digit(digits)
    wrong = str((int(right[4]) + 1) % 10).join((right[:4], right[5:]))
    assert parse(gtin=right).findings == ()
    assert codes(parse(gtin=wrong).findings) == ["medicine.gtin-check-digit"]


FIELD = st.one_of(st.text(max_size=20), st.sampled_from(["5 mg", "-1", "0", "1e9", "tablet", "oval", "7", ";;", '"', "\u202e"]))


@given(st.dictionaries(st.sampled_from(MEDICINE_COLUMNS), FIELD, max_size=5))
def test_any_fields_give_a_medicine_or_findings(changes: dict[str, str]) -> None:
    if "\0" in "".join(changes.values()):
        return
    found = parse(**changes)
    assert len(found.medicines) == (0 if any(one.severity == "stop" for one in found.findings) else 1)
    assert all(say(one) for one in found.findings)


def test_the_small_catalogue_is_right() -> None:
    assert catalogue().findings == ()
    assert len(catalogue().medicines) == 8

"""The medicines file → the catalogue. Comes in: CSV text. Goes out: medicines in the file's order, a finding for every wrong field.

One row is one product as it lies in the hand. A row with a wrong field is left out whole; the others are kept. Two rows with one code
are both left out. Several flags or cautions stand in one field with ";" between them.
"""

import unicodedata
from collections import Counter
from collections.abc import Collection
from dataclasses import dataclass
from fractions import Fraction

from dosewright.core.interop.characters import shown
from dosewright.core.interop.csv_text import CsvRow, parse_csv
from dosewright.core.interop.row_reader import RowReader
from dosewright.core.medicines.flags import FLAGS
from dosewright.core.medicines.form_unit import KNOWN_FORM_WORDS, unit_of_form
from dosewright.core.medicines.gtin import GTIN_LENGTHS, gtin_check_digit, parse_gtin
from dosewright.core.medicines.medicine import Medicine, Shape, Size
from dosewright.core.medicines.strength import parse_unit_strength
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import Gtin, MedicineCode
from dosewright.core.units.quantity import Quantity, Unit
from dosewright.core.units.safe_text import check_safe_text, tidy_text

__all__ = ["MEDICINE_COLUMNS", "Catalogue", "parse_medicines"]

MEDICINE_COLUMNS = (
    "code",
    "name",
    "strength",
    "form",
    "shape",
    "length_mm",
    "width_mm",
    "thickness_mm",
    "colour",
    "mark",
    "maker",
    "gtin",
    "pack_size",
    "flags",
    "cautions",
)
_REQUIRED = frozenset({"code", "name", "strength", "form"})
_LARGEST_SIDE = 60  # mm; the largest solid oral unit in the published tables is under 30
_LARGEST_PACK = 100_000
_SIDES = ("length_mm", "width_mm", "thickness_mm")
# Letters that a strength may use although a rule of safe text names them: "50 mg/12.5 mg" is printed as "50 mg and 12.5 mg".
_FATAL = frozenset({"trailing-zero", "no-leading-zero", "unit-u", "comparison-sign"})


@dataclass(frozen=True, slots=True)
class Catalogue:
    """The medicines that may be used, and what is wrong with the file."""

    medicines: tuple[Medicine, ...]
    findings: tuple[Finding, ...]

    def by_code(self) -> dict[MedicineCode, Medicine]:
        """Each medicine under its code."""
        return {medicine.code: medicine for medicine in self.medicines}


def parse_medicines(text: str, file: str, known_flags: Collection[str] = frozenset(FLAGS)) -> Catalogue:
    """Read the whole file. Raises CsvError where it is not the table asked for."""
    rows = parse_csv(text, MEDICINE_COLUMNS, _REQUIRED)
    times = Counter(row["code"] for row in rows)
    medicines: list[Medicine] = []
    findings: list[Finding] = []
    for row in rows:
        reader = RowReader(file, row, medicine=shown(row["code"]))
        if times[row["code"]] > 1 and row["code"]:
            reader.fault("code", "medicine.twice", times=times[row["code"]])
        medicine = _medicine(reader, row, known_flags)
        findings += reader.findings
        if medicine is not None:
            medicines.append(medicine)
    return Catalogue(tuple(medicines), (*findings, *_same_gtin(file, medicines)))


def _medicine(reader: RowReader, row: CsvRow, known_flags: Collection[str]) -> Medicine | None:
    form = reader.text("form", required=True).lower()
    strength = _strength(reader)
    found = Medicine(
        code=MedicineCode(reader.text("code", 60, required=True)),
        name=unicodedata.normalize("NFC", reader.text("name", required=True)),
        strength=strength,
        form=form,
        unit=_unit(reader, form),
        strength_amount=_strength_amount(strength),
        shape=_shape(reader, row["shape"]),
        size=_size(reader),
        colour=reader.text("colour"),
        mark=reader.text("mark"),
        maker=reader.text("maker"),
        gtin=_gtin(reader, row["gtin"]),
        pack_size=reader.amount("pack_size", _LARGEST_PACK),
        flags=_flags(reader, known_flags),
        cautions=_several(reader.text("cautions", 1000)),
    )
    return found if reader.usable else None


def _strength(reader: RowReader) -> str:
    """With the space between number and unit that safe text asks for. A number that can be misread by ten is a finding, not a repair."""
    written = reader.text("strength", 100)
    if broken := [rule for rule in check_safe_text(written) if rule in _FATAL]:
        reader.fault("strength", "field.unsafe-strength", rules=tuple(broken))
    return tidy_text(written, "")


def _strength_amount(strength: str) -> Quantity | None:
    amount = parse_unit_strength(strength)
    return amount if amount is not None and amount.count > 0 else None


def _unit(reader: RowReader, form: str) -> Unit:
    unit = unit_of_form(form)
    if form and unit is None:
        reader.fault("form", "medicine.unknown-form", known=KNOWN_FORM_WORDS)
    return unit or Unit("")


def _shape(reader: RowReader, value: str) -> Shape | None:
    if value and value.lower() not in list(Shape):
        reader.fault("shape", "medicine.unknown-shape", known=tuple(Shape))
        return None
    return Shape(value.lower()) if value else None


def _size(reader: RowReader) -> Size | None:
    """All three sides or none."""
    before = len(reader.findings)
    length, width, thickness = sides = [reader.amount(column, _LARGEST_SIDE) for column in _SIDES]
    if len(reader.findings) > before or not any(sides):
        return None
    if length is None or width is None or thickness is None:
        reader.fault(_SIDES[sides.index(None)], "medicine.side-missing")
        return None
    return _checked_size(reader, length, width, thickness)


def _checked_size(reader: RowReader, length: Fraction, width: Fraction, thickness: Fraction) -> Size | None:
    if width > length:
        reader.fault("width_mm", "medicine.wider-than-long", length=length, width=width)
        return None
    return Size(length, width, thickness)


def _gtin(reader: RowReader, value: str) -> Gtin | None:
    if not value:
        return None
    try:
        return parse_gtin(value)
    except ValueError:
        if value.isascii() and value.isdigit() and len(value) in GTIN_LENGTHS:
            reader.fault("gtin", "medicine.gtin-check-digit", right=gtin_check_digit(value[:-1]))
        else:
            reader.fault("gtin", "medicine.not-a-gtin")
        return None


def _flags(reader: RowReader, known: Collection[str]) -> frozenset[str]:
    flags = frozenset(flag.lower() for flag in _several(reader.text("flags")))
    if unknown := sorted(flags - set(known)):
        reader.fault("flags", "medicine.unknown-flag", unknown=tuple(unknown), known=tuple(sorted(known)))
    return flags


def _several(value: str) -> tuple[str, ...]:
    return tuple(part.strip() for part in value.split(";") if part.strip())


def _same_gtin(file: str, medicines: list[Medicine]) -> list[Finding]:
    """One number on two products would let a scan confirm the wrong one."""
    times = Counter(medicine.gtin for medicine in medicines if medicine.gtin)
    return [
        Finding(
            "medicine.gtin-twice",
            Severity.DECIDE,
            {"file": file, "field": "gtin", "medicine": medicine.code},
            {"value": medicine.gtin},
        )
        for medicine in medicines
        if medicine.gtin and times[medicine.gtin] > 1
    ]

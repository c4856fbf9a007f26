"""A medicine's record as a row of a medicines file, and that row read again with what somebody put right in it.

Comes in: a medicine, and the fields that are to say something else. Goes out: the medicine as it would stand, read by the reader of
medicines files, or what is wrong with a field. What it is (code, name, strength, form) is not among the fields: another product has a code
of its own.
"""

import csv
from collections.abc import Mapping
from fractions import Fraction
from io import StringIO

from dosewright.core.interop.medicine_csv import MEDICINE_COLUMNS, parse_medicines
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.units.finding import Finding
from dosewright.core.units.quantity import format_amount

__all__ = ["medicine_row", "read_corrected"]

_WHAT_IT_IS = ("code", "name", "strength", "form")


def medicine_row(found: Medicine) -> dict[str, str]:
    """Each field but what it is, as a file would have it."""
    size = found.size
    sides = (size.length, size.width, size.thickness) if size else ("", "", "")
    return {
        "shape": found.shape.value if found.shape else "",
        **dict(zip(("length_mm", "width_mm", "thickness_mm"), map(_amount, sides), strict=True)),
        "colour": found.colour,
        "mark": found.mark,
        "maker": found.maker,
        "gtin": found.gtin or "",
        "pack_size": _amount(found.pack_size or ""),
        "flags": "; ".join(sorted(found.flags)),
        "cautions": "; ".join(found.cautions),
    }


def _amount(value: Fraction | str) -> str:
    return format_amount(value) if isinstance(value, Fraction) else value


def read_corrected(known: Medicine, said: Mapping[str, str]) -> tuple[Medicine | None, tuple[Finding, ...]]:
    """`said`: every field of `medicine_row`. None where a field keeps it from being a medicine."""
    row = {**{name: getattr(known, name) for name in _WHAT_IT_IS}, **said}
    text = StringIO()
    writer = csv.DictWriter(text, MEDICINE_COLUMNS)
    writer.writeheader()
    writer.writerow(row)
    read = parse_medicines(text.getvalue(), "what was typed")
    return (read.medicines[0] if read.medicines else None), read.findings

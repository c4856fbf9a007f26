"""Bad input, by name: what lies in each file. `docs/bad-input.md` says for each what the plan command answers; the test compares."""

import json
from collections.abc import Callable
from pathlib import Path

from tests.core.interop.interop_makers import MEDICINES, bundle, coded, dosage, patient, request, timing

__all__ = ["BAD_MEDICINES", "BAD_OPTIONS", "BAD_ORDERS", "GOOD_ORDERS"]

GOOD_ORDERS = json.dumps(bundle(patient(), request()))
_HEADER = "person,name,order,medicine,directions,start,born\n"
_ROW = "p1,Edith Marsh,o1,biso5,Take 1 tablet in the morning,2026-03-02,1941-05-06\n"
_AMOUNT = json.dumps(
    bundle(patient(), request(dosageInstruction=[dosage(doseAndRate=[{"doseQuantity": {"value": 11, "unit": "tablet"}}])]))
)
_CYCLE = [
    {"resourceType": "Medication", "id": known, "ingredient": [{"itemReference": {"reference": other}}]}
    for known, other in (("a", "#b"), ("b", "#a"))
]


def _sparse(path: Path) -> None:
    """200 MB that take no room on the disk."""
    with path.open("wb") as file:
        file.truncate(200 * 1024 * 1024)


# Input → what lies in the orders file: text, bytes, or how to make it.
BAD_ORDERS: dict[str, str | bytes | Callable[[Path], None]] = {
    "no such file": lambda path: None,
    "a folder": lambda path: path.mkdir(),
    "an empty file": "",
    "blanks only": " \n\n",
    "a file of 200 MB": _sparse,
    "another encoding (Latin-1)": _HEADER.encode() + "p1,Zo\xe9,o1,biso5,x,,\n".encode("latin-1"),
    "another encoding (UTF-16)": _ROW.encode("utf-16"),
    "NUL bytes": _HEADER + "p1,Edith\0Marsh,o1,biso5,x,,\n",
    "truncated JSON": GOOD_ORDERS[: len(GOOD_ORDERS) // 2],
    "a JSON key twice": '{"resourceType": "Bundle", "type": "collection", "type": "batch"}',
    "NaN in JSON": '{"resourceType": "Bundle", "total": NaN}',
    "JSON nested 5,000 deep": '{"resourceType": "Bundle", "entry": ' + "[" * 5000 + "]" * 5000 + "}",
    "half of a character in JSON": '{"resourceType": "Bundle", "id": "\\ud800"}',
    "a number of 5,000 digits in JSON": '{"resourceType": "Bundle", "total": ' + "9" * 5000 + "}",
    "JSON that is no bundle": '{"resourceType": "Patient", "id": "p1"}',
    "JSON that is no resource": "[1, 2]",
    "CSV with a row too short": _HEADER + "p1,Edith Marsh,o1\n",
    "CSV with a row too long": _HEADER + _ROW.replace("morning", "morning, daily"),
    "CSV with semicolons": (_HEADER + _ROW).replace(",", ";"),
    "CSV without a header": _ROW,
    "CSV with a column that is not known": _HEADER.replace("born", "colour") + _ROW,
    "CSV with a column twice": _HEADER.replace("born", "start") + _ROW,
    "CSV with an open quote": _HEADER + 'p1,"Edith Marsh,o1,biso5,x,,\n',
    "cyclic references": json.dumps(
        bundle(patient(), request(medicationCodeableConcept=None, medicationReference={"reference": "#a"}, contained=_CYCLE))
    ),
    "an amount below nothing": _AMOUNT.replace("11", "-1"),
    "an absurd amount": _AMOUNT.replace("11", "1e30"),
    "an absurd number of tablets": _AMOUNT.replace("11", "5000000"),
    "a count of 10 billion": json.dumps(bundle(patient(), request(dosageInstruction=[dosage(timing=timing(count=10**10))]))),
    "a day that is not": json.dumps(bundle(patient(birthDate="1941-02-30"), request())),
    "a day out of range": _HEADER + _ROW.replace("2026-03-02", "9999-12-31"),
    "born in the future": _HEADER + _ROW.replace("1941-05-06", "2041-05-06"),
    "a name turned round (right-to-left override)": _HEADER + _ROW.replace("Edith", "\u202eEdith"),
    "a name that a spreadsheet runs": _HEADER + _ROW.replace("Edith Marsh", "=HYPERLINK(0)"),
    "a medicine that is not in the file": json.dumps(bundle(patient(), request(medicationCodeableConcept=coded("nope")))),
    "directions without meaning": _HEADER + _ROW.replace("Take 1 tablet in the morning", "MDU"),
}

# Input → what lies in the medicines file; the orders are right ones.
BAD_MEDICINES: dict[str, str] = {
    "medicines: a column that is not known": MEDICINES.replace("colour", "color", 1),
    "medicines: a strength with a naked decimal": MEDICINES.replace(",5 mg,tablet,biconvex", ",.5 mg,tablet,biconvex", 1),
    "medicines: a width below nothing": MEDICINES.replace(",7,7,3.2,", ",7,-7,3.2,", 1),
    "medicines: a wrong check digit": MEDICINES.replace("Brackmere,,28", "Brackmere,6291041500214,28", 1),
    "medicines: an orders file": _HEADER + _ROW,
}

# Input → options that are wrong, put behind right ones.
BAD_OPTIONS: dict[str, list[str]] = {
    "--days 0": ["--days", "0"],
    "--days 4000": ["--days", "4000"],
    "--from in another form": ["--from", "2.3.2026"],
    "--from a day that is not": ["--from", "2026-02-30"],
    "--profile that does not ship": ["--profile", "atlantis"],
    "--format that is no format": ["--format", "/dev/null/x.toml"],
    "--out that is a file": ["--out", "orders"],
}

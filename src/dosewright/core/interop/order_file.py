"""A file of orders as bytes → people, orders and findings, whichever of the two formats it is: FHIR R4 Bundle (JSON) or CSV.

Nothing is raised: what cannot be read as a whole is one finding, with the line where that is known.
"""

from collections.abc import Callable

from dosewright.core.interop.csv_text import CsvError
from dosewright.core.interop.fhir_bundle import NotABundle, parse_bundle
from dosewright.core.interop.fhir_definitions import FhirDefinitions
from dosewright.core.interop.json_text import JsonError
from dosewright.core.interop.medicine_csv import Catalogue, parse_medicines
from dosewright.core.interop.order_csv import parse_orders
from dosewright.core.interop.orders_in import OrdersIn, OrderSource
from dosewright.core.units.finding import Finding, Severity

__all__ = ["LARGEST_FILE", "kind_of", "read_medicine_file", "read_order_file"]

LARGEST_FILE = 32 * 1024 * 1024  # bytes; a home's bundle is under one megabyte


def kind_of(content: bytes) -> str:
    """ "fhir" for JSON, else "csv"."""
    return "fhir" if content.removeprefix(b"\xef\xbb\xbf").lstrip()[:1] in {b"{", b"["} else "csv"


def read_order_file(content: bytes, source: OrderSource, definitions: Callable[[], FhirDefinitions]) -> OrdersIn:
    """Everything that the file orders. `definitions` is asked for only where the file is FHIR."""
    try:
        text = _text(content)
        return parse_bundle(text, source, definitions()) if kind_of(content) == "fhir" else parse_orders(text, source)
    except (JsonError, CsvError, NotABundle, _NotText) as error:
        return OrdersIn(findings=(_unreadable(source.file, error),))


def read_medicine_file(content: bytes, file: str) -> Catalogue:
    """Every product of the file that may be used."""
    try:
        return parse_medicines(_text(content), file)
    except (CsvError, _NotText) as error:
        return Catalogue((), (_unreadable(file, error),))


class _NotText(ValueError):
    """Bytes that are no UTF-8 text of an admissible length."""


def _text(content: bytes) -> str:
    if len(content) > LARGEST_FILE:
        raise _NotText(f"it is larger than {LARGEST_FILE // 1024 // 1024} MiB; split it by home or by person.")
    if not content.strip():
        raise _NotText("it is empty.")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content[: error.start].count(b"\n") + 1
        raise _NotText(f"line {line}: byte {error.start} is not UTF-8; save the file as UTF-8.") from error


def _unreadable(file: str, error: ValueError) -> Finding:
    return Finding("custody.wrong-file", Severity.STOP, {"file": file}, {"why": str(error)})

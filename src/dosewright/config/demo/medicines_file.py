"""The medicines file of the demonstration. Its numbers lie in 952, which GS1 keeps for demonstrations and examples."""

import csv
import io

from dosewright.config.demo.sources import Product, catalogue
from dosewright.core.interop.medicine_csv import MEDICINE_COLUMNS
from dosewright.core.medicines.gtin import gtin_check_digit

__all__ = ["gtin_of", "medicines_csv"]

_DEMONSTRATION_PREFIX = "952"


def medicines_csv() -> str:
    """One row a product, in order of code."""
    out = io.StringIO()
    rows = csv.writer(out, lineterminator="\n")
    rows.writerow(MEDICINE_COLUMNS)
    rows.writerows([_field(product, column) for column in MEDICINE_COLUMNS] for product in catalogue().values())
    return out.getvalue()


def gtin_of(code: str) -> str:
    """The product's invented trade item number, 14 digits: its place in the catalogue, with the right check digit."""
    stem = f"{_DEMONSTRATION_PREFIX}{list(catalogue()).index(code) + 1:09}"
    return f"0{stem}{gtin_check_digit(stem)}"


def _field(product: Product, column: str) -> str:
    return gtin_of(product.code) if column == "gtin" else str(getattr(product, column))

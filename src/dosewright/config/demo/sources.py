"""The demonstration's two tables, read from the files beside this one: the catalogue and the people."""

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from functools import cache
from importlib import resources

__all__ = ["DemoPerson", "Product", "catalogue", "people"]


@dataclass(frozen=True, slots=True)
class Product:
    """One row of catalogue.csv. `kind` is why it is taken: nobody is given two of one kind. Sizes stay as written."""

    code: str
    name: str
    strength: str
    form: str
    shape: str
    length_mm: str
    width_mm: str
    thickness_mm: str
    colour: str
    mark: str
    maker: str
    pack_size: str
    kind: str
    flags: str
    cautions: str


@dataclass(frozen=True, slots=True)
class DemoPerson:
    """One row of people.csv. `home` and `room` are empty for people at home, `address` for the others."""

    id: str
    name: str
    born: date
    sex: str
    home: str
    room: str
    address: str


@cache
def catalogue() -> dict[str, Product]:
    """Every product by its code, in order of code."""
    return {row["code"]: Product(**row) for row in _rows("catalogue.csv")}


@cache
def people() -> tuple[DemoPerson, ...]:
    """All forty, home by home."""
    return tuple(_person(row) for row in _rows("people.csv"))


def _person(row: dict[str, str]) -> DemoPerson:
    born = date.fromisoformat(row.pop("born"))
    return DemoPerson(**row, born=born)


def _rows(name: str) -> Iterator[dict[str, str]]:
    text = (resources.files(__package__) / name).read_text("utf-8")
    return csv.DictReader(text.splitlines())

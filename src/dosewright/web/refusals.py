"""A refused address goes on record: who asked, for what, where, when (R14)."""

from dosewright.actions.refuse_address import refuse_address
from dosewright.web.request import BenchRequest, occasion

__all__ = ["record_refused_address"]


def record_refused_address(request: BenchRequest, name: str) -> None:
    """`name` is the address's name in the table, so that nothing of a person stands in the record's own words."""
    refuse_address(name, occasion(request))

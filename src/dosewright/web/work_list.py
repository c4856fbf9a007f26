"""Today's sets: who, what next, what blocks it."""

from dataclasses import dataclass

from django.http import HttpResponse

from dosewright.web.page import show
from dosewright.web.request import BenchRequest

__all__ = ["WorkList", "work_list"]


@dataclass(frozen=True, slots=True)
class WorkList:
    """."""

    rows: tuple[str, ...]


def work_list(request: BenchRequest) -> HttpResponse:
    """."""
    return show(request, "work/list.html", WorkList(()))

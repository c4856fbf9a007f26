"""Printers as they were last measured, and new measures of one, read off the measuring sheet with a ruler."""

from datetime import datetime
from typing import Annotated, Literal

from annotated_types import MaxLen
from django.http import HttpResponse
from ninja import Router, Schema

from dosewright.actions.measure_printer import measure_printer
from dosewright.api.answer import answer
from dosewright.api.door import Scope
from dosewright.api.fields import Amount, Name
from dosewright.api.offer import does, gives, offer
from dosewright.api.request import ApiRequest
from dosewright.core.custody.rights import Ability
from dosewright.core.paper.printer import Measures
from dosewright.core.units.quantity import format_amount
from dosewright.store.pharmacy import load_pharmacy, load_rules
from dosewright.store.printers import StoredPrinter, load_printers

__all__ = ["PrinterIn", "PrinterOut", "measure", "printers", "router"]

router = Router(tags=["sheets"])
_ALL = Scope.PHARMACY
_SIDES = ("left", "top", "across", "down")


class PrinterOut(Schema):
    """A printer, the paper that it was measured on and what was measured, in millimetres as exact text."""

    name: str
    dpi: int
    width: str
    height: str
    left: str
    top: str
    across: str
    down: str
    measured_by: str
    measured_at: datetime | None


class PrinterIn(Schema):
    """What was read off the ruler, in millimetres: the first mark from the left and the upper edge, the second mark across and down from
    the first."""

    name: Annotated[Name, MaxLen(60)]
    dpi: Literal[203, 300, 600]
    left: Amount
    top: Amount
    across: Amount
    down: Amount


@offer(router, gives("printers", "/printers", Ability.MEASURE_PRINTER, scope=_ALL), out=list[PrinterOut])
def printers(request: ApiRequest) -> list[dict[str, object]]:
    """Every printer, by name."""
    return [_out(stored) for stored in load_printers()]


@offer(router, does("measure-printer", "/printers", Ability.MEASURE_PRINTER, scope=_ALL))
def measure(request: ApiRequest, body: PrinterIn) -> HttpResponse:
    """A printer is added or measured again; paper drawn for it from now on is put right."""
    sheet = load_rules(load_pharmacy().rules).card_format.sheet
    measures = Measures(body.left, body.top, body.across, body.down)
    printer = StoredPrinter(body.name.strip(), body.dpi, sheet.width, sheet.height, measures)
    return answer(measure_printer(printer.name, request.auth.on, printer))


def _out(stored: StoredPrinter) -> dict[str, object]:
    sizes = {"width": stored.width, "height": stored.height, **{side: getattr(stored.measures, side) for side in _SIDES}}
    said = {"name": stored.name, "dpi": stored.dpi, "measured_by": stored.measured_by, "measured_at": stored.measured_at}
    return {**said, **{name: format_amount(size) for name, size in sizes.items()}}

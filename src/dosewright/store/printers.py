"""Printers ⇄ rows. A printer's correction is worked out from what was measured, each time: the measures are the record."""

from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction

from dosewright.core.custody.event import Occasion
from dosewright.core.paper.printer import Measures, Printer, correction_of
from dosewright.core.units.quantity import format_amount, parse_amount
from dosewright.store.missing import Missing
from dosewright.store.models import PrinterRow

__all__ = ["StoredPrinter", "load_printer", "load_printers", "save_printer"]


@dataclass(frozen=True, slots=True)
class StoredPrinter:
    """A printer as it was last measured, on paper of that width and height in millimetres; by whom and when."""

    name: str
    dpi: int
    width: Fraction
    height: Fraction
    measures: Measures
    measured_by: str = ""
    measured_at: datetime | None = None

    @property
    def printer(self) -> Printer:
        """What paper is drawn for."""
        return Printer(self.name, self.dpi, correction_of(self.measures, self.width, self.height)[0])


def save_printer(printer: StoredPrinter, on: Occasion) -> None:
    """Add a printer, or put down new measures of it."""
    sides = {"width": printer.width, "height": printer.height}
    measures = {name: getattr(printer.measures, name) for name in ("left", "top", "across", "down")}
    said = {name: format_amount(value) for name, value in (*sides.items(), *measures.items())}
    by = {"measured_by": on.by.name, "measured_at": on.at}
    PrinterRow.objects.update_or_create(name=printer.name, defaults={"dpi": printer.dpi, **said, **by})


def load_printers() -> tuple[StoredPrinter, ...]:
    """All of them, by name."""
    return tuple(_printer(row) for row in PrinterRow.objects.order_by("name"))


def load_printer(name: str) -> StoredPrinter:
    """Raises Missing."""
    row = PrinterRow.objects.filter(name=name).first()
    if row is None:
        raise Missing("printer", name)
    return _printer(row)


def _printer(row: PrinterRow) -> StoredPrinter:
    measures = Measures(*(parse_amount(side) for side in (row.left, row.top, row.across, row.down)))
    return StoredPrinter(row.name, row.dpi, parse_amount(row.width), parse_amount(row.height), measures, row.measured_by, row.measured_at)

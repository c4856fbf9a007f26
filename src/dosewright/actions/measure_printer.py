"""A printer is added, or measured again."""

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.rights import Ability
from dosewright.core.paper.printer import correction_of
from dosewright.core.units.finding import blocks
from dosewright.store.ledger import append_entry
from dosewright.store.printers import StoredPrinter, save_printer

__all__ = ["measure_printer"]


@doing(Ability.MEASURE_PRINTER, "printer")
def measure_printer(name: str, on: Occasion, printer: StoredPrinter) -> Outcome:
    """From now on paper for it is drawn so that it lands where it should; paper that is kept stays as it is."""
    _, findings = correction_of(printer.measures, printer.width, printer.height)
    if blocks(findings):
        return not_done(findings)
    save_printer(printer, on)
    measured = {name: getattr(printer.measures, name) for name in ("left", "top", "across", "down")}
    append_entry(on, "printer measured", ("printer", name), {"dpi": printer.dpi, **measured})
    return done()

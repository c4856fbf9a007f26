"""A sheet is made on demand: drawn, read back, recounted, and kept byte for byte with what it was found to say.

Drawing takes seconds and changes nothing, so it is done before the transaction; it is kept only if what it was drawn from is then still
the same (R6).
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.printing import check_drawn, check_further_copy
from dosewright.core.custody.rights import Ability, check_right
from dosewright.core.paper.copies import FIRST_COPY, Copy
from dosewright.core.paper.finish import Offered, basis_of
from dosewright.core.paper.material import ANY_PRINTER
from dosewright.core.paper.printer import Printer
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.store.ledger import append_entry
from dosewright.store.made_papers import NewSheet, SheetName, count_made, next_made, save_made
from dosewright.store.missing import Missing
from dosewright.store.printers import load_printer

__all__ = ["Asked", "Wanted", "Way", "make_recall", "make_sheet"]


@dataclass(frozen=True, slots=True)
class Way:
    """How a sheet is drawn: for which printer, and as which copy."""

    printer: Printer = ANY_PRINTER
    copy: Copy = FIRST_COPY


@dataclass(frozen=True, slots=True)
class Wanted:
    """A sheet to make: its name, what it is drawn from (a value that can be compared), how, and the fingerprints of its plans.

    `labels`: it is a sheet of labels, whose copies are counted; a further one needs a reason.
    """

    name: SheetName
    gather: Callable[[], Any]
    draw: Callable[[Any, Way], Offered]
    bases: Callable[[Any], tuple[str, ...]]
    notes: Callable[[Any], tuple[Finding, ...]] = lambda _: ()
    labels: bool = False


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked of a sheet besides: the printer's name, "" for any, and why labels are printed again."""

    printer: str = ""
    reason: str = ""


@dataclass(frozen=True, slots=True)
class _Drawn:
    """What a sheet was drawn from, in which way, and what came of it."""

    sources: Any
    way: Way
    offered: Offered


def make_sheet(subject: str, on: Occasion, wanted: Wanted, asked: Asked = Asked()) -> Outcome:
    """Keep the sheet; refused where it could not be drawn for anybody, or does not read back as the orders and the plan say (R6, R16).

    `subject` is the sheet's own ("home lindens"). People who had to be left out are in the findings, and hold nobody up. `made`: its id.
    """
    return _keep_sheet(subject, on, wanted, asked, _draw(wanted, on, asked, Ability.MAKE_SHEET))


def make_recall(subject: str, on: Occasion, wanted: Wanted, asked: Asked = Asked()) -> Outcome:
    """The same for a recall, which a pharmacist decides."""
    return _keep_recall(subject, on, wanted, asked, _draw(wanted, on, asked, Ability.RECALL_LOT))


def _draw(wanted: Wanted, on: Occasion, asked: Asked, ability: Ability) -> _Drawn | None:
    """None where it will be refused anyway."""
    if check_right(on.by, ability) or _check_copy(wanted, asked):
        return None
    try:
        sources, way = wanted.gather(), _way(wanted, asked)
    except Missing:
        return None
    return _Drawn(sources, way, wanted.draw(sources, way))


def _check_copy(wanted: Wanted, asked: Asked) -> tuple[Finding, ...]:
    return check_further_copy(count_made(wanted.name), asked.reason) if wanted.labels else ()


def _way(wanted: Wanted, asked: Asked) -> Way:
    """Raises Missing where the printer is not known."""
    printer = load_printer(asked.printer).printer if asked.printer else ANY_PRINTER
    return Way(printer, next_made(wanted.name, asked.reason.strip()) if wanted.labels else FIRST_COPY)


@doing(Ability.MAKE_SHEET, "paper")
def _keep_sheet(subject: str, on: Occasion, wanted: Wanted, asked: Asked, drawn: _Drawn | None) -> Outcome:
    return _keep(subject, on, wanted, asked, drawn)


@doing(Ability.RECALL_LOT, "paper")
def _keep_recall(subject: str, on: Occasion, wanted: Wanted, asked: Asked, drawn: _Drawn | None) -> Outcome:
    return _keep(subject, on, wanted, asked, drawn)


def _keep(subject: str, on: Occasion, wanted: Wanted, asked: Asked, drawn: _Drawn | None) -> Outcome:
    if findings := _check_copy(wanted, asked):
        return not_done(findings)
    now = (wanted.gather(), _way(wanted, asked))
    same = drawn is not None and (drawn.sources, drawn.way) == now
    findings = check_drawn(wanted.name.title, same=same, drawn=drawn is not None and bool(drawn.offered.pdf))
    found = drawn.offered.findings if drawn else ()
    if drawn is None or findings:
        return not_done((*found, *(one for one in findings if not any(f.severity is Severity.STOP for f in found))))
    notes = (*found, *wanted.notes(drawn.sources))
    kept = save_made(NewSheet(wanted.name, drawn.offered, basis_of(wanted.bases(drawn.sources)), notes, drawn.way.copy), on)
    facts: dict[str, Fact] = {"kind": wanted.name.kind, "sheet": kept.id, "sha256": kept.sha256, "basis": kept.basis}
    facts |= {"printer": asked.printer} if asked.printer else {}
    facts |= {"copy": kept.copy.number, "reason": kept.copy.reason} if kept.copy != FIRST_COPY else {}
    append_entry(on, "sheet made", ("paper", subject), facts)
    return done(notes, str(kept.id))


# Actions like the others, though their right is asked in what keeps the sheet.
make_sheet.ability = Ability.MAKE_SHEET  # type: ignore[attr-defined]
make_recall.ability = Ability.RECALL_LOT  # type: ignore[attr-defined]

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
from dosewright.core.custody.printing import check_drawn
from dosewright.core.custody.rights import Ability, check_right
from dosewright.core.paper.finish import Offered, basis_of
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.store.ledger import append_entry
from dosewright.store.made_papers import SheetName, save_made
from dosewright.store.missing import Missing

__all__ = ["Wanted", "make_recall", "make_sheet"]


@dataclass(frozen=True, slots=True)
class Wanted:
    """A sheet to make: its name, what it is drawn from (a value that can be compared), how, and the fingerprints of its plans."""

    name: SheetName
    gather: Callable[[], Any]
    draw: Callable[[Any], Offered]
    bases: Callable[[Any], tuple[str, ...]]
    notes: Callable[[Any], tuple[Finding, ...]] = lambda _: ()


@dataclass(frozen=True, slots=True)
class _Drawn:
    sources: Any
    offered: Offered


def make_sheet(subject: str, on: Occasion, wanted: Wanted) -> Outcome:
    """Keep the sheet; refused where it could not be drawn for anybody, or does not read back as the orders and the plan say (R6, R16).

    `subject` is the sheet's own ("home lindens"). People who had to be left out are in the findings, and hold nobody up. `made`: its id.
    """
    return _keep_sheet(subject, on, wanted, _draw(wanted, on, Ability.MAKE_SHEET))


def make_recall(subject: str, on: Occasion, wanted: Wanted) -> Outcome:
    """The same for a recall, which a pharmacist decides."""
    return _keep_recall(subject, on, wanted, _draw(wanted, on, Ability.RECALL_LOT))


def _draw(wanted: Wanted, on: Occasion, ability: Ability) -> _Drawn | None:
    """None where it will be refused anyway."""
    if check_right(on.by, ability):
        return None
    try:
        sources = wanted.gather()
    except Missing:
        return None
    return _Drawn(sources, wanted.draw(sources))


@doing(Ability.MAKE_SHEET, "paper")
def _keep_sheet(subject: str, on: Occasion, wanted: Wanted, drawn: _Drawn | None) -> Outcome:
    return _keep(subject, on, wanted, drawn)


@doing(Ability.RECALL_LOT, "paper")
def _keep_recall(subject: str, on: Occasion, wanted: Wanted, drawn: _Drawn | None) -> Outcome:
    return _keep(subject, on, wanted, drawn)


def _keep(subject: str, on: Occasion, wanted: Wanted, drawn: _Drawn | None) -> Outcome:
    same = drawn is not None and drawn.sources == wanted.gather()
    findings = check_drawn(wanted.name.title, same=same, drawn=drawn is not None and bool(drawn.offered.pdf))
    found = drawn.offered.findings if drawn else ()
    if drawn is None or findings:
        return not_done((*found, *(one for one in findings if not any(f.severity is Severity.STOP for f in found))))
    notes = (*found, *wanted.notes(drawn.sources))
    kept = save_made(wanted.name, drawn.offered.pdf, basis_of(wanted.bases(drawn.sources)), notes, on)
    facts: dict[str, Fact] = {"kind": wanted.name.kind, "sheet": kept.id, "sha256": kept.sha256, "basis": kept.basis}
    append_entry(on, "sheet made", ("paper", subject), facts)
    return done(notes, str(kept.id))


# Actions like the others, though their right is asked in what keeps the sheet.
make_sheet.ability = Ability.MAKE_SHEET  # type: ignore[attr-defined]
make_recall.ability = Ability.RECALL_LOT  # type: ignore[attr-defined]

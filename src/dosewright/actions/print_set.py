"""A set's paper is made: labels, fill sheet, administration record; read back, and kept byte for byte.

Drawing takes seconds and changes nothing, so it is done before the transaction: other stations go on with their work. What was drawn is
kept only if, with the cards locked, everything that it was drawn from is still the same.
"""

from dataclasses import dataclass, replace

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.event import Deed, Occasion
from dosewright.core.custody.follow import check_follows
from dosewright.core.custody.printing import check_unchanged
from dosewright.core.custody.rights import Ability, check_right
from dosewright.core.paper.alike import tell_apart
from dosewright.core.paper.material import ANY_PRINTER, Material, Pharmacy
from dosewright.core.paper.offer import Offered, offer_fill, offer_labels, offer_record
from dosewright.core.paper.overlay import lots_later
from dosewright.core.paper.printer import Printer
from dosewright.core.units.finding import blocks
from dosewright.core.units.ids import CardNumber
from dosewright.devices.fonts import load_fonts
from dosewright.store.cards import StoredSet, load_request, load_set, lock_set, save_event
from dosewright.store.ledger import append_entry
from dosewright.store.missing import Missing
from dosewright.store.papers import Sheet, save_papers
from dosewright.store.people import load_home_names, load_people
from dosewright.store.pharmacy import load_pharmacy
from dosewright.store.printers import load_printer

__all__ = ["draw_papers", "print_set"]


@dataclass(frozen=True, slots=True)
class _Drawn:
    """The documents, what they were drawn from, and the cards whose life was not over then."""

    material: Material
    open_cards: tuple[CardNumber, ...]
    papers: dict[str, Offered]


def draw_papers(found: StoredSet, printer: str = "") -> dict[str, Offered]:
    """The three documents of a set, each read back by paper's own front door; nothing is kept."""
    return _draw(_gather(found, printer))


def print_set(set_id: int, on: Occasion, printer: str = "") -> Outcome:
    """The PDFs are kept and may be printed; refused where one could not be drawn right or did not read back as the plan (R6, R16), and
    where the set changed while they were drawn.

    `made`: the SHA-256 of each, in the order labels, fill, record.
    """
    return _keep(set_id, on, _draw_first(set_id, on, printer), printer)


def _draw_first(set_id: int, on: Occasion, printer: str) -> _Drawn | None:
    """None where it will be refused anyway: nothing is drawn for somebody who may not, or of a set that is not there."""
    if check_right(on.by, Ability.PRINT_SET):
        return None
    try:
        found = load_set(set_id)
        material = _gather(found, printer)
    except Missing:
        return None
    return _Drawn(material, _open(found), _draw(material))


@doing(Ability.PRINT_SET, "set")
def _keep(set_id: int, on: Occasion, drawn: _Drawn | None, printer: str) -> Outcome:
    """One short transaction: the set is locked and compared, then paper and ledger entry are saved."""
    found = lock_set(set_id)
    now = (_gather(found, printer), _open(found))
    same = drawn is not None and (drawn.material, drawn.open_cards) == now
    findings = check_unchanged(set_id, same=same)
    if drawn is None or findings:
        return not_done(findings)
    open_cards = [card for card in found.cards if not card.state.over]
    findings += tuple(finding for card in open_cards for finding in check_follows(card.state, Deed.PRINTED))
    findings += tuple(finding for offered in drawn.papers.values() for finding in offered.findings)
    if blocks(findings) or any(offered.left_out for offered in drawn.papers.values()):
        return not_done(findings)
    sheets = [Sheet(kind, offered.pdf) for kind, offered in drawn.papers.items() if offered.pdf]
    hashes = save_papers(set_id, found.plan.basis, sheets, on)
    append_entry(
        on, "set printed", ("set", str(set_id)), {"basis": found.plan.basis, "papers": hashes, **({"printer": printer} if printer else {})}
    )
    for card in open_cards:
        save_event(card, Deed.PRINTED, on, {"papers": hashes})
    return done(findings, *hashes)


# An action like the others, though its right is asked in `_keep`.
print_set.ability = Ability.PRINT_SET  # type: ignore[attr-defined]


def _gather(found: StoredSet, printer: str) -> Material:
    """`printer` is the name of the one that paper is drawn for, "" for any. Raises Missing."""
    who = load_pharmacy()
    pharmacy = Pharmacy(who.name, who.address, who.phone, who.registration)
    apart = tell_apart(load_people())
    return Material(
        found.plan, load_request(found.id), pharmacy, load_fonts(), homes=load_home_names(), apart=apart, printer=_printer(printer)
    )


def _printer(name: str) -> Printer:
    return load_printer(name).printer if name else ANY_PRINTER


def _draw(material: Material) -> dict[str, Offered]:
    first, notes = lots_later(material)
    labels = offer_labels(first)
    return {"labels": replace(labels, findings=(*labels.findings, *notes)), "fill": offer_fill(material), "record": offer_record(material)}


def _open(found: StoredSet) -> tuple[CardNumber, ...]:
    return tuple(card.number for card in found.cards if not card.state.over)

"""A set's paper is made: labels, fill sheet, administration record; read back, and kept byte for byte.

Drawing takes seconds and changes nothing, so it is done before the transaction: other stations go on with their work. What was drawn is
kept only if, with the cards locked, everything that it was drawn from is still the same.
"""

from dataclasses import dataclass, replace

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.event import Deed, Occasion
from dosewright.core.custody.follow import check_follows
from dosewright.core.custody.printing import check_further_copy, check_unchanged
from dosewright.core.custody.rights import Ability, check_right
from dosewright.core.paper.alike import tell_apart
from dosewright.core.paper.copies import FIRST_COPY
from dosewright.core.paper.material import ANY_PRINTER, Material, Pharmacy
from dosewright.core.paper.offer import Offered, offer_fill, offer_labels, offer_record
from dosewright.core.paper.overlay import lots_later
from dosewright.core.paper.printer import Printer
from dosewright.core.units.finding import Fact, blocks
from dosewright.core.units.ids import CardNumber
from dosewright.devices.fonts import load_fonts
from dosewright.store.cards import StoredSet, load_request, load_set, lock_set, save_event
from dosewright.store.ledger import append_entry
from dosewright.store.missing import Missing
from dosewright.store.papers import Sheet, count_copies, next_copy, save_papers
from dosewright.store.people import load_home_names, load_people
from dosewright.store.pharmacy import load_pharmacy
from dosewright.store.printers import load_printer

__all__ = ["draw_papers", "print_set"]


@dataclass(frozen=True, slots=True)
class _Asked:
    """The printer that paper is drawn for, by name, "" for any; and why it is printed again."""

    printer: str
    reason: str


@dataclass(frozen=True, slots=True)
class _Drawn:
    """The documents, what they were drawn from, and the cards whose life was not over then."""

    material: Material
    open_cards: tuple[CardNumber, ...]
    papers: dict[str, Offered]


def draw_papers(found: StoredSet, printer: str = "", reason: str = "") -> dict[str, Offered]:
    """The three documents of a set, each read back by paper's own front door; nothing is kept."""
    return _draw(_gather(found, _Asked(printer, reason)))


def print_set(set_id: int, on: Occasion, printer: str = "", reason: str = "") -> Outcome:
    """The PDFs are kept and may be printed; refused where one could not be drawn right or did not read back as the plan (R6, R16), and
    where the set changed while they were drawn.

    A further copy needs a reason, which stands on every sheet of it. `made`: the SHA-256 of each, in the order labels, fill, record.
    """
    asked = _Asked(printer, reason.strip())
    return _keep(set_id, on, _draw_first(set_id, on, asked), asked)


def _draw_first(set_id: int, on: Occasion, asked: _Asked) -> _Drawn | None:
    """None where it will be refused anyway: nothing is drawn for somebody who may not, or of a set that is not there."""
    if check_right(on.by, Ability.PRINT_SET) or check_further_copy(count_copies(set_id), asked.reason):
        return None
    try:
        found = load_set(set_id)
        material = _gather(found, asked)
    except Missing:
        return None
    return _Drawn(material, _open(found), _draw(material))


@doing(Ability.PRINT_SET, "set")
def _keep(set_id: int, on: Occasion, drawn: _Drawn | None, asked: _Asked) -> Outcome:
    """One short transaction: the set is locked and compared, then paper and ledger entry are saved."""
    found = lock_set(set_id)
    if findings := check_further_copy(count_copies(set_id), asked.reason):
        return not_done(findings)
    now = (_gather(found, asked), _open(found))
    same = drawn is not None and (drawn.material, drawn.open_cards) == now
    findings = check_unchanged(set_id, same=same)
    if drawn is None or findings:
        return not_done(findings)
    open_cards = [card for card in found.cards if not card.state.over]
    findings += tuple(finding for card in open_cards for finding in check_follows(card.state, Deed.PRINTED))
    findings += tuple(finding for offered in drawn.papers.values() for finding in offered.findings)
    if blocks(findings) or any(offered.left_out for offered in drawn.papers.values()):
        return not_done(findings)
    sheets = [Sheet(kind, offered.pdf, offered.labels) for kind, offered in drawn.papers.items() if offered.pdf]
    hashes = save_papers(set_id, found.plan.basis, sheets, drawn.material.copy, on)
    append_entry(on, "set printed", ("set", str(set_id)), {"basis": found.plan.basis, "papers": hashes, **_said(drawn.material)})
    for card in open_cards:
        save_event(card, Deed.PRINTED, on, {"papers": hashes})
    return done(findings, *hashes)


# An action like the others, though its right is asked in `_keep`.
print_set.ability = Ability.PRINT_SET  # type: ignore[attr-defined]


def _said(material: Material) -> dict[str, Fact]:
    """What the ledger says besides: for which printer, and which copy it is and why."""
    printer: dict[str, Fact] = {"printer": material.printer.name} if material.printer.name else {}
    copy: dict[str, Fact] = {"copy": material.copy.number, "reason": material.copy.reason} if material.copy != FIRST_COPY else {}
    return printer | copy


def _gather(found: StoredSet, asked: _Asked) -> Material:
    """Raises Missing; ValueError for a further copy without a reason."""
    who = load_pharmacy()
    pharmacy = Pharmacy(who.name, who.address, who.phone, who.registration)
    apart = tell_apart(load_people())
    plain = Material(found.plan, load_request(found.id), pharmacy, load_fonts(), homes=load_home_names(), apart=apart)
    return replace(plain, printer=_printer(asked.printer), copy=next_copy(found.id, asked.reason))


def _printer(name: str) -> Printer:
    return load_printer(name).printer if name else ANY_PRINTER


def _draw(material: Material) -> dict[str, Offered]:
    first, notes = lots_later(material)
    labels = offer_labels(first)
    return {"labels": replace(labels, findings=(*labels.findings, *notes)), "fill": offer_fill(material), "record": offer_record(material)}


def _open(found: StoredSet) -> tuple[CardNumber, ...]:
    return tuple(card.number for card in found.cards if not card.state.over)

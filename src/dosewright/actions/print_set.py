"""A set's paper is made: labels, fill sheet, administration record; read back, and kept byte for byte."""

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.event import Deed, Occasion
from dosewright.core.custody.follow import check_follows
from dosewright.core.custody.rights import Ability
from dosewright.core.paper.material import Material, Pharmacy
from dosewright.core.paper.offer import Offered, offer_fill, offer_labels, offer_record
from dosewright.core.units.finding import blocks
from dosewright.devices.fonts import load_fonts
from dosewright.store.cards import StoredSet, load_request, lock_set, save_event
from dosewright.store.ledger import append_entry
from dosewright.store.papers import Sheet, save_papers
from dosewright.store.people import load_home_names
from dosewright.store.pharmacy import load_pharmacy

__all__ = ["draw_papers", "print_set"]


def draw_papers(found: StoredSet) -> dict[str, Offered]:
    """The three documents of a set, each read back by paper's own front door; nothing is kept."""
    who = load_pharmacy()
    pharmacy = Pharmacy(who.name, who.address, who.phone, who.registration)
    material = Material(found.plan, load_request(found.id), pharmacy, load_fonts(), homes=load_home_names())
    return {"labels": offer_labels(material), "fill": offer_fill(material), "record": offer_record(material)}


@doing(Ability.PRINT_SET, "set")
def print_set(set_id: int, on: Occasion) -> Outcome:
    """The PDFs are kept and may be printed; refused where one could not be drawn right or did not read back as the plan (R6, R16).

    `made`: the SHA-256 of each, in the order labels, fill, record.
    """
    found = lock_set(set_id)
    papers = draw_papers(found)
    open_cards = [card for card in found.cards if not card.state.over]
    findings = tuple(finding for card in open_cards for finding in check_follows(card.state, Deed.PRINTED))
    findings += tuple(finding for offered in papers.values() for finding in offered.findings)
    if blocks(findings) or any(offered.left_out for offered in papers.values()):
        return not_done(findings)
    sheets = [Sheet(kind, offered.pdf) for kind, offered in papers.items() if offered.pdf]
    hashes = save_papers(set_id, found.plan.basis, sheets, on)
    append_entry(on, "set printed", ("set", str(set_id)), {"basis": found.plan.basis, "papers": hashes})
    for card in open_cards:
        save_event(card, Deed.PRINTED, on, {"papers": hashes})
    return done(findings, *hashes)

"""The front door of paper: from a plan to PDF bytes that have been read back, or to findings. One function a document.

    material = Material(plan, request, pharmacy, load_fonts())          # load_fonts: dosewright.devices.fonts
    offered = offer_labels(material)                                     # offer_fill, offer_record likewise
    offered.pdf, offered.findings, offered.left_out

`plan` must have passed `verify`. `pharmacy` may be `STAMPED`: the headers then have a box for the pharmacy's stamp. A person whose sheets
cannot be drawn right (a `stop` finding) is left out and named in `left_out`; the others are not held up. `pdf` is b"" when nobody is
left, or when the finished PDF, read back, is not the pages that were meant.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from dosewright.core.packing.plan_values import PersonPlan
from dosewright.core.paper.drawn import once
from dosewright.core.paper.fill import draw_fill
from dosewright.core.paper.labels import draw_labels
from dosewright.core.paper.material import Material
from dosewright.core.paper.page import Page
from dosewright.core.paper.pdf import Heading, write_pdf
from dosewright.core.paper.pdf_text import ReadPage, read_pages
from dosewright.core.paper.readback import check_read
from dosewright.core.paper.record import draw_record
from dosewright.core.paper.recount import check_cavities
from dosewright.core.units.finding import Finding, blocks
from dosewright.core.units.ids import PersonId

__all__ = ["Offered", "offer_fill", "offer_labels", "offer_record"]

Draw = Callable[[PersonPlan, Material], tuple[tuple[Page, ...], tuple[Finding, ...]]]

Recount = Callable[[Sequence[ReadPage], Sequence[Page], Sequence[PersonPlan], Material], Iterator[Finding]]


@dataclass(frozen=True, slots=True)
class Offered:
    """A finished document: bytes that may be printed, how many pages, what was found, and who is not in it."""

    pdf: bytes
    pages: int
    findings: tuple[Finding, ...]
    left_out: tuple[PersonId, ...]


def offer_labels(material: Material) -> Offered:
    """Headers and cavity labels of every card of the plan, person by person."""
    return _offer(material, draw_labels, "Card labels", check_cavities)


def offer_fill(material: Material) -> Offered:
    """Fill sheets of every set of the plan, person by person; a person without a card has none."""
    return _offer(material, draw_fill, "Fill sheets")


def offer_record(material: Material) -> Offered:
    """Administration records for the cycle of everybody in the plan."""
    return _offer(material, draw_record, "Administration records")


def _nothing_more(
    _read: Sequence[ReadPage], _pages: Sequence[Page], _people: Sequence[PersonPlan], _material: Material
) -> Iterator[Finding]:
    yield from ()


def _offer(material: Material, draw: Draw, title: str, recount: Recount = _nothing_more) -> Offered:
    pages: list[Page] = []
    findings: list[Finding] = []
    drawn_for: list[PersonPlan] = []
    for person in material.plan.people:
        drawn, found = draw(person, material)
        findings += found
        if not blocks(found):
            pages += drawn
            drawn_for.append(person)
    left_out = tuple(person.person for person in material.plan.people if person not in drawn_for)
    if not pages:
        return Offered(b"", 0, once(findings), left_out)
    pdf = write_pdf(pages, material.fonts, _heading(title, material))
    read = list(read_pages(pdf))
    faults = check_read(read, pdf, pages, material.fonts) or tuple(recount(read, pages, drawn_for, material))
    return Offered(b"" if blocks(faults) else pdf, len(pages), (*once(findings), *faults), left_out)


def _heading(title: str, material: Material) -> Heading:
    plan = material.plan
    full = f"{title}, {plan.days} days from {plan.first.isoformat()}"
    return Heading(full, material.pharmacy.name or "Dosewright", f"plan {plan.basis}", material.lang)

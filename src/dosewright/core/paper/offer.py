"""The front door of paper: from a plan to PDF bytes that have been read back, or to findings. One function a document.

    material = Material(plan, request, pharmacy, load_fonts())          # load_fonts: dosewright.devices.fonts
    offered = offer_labels(material)                                     # offer_fill, offer_record likewise
    offered.pdf, offered.findings, offered.left_out

`plan` must have passed `verify`. `pharmacy` may be `STAMPED`: the headers then have a box for the pharmacy's stamp. A person whose sheets
cannot be drawn right (a `stop` finding) is left out and named in `left_out`; the others are not held up. `pdf` is b"" when nobody is
left, or when the finished PDF, read back, is not the pages that were meant.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from dosewright.core.packing.plan_values import PersonPlan
from dosewright.core.paper.dose_truth import fill_truth, record_truth
from dosewright.core.paper.drawn import once
from dosewright.core.paper.fill import draw_fill
from dosewright.core.paper.finish import Offered, Part, finish
from dosewright.core.paper.interim import Interim, draw_interim, interim_truth
from dosewright.core.paper.labels import draw_labels
from dosewright.core.paper.material import Material
from dosewright.core.paper.moved import check_moved
from dosewright.core.paper.page import Page
from dosewright.core.paper.pdf import Heading, write_pdf
from dosewright.core.paper.printed_labels import labels_on
from dosewright.core.paper.printer import AS_DRAWN
from dosewright.core.paper.readback import Watch, check_pdf
from dosewright.core.paper.record import RECORD_TITLE, draw_record, stretches
from dosewright.core.paper.recount import LabelRecount
from dosewright.core.paper.work_list import WorkList, draw_work
from dosewright.core.paper.zone_recount import Truth, ZoneRecount
from dosewright.core.units.finding import Finding, blocks
from dosewright.core.units.ids import PersonId

__all__ = ["Offered", "offer_fill", "offer_interim", "offer_labels", "offer_record", "offer_work"]

Draw = Callable[[PersonPlan, Material], tuple[tuple[Page, ...], tuple[Finding, ...]]]


def offer_labels(material: Material) -> Offered:
    """Headers and cavity labels of every card of the plan, person by person."""
    drawn = _draw(material, draw_labels)
    recount = LabelRecount.of(drawn.people, material)
    offered = replace(_finish(drawn, material, "Card labels", recount.watch), labels=labels_on(drawn.pages, drawn.people, material))
    lacking = recount.lacks() if offered.pdf else ()
    return replace(offered, pdf=b"", findings=(*offered.findings, *lacking)) if lacking else offered


def offer_fill(material: Material) -> Offered:
    """Fill sheets of every set of the plan, person by person; a person without a card has none."""
    each = ((person, draw_fill(person, material)) for person in material.plan.people)
    parts = (Part(person.person, pages, found, fill_truth(person)) for person, (pages, found) in each if pages or found)
    return finish(parts, material.fonts, _heading("Fill sheets", material), material.printer)


def offer_record(material: Material, made: datetime | None = None) -> Offered:
    """Administration records for the request's days of everybody in the plan; recounted box by box. `made`: as `draw_record`."""
    days = tuple(stretches(material.request.first, material.request.days))
    each = ((person, draw_record(person, material, made)) for person in material.plan.people)
    parts = (Part(person.person, pages, found, record_truth(person, material, days)) for person, (pages, found) in each if pages)
    return finish(parts, material.fonts, _heading(f"{RECORD_TITLE}s", material), material.printer)


def offer_work(lists: Sequence[WorkList], material: Material) -> Offered:
    """Work lists of a change, person by person, each followed by the fill sheets of that person's new cards."""
    by_person = {work.person.person: work for work in lists}
    return _finish(_draw(material, lambda person, with_: _draw_work(by_person.get(person.person), with_)), material, "Work lists")


def _draw_work(work: WorkList | None, material: Material) -> tuple[tuple[Page, ...], tuple[Finding, ...]]:
    if work is None:
        return (), ()
    pages, found = draw_work(work, material)
    alone = replace(material, plan=replace(material.plan, people=(work.person,)))
    filling, more = draw_fill(work.person, alone)
    return (*pages, *filling), once((*found, *more))


def offer_interim(sheets: Sequence[Interim], material: Material) -> Offered:
    """The sheets for cards that are called back, person by person."""

    def draw(person: PersonPlan, with_: Material) -> tuple[tuple[Page, ...], tuple[Finding, ...]]:
        drawn = [draw_interim(sheet, with_) for sheet in sheets if sheet.person == person.person]
        return tuple(page for pages, _ in drawn for page in pages), once(found for _, findings in drawn for found in findings)

    wanted = [(person.person, [sheet for sheet in sheets if sheet.person == person.person]) for person in material.plan.people]
    drawn = _draw(material, draw)
    truth = Truth()
    for person, some in wanted:
        for sheet in some if person not in drawn.left_out else ():
            truth = truth | interim_truth(sheet, material)
    recount = ZoneRecount(truth)
    offered = _finish(drawn, material, "Until cards are right", recount.watch)
    lacking = recount.lacks() if offered.pdf else ()
    return replace(offered, pdf=b"", findings=(*offered.findings, *lacking)) if lacking else offered


@dataclass(frozen=True, slots=True)
class _Drawn:
    """Pages of those who could be drawn, what was found, and the others."""

    pages: tuple[Page, ...]
    people: tuple[PersonPlan, ...]
    findings: tuple[Finding, ...]
    left_out: tuple[PersonId, ...]


def _draw(material: Material, draw: Draw) -> _Drawn:
    each = [(person, *draw(person, material)) for person in material.plan.people]
    whole = [(person, pages) for person, pages, found in each if not blocks(found)]
    return _Drawn(
        tuple(page for _, pages in whole for page in pages),
        tuple(person for person, _ in whole),
        once(finding for _, _, found in each for finding in found),
        tuple(person.person for person, _, found in each if blocks(found)),
    )


def _finish(drawn: _Drawn, material: Material, title: str, watch: Watch | None = None) -> Offered:
    """Write and read back; bytes only where nothing differs."""
    if not drawn.pages:
        return Offered(b"", 0, drawn.findings, drawn.left_out)
    heading, printer = _heading(title, material), material.printer
    pdf = write_pdf(drawn.pages, material.fonts, heading)
    faults = check_pdf(pdf, drawn.pages, material.fonts, watch, printer.dpi)
    if printer.correction != AS_DRAWN and not blocks(faults):
        as_drawn, pdf = pdf, write_pdf(drawn.pages, material.fonts, heading, printer.correction)
        faults += tuple(check_moved(as_drawn, pdf, drawn.pages, printer))
    return Offered(b"" if blocks(faults) else pdf, len(drawn.pages), (*drawn.findings, *faults), drawn.left_out)


def _heading(title: str, material: Material) -> Heading:
    plan = material.plan
    full = f"{title}, {plan.days} days from {plan.first.isoformat()}"
    return Heading(full, material.pharmacy.name or "Dosewright", f"plan {plan.basis}", material.lang)

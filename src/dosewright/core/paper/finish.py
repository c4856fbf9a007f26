"""Drawn pages become a document that may be printed: written, read back, recounted zone by zone; or findings and no bytes.

Comes in: for each person (or home) the pages with their findings, and what a recount must find on them. Goes out: `Offered`.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from hashlib import sha256

from dosewright.core.paper.drawn import once
from dosewright.core.paper.fonts import FontSet
from dosewright.core.paper.material import ANY_PRINTER
from dosewright.core.paper.moved import check_moved
from dosewright.core.paper.page import Page
from dosewright.core.paper.pdf import Heading, write_pdf
from dosewright.core.paper.printer import AS_DRAWN, Printer
from dosewright.core.paper.readback import check_pdf
from dosewright.core.paper.zone_recount import Truth, ZoneRecount
from dosewright.core.units.finding import Finding, blocks
from dosewright.core.units.ids import CardNumber, PersonId

__all__ = ["Offered", "Part", "basis_of", "finish", "finish_pages"]


@dataclass(frozen=True, slots=True)
class Offered:
    """A finished document: bytes that may be printed, how many pages, what was found, and who is not in it."""

    pdf: bytes
    pages: int
    findings: tuple[Finding, ...]
    left_out: tuple[PersonId, ...]
    labels: Mapping[CardNumber, tuple[str, ...]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Part:
    """One person's pages (or one home's: `person` is then its id), what was found while drawing, and what must be read on them."""

    person: PersonId
    pages: tuple[Page, ...]
    findings: tuple[Finding, ...]
    truth: Truth


def finish(parts: Iterable[Part], fonts: FontSet, heading: Heading, printer: Printer = ANY_PRINTER) -> Offered:
    """The document of all parts without a `stop`; nobody else is held up. Bytes only where reading back finds no difference."""
    every = tuple(parts)
    whole = [part for part in every if not blocks(part.findings)]
    found = once(finding for part in every for finding in part.findings)
    left_out = tuple(dict.fromkeys(part.person for part in every if blocks(part.findings)))
    pages = tuple(page for part in whole for page in part.pages)
    truth = Truth()
    for part in whole:
        truth = truth | part.truth
    pdf, faults = finish_pages(pages, fonts, heading, truth, printer)
    return Offered(pdf, len(pages), (*found, *faults), left_out)


def finish_pages(
    pages: Sequence[Page], fonts: FontSet, heading: Heading, truth: Truth, printer: Printer = ANY_PRINTER
) -> tuple[bytes, tuple[Finding, ...]]:
    """The PDF of the pages for the printer, or b"" with what differs. No page, no PDF."""
    if not pages:
        return b"", ()
    pdf, recount = write_pdf(pages, fonts, heading), ZoneRecount(truth)
    faults = (*check_pdf(pdf, pages, fonts, recount.watch, printer.dpi), *recount.lacks())
    if printer.correction != AS_DRAWN and not blocks(faults):
        as_drawn, pdf = pdf, write_pdf(pages, fonts, heading, printer.correction)
        faults += tuple(check_moved(as_drawn, pdf, pages, printer))
    return (b"" if blocks(faults) else pdf), faults


def basis_of(bases: Iterable[str]) -> str:
    """The fingerprint of a document made from several plans: one plan's own, else the SHA-256 of them all, in order of letters."""
    every = sorted(set(bases))
    return every[0] if len(every) == 1 else sha256("\n".join(every).encode()).hexdigest()

"""A set's paper: drawn, looked at page by page from the very bytes, kept, and opened to be printed."""

import hashlib
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import lru_cache
from io import BytesIO
from urllib.parse import urlencode

import pypdfium2
from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from dosewright.actions.print_set import draw_papers, print_set
from dosewright.core.custody.printing import check_further_copy
from dosewright.core.units.finding import Finding, blocks
from dosewright.store.cards import StoredSet, load_set
from dosewright.store.made_papers import load_made_lately
from dosewright.store.papers import count_copies, load_papers
from dosewright.store.people import load_home_names
from dosewright.store.printers import StoredPrinter, load_printers
from dosewright.web.findings import with_names
from dosewright.web.next_step import next_step
from dosewright.web.page import show, strip_of
from dosewright.web.request import BenchRequest, local, new_token, occasion
from dosewright.web.sheets import LANGUAGES, SIZES, MadeLine

__all__ = ["CopyLine", "Document", "Drawn", "PaperScreen", "paper", "paper_file", "paper_page"]

TITLES = {"labels": "Card labels", "fill": "Fill sheet", "record": "Administration record"}
_KEPT = "The paper is kept, byte for byte. Open each sheet and print it."
_DIFFERS = "The paper that is kept is not the one that you looked at: something changed meanwhile. Look over each page again."
_SCALE = 1.4  # pixels a point: a page is about 830 pixels wide


@dataclass(frozen=True, slots=True)
class Document:
    """One PDF: its bytes' fingerprint, and the addresses of its pages as pictures and of the file itself."""

    kind: str
    title: str
    sha256: str
    pages: tuple[str, ...]
    url: str


@dataclass(frozen=True, slots=True)
class CopyLine:
    """One copy of the set's paper: which, when, by whom, and why a further one was made."""

    number: int
    made_at: datetime
    made_by: str
    reason: str


@dataclass(frozen=True, slots=True)
class PaperScreen:
    """`kept`: these documents are on record and may be printed. Before that they are only drawn. `printer`: for which they are drawn,
    "" for any; `printers`: those that were measured here. `copies`: the latest first; `labels`: where the labels
    are accounted for. `refused`: the findings say why nothing more was kept. `looking`: the documents are the further copy of that
    number, drawn for the `reason` and not kept yet; 0 where they are not."""

    set_id: int
    documents: tuple[Document, ...]
    kept: bool
    may: bool
    findings: tuple[Finding, ...]
    refused: bool
    looking: int
    reason: str
    copies: tuple[CopyLine, ...]
    labels: str
    onward: str
    onward_words: str
    token: str
    printer: str
    printers: tuple[str, ...]
    sizes: tuple[tuple[str, str], ...]
    languages: tuple[tuple[str, str], ...]
    made: tuple[MadeLine, ...]
    first: date
    last: date


@dataclass(frozen=True, slots=True)
class Drawn:
    """The documents of a set as they would be printed now."""

    pdfs: dict[str, bytes]
    findings: tuple[Finding, ...]
    whole: bool


def paper(request: BenchRequest, set_id: int) -> HttpResponse:
    """Look at the paper, with a reason at the further copy that would be made for it; by POST, keep it and go on record as printed."""
    found, way = load_set(set_id), _asked(request)
    if request.method == "POST":
        outcome = print_set(set_id, occasion(request), way.printer, way.reason)
        if outcome.done:
            same = set(request.POST.getlist("seen")) <= set(outcome.made)
            messages.success(request, _KEPT if same else _DIFFERS)
            return redirect(_Way(way.printer).of(reverse("paper", args=[set_id])))
        return _show(request, found, outcome.findings, status=422)
    wrong = check_further_copy(count_copies(set_id), way.reason) if "reason" in request.GET else ()
    return _show(request, found, wrong, status=422 if wrong else 200)


@dataclass(frozen=True, slots=True)
class _Way:
    """How paper is drawn: for which printer, by name, "" for any; and the reason for a further copy, "" where what is kept is meant."""

    printer: str
    reason: str = ""

    def of(self, address: str) -> str:
        """The address with what is asked."""
        asked = {name: value for name, value in (("printer", self.printer), ("reason", self.reason)) if value}
        return f"{address}?{urlencode(asked)}" if asked else address


def paper_file(request: BenchRequest, set_id: int, kind: str) -> HttpResponse:
    """The PDF itself: as kept, or as drawn where none is kept yet; with a copy's number, the very copy that was kept under it."""
    copy = request.GET.get("copy", "")
    pdf = _copy(set_id, kind, copy) if copy else _pdf(set_id, kind, _asked(request))
    return HttpResponse(pdf, content_type="application/pdf", headers={"Content-Disposition": f'inline; filename="{kind}-{set_id}.pdf"'})


def paper_page(request: BenchRequest, set_id: int, kind: str, page: int) -> HttpResponse:
    """One page of exactly those bytes as a picture."""
    pdf = pypdfium2.PdfDocument(_pdf(set_id, kind, _asked(request)))
    try:
        if not 1 <= page <= len(pdf):
            raise Http404
        picture = pdf[page - 1].render(scale=_SCALE).to_pil()
    finally:
        pdf.close()
    png = BytesIO()
    picture.convert("L").save(png, "PNG")
    return HttpResponse(png.getvalue(), content_type="image/png")


def _copy(set_id: int, kind: str, copy: str) -> bytes:
    kept = next((one.pdf for one in load_papers(set_id) if one.kind == kind and str(one.copy) == copy), None)
    if kept is None:
        raise Http404
    return kept


def _pdf(set_id: int, kind: str, way: _Way) -> bytes:
    """As kept; as drawn where none is kept yet, and where a further copy is looked at."""
    found, kept = load_set(set_id), load_papers(set_id)
    if kept and not _looking(set_id, way):
        drawn = next((stored.pdf for stored in kept if stored.kind == kind), None)
    else:
        drawn = _drawn(_Key.of(found, way), _known(way.printer)).pdfs.get(kind)
    if not drawn:
        raise Http404
    return drawn


def _looking(set_id: int, way: _Way) -> int:
    """The number of the further copy that is looked at; 0 where none is, or none could be made for that reason."""
    before = count_copies(set_id)
    return before + 1 if before and way.reason and not check_further_copy(before, way.reason) else 0


def _asked(request: BenchRequest) -> _Way:
    """What is asked of the paper."""
    printer, reason = (request.POST.get(name) or request.GET.get(name) or "" for name in ("printer", "reason"))
    return _Way(printer[:60], reason.strip()[:400])


def _known(name: str) -> StoredPrinter | None:
    """The printer of that name; any, where there is none."""
    return next((printer for printer in load_printers() if printer.name == name), None)


@dataclass(frozen=True, slots=True)
class _Key:
    """What decides how a set's paper is drawn, besides the printer."""

    set_id: int
    basis: str
    copy: int
    reason: str

    @staticmethod
    def of(found: StoredSet, way: _Way) -> "_Key":
        copy = _looking(found.id, way)
        return _Key(found.id, found.plan.basis, copy, way.reason if copy else "")


@lru_cache(maxsize=16)
def _drawn(key: _Key, printer: StoredPrinter | None) -> Drawn:
    """Drawing gives the same bytes each time (R18), so what was drawn for one page serves the others."""
    offered = draw_papers(load_set(key.set_id), printer.name if printer else "", key.reason)
    findings = tuple(finding for one in offered.values() for finding in one.findings)
    whole = not blocks(findings) and not any(one.left_out for one in offered.values())
    return Drawn({kind: one.pdf for kind, one in offered.items() if one.pdf}, findings, whole)


def _show(request: BenchRequest, found: StoredSet, wrong: tuple[Finding, ...], status: int = 200) -> HttpResponse:
    kept, way = load_papers(found.id), _asked(request)
    printer = _known(way.printer)
    looking = 0 if wrong else _looking(found.id, way)
    shown = _Way(printer.name if printer else "", way.reason if looking else "")
    latest = {stored.kind: stored.pdf for stored in reversed(kept)}
    drawn = Drawn(latest, (), whole=True) if kept and not looking else _drawn(_Key.of(found, shown), printer)
    steps = (next_step(card.number, found.id, card.state.stage, out_of_date=card.state.out_of_date) for card in found.cards)
    step = next((step for step in steps if step and kept), None)
    screen = PaperScreen(
        set_id=found.id,
        documents=tuple(_document(found.id, kind, drawn.pdfs[kind], shown) for kind in TITLES if kind in drawn.pdfs),
        kept=bool(kept),
        may=drawn.whole,
        findings=with_names(wrong or drawn.findings),
        refused=bool(wrong),
        looking=looking,
        reason=way.reason,
        copies=tuple(
            CopyLine(stored.copy, local(stored.made_at), stored.made_by, stored.reason) for stored in kept if stored.kind == "labels"
        ),
        labels=reverse("set-labels", args=[found.id]) if kept else "",
        onward=step.url if step and step.may(request.actor.role) else "",
        onward_words=step.words if step else "",
        token=new_token(),
        printer=shown.printer,
        printers=tuple(one.name for one in load_printers()),
        sizes=SIZES,
        languages=LANGUAGES,
        first=found.plan.first,
        last=found.plan.first + timedelta(days=found.plan.days - 1),
        made=tuple(MadeLine(one.id, one.name.title, local(one.made_at), one.made_by) for one in load_made_lately(f"set {found.id}")),
    )
    home = load_home_names().get(found.person.home, "") if found.person.home else ""
    return show(request, "paper/screen.html", screen, strip=strip_of(found.person, home, plan=found.plan.basis), status=status)


def _document(set_id: int, kind: str, pdf: bytes, way: _Way) -> Document:
    document = pypdfium2.PdfDocument(pdf)
    pages = len(document)
    document.close()
    pictures = tuple(way.of(reverse("paper-page", args=[set_id, kind, page])) for page in range(1, pages + 1))
    return Document(kind, TITLES[kind], hashlib.sha256(pdf).hexdigest(), pictures, way.of(reverse("paper-file", args=[set_id, kind])))

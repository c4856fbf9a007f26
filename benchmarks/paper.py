"""Label sheets: from a plan to PDF bytes, against (a) a writer that only puts the same strings at the same places, (b) an HTML engine.

(a), as fast as strings can be joined, is the limit. (b) is given the strings with their places and sizes, and embeds the same fonts: it has
nothing to fit, to check or to read back, and no codes or dials. Ours measures, fits, checks texts and fields, embeds fonts, draws codes and
dials and tags; then the same with the PDF read back. Then 1, 100 and 1,000 sheets: how fast, how much memory, how many bytes a sheet; and
a home's worth on several cores. Everybody has a name and cards of their own, and eight medicines for a week. Invented people.
"""

import os
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from concurrent.futures import Executor, ProcessPoolExecutor
from datetime import date
from fractions import Fraction
from html import escape
from itertools import islice
from pathlib import Path
from tempfile import TemporaryDirectory, TemporaryFile

import weasyprint

from benchmarks.ratio import compare, process_time, seconds
from dosewright.cli.plan_input import PlanInput
from dosewright.cli.plan_paper import More, draw_paper
from dosewright.cli.through import InThisProcess
from dosewright.core.interop.card_format_toml import parse_card_format
from dosewright.core.interop.orders_in import OrdersIn
from dosewright.core.interop.profile_toml import parse_profile
from dosewright.core.medicines.medicine import Medicine, Shape, Size
from dosewright.core.packing.plan import plan_cycle
from dosewright.core.packing.request import PlanRequest
from dosewright.core.paper.fonts import Font, FontSet
from dosewright.core.paper.label_lines import with_label_lines
from dosewright.core.paper.labels import draw_labels
from dosewright.core.paper.material import Material, Pharmacy
from dosewright.core.paper.offer import offer_labels
from dosewright.core.paper.page import MM_PER_POINT, Face, Page
from dosewright.core.paper.pdf import Heading, stream_pdf, write_pdf
from dosewright.core.paper.pdf_text import read_pages
from dosewright.core.regimen.dosage import Amount, Dosage, Repeat, TimeUnit, Timing
from dosewright.core.regimen.order import Order
from dosewright.core.units.ids import MedicineCode, OrderId, PersonId
from dosewright.core.units.person import Person
from dosewright.core.units.quantity import Quantity, Unit
from dosewright.devices.fonts import load_fonts
from dosewright.devices.shipped import read_shipped

FIRST, DAYS = date(2026, 3, 2), 7
_HOME = 24  # people
TABLET = Unit("tablet")
MEDICINES = (
    ("amlodipine", "5 mg", ("MORN",), "1"),
    ("bisoprolol", "2.5 mg", ("MORN",), "1/2"),
    ("furosemide", "40 mg", ("MORN", "NOON"), "1"),
    ("metformin", "500 mg", ("MORN", "EVE"), "1"),
    ("paracetamol", "500 mg", ("MORN", "NOON", "EVE", "HS"), "2"),
    ("ramipril", "5 mg", ("MORN",), "1"),
    ("senna", "7.5 mg", ("HS",), "2"),
    ("simvastatin", "40 mg", ("HS",), "1"),
)
GIVEN = ("Ada", "Bram", "Clara", "Dov", "Edith", "Frank", "Greta", "Hugo", "Ines", "Jonas")
FAMILY = ("Abara", "Brandt", "Corrigan", "Dunmore", "Eskola", "Ferris", "Galway", "Hartnell", "Ivers", "Jessop", "Kwan")


def material(people: int) -> Material:
    """So many people, planned."""
    persons = tuple(_person(n) for n in range(people))
    catalogue = {MedicineCode(name): _medicine(name, strength) for name, strength, _, _ in MEDICINES}
    orders = tuple(_order(person, *one) for person in persons for one in MEDICINES)
    form, profile = parse_card_format(read_shipped("formats", "seven-by-four.toml")), parse_profile(read_shipped("profiles", "uk.toml"))
    request = with_label_lines(PlanRequest(persons, orders, catalogue, form, profile, FIRST, DAYS, FIRST), load_fonts())
    return Material(plan_cycle(request), request, Pharmacy("Tern Street Pharmacy", "14 Tern Street", "01632 960 144"), load_fonts())


def _person(n: int) -> Person:
    name = f"{GIVEN[n % 10]} {FAMILY[n // 10 % 11]}-{FAMILY[n // 110 % 11]}"
    return Person(PersonId(f"p{n:04}"), name, date(1930 + n % 20, 1 + n % 12, 1 + n % 28), room=str(n))


def _medicine(name: str, strength: str) -> Medicine:
    size = Size(Fraction(9), Fraction(7), Fraction(4))
    looks = {"shape": Shape.OVAL, "size": size, "colour": "white", "mark": name[:2].upper(), "maker": "Calder Vale"}
    return Medicine(MedicineCode(name), name, strength, "tablet", TABLET, cautions=("Take with or just after food",), **looks)  # type: ignore[arg-type]


def _order(person: Person, name: str, _: str, when: Sequence[str], amount: str) -> Order:
    dosages = tuple(
        Dosage(
            timing=Timing(repeat=Repeat(frequency=1, period=Fraction(1), period_unit=TimeUnit.DAY, when=(event,))),
            amounts=(Amount(quantity=Quantity(Fraction(amount), TABLET)),),
        )
        for event in when
    )
    order = OrderId(f"{person.id}-{name}")
    return Order(order, person.id, MedicineCode(name), dosages, anchor=FIRST, prescriber="Dr H. Lindqvist", rx_no=f"4{person.id[1:]}")


def drawn(of: Material) -> list[Page]:
    """Every label page of a plan."""
    return [page for person in of.plan.people for page in draw_labels(person, of)[0]]


def ours(of: Material) -> bytes:
    """Plan to PDF, without the read-back."""
    return write_pdf(drawn(of), of.fonts, Heading("Card labels", "Tern Street Pharmacy", of.plan.basis, "en"))


def raw(pages: Sequence[Page], fonts: FontSet) -> bytes:
    """The limit: the same strings at the same places in the same fonts, embedded whole; no fitting, no compression, no frames, no codes."""
    objects: list[bytes] = []
    for page in pages:
        lines = [
            f"BT /{'B' if run.face is Face.BOLD else 'R'} {run.size:g} Tf {run.x / MM_PER_POINT:.3f} "
            f"{(page.height - run.baseline) / MM_PER_POINT:.3f} Td ({_escaped(run.text)}) Tj ET"
            for run in page.runs
        ]
        content = "\n".join(lines).encode("cp1252")
        objects.append(b"<< /Length %d >>\nstream\n%s\nendstream" % (len(content), content))
    return _document(objects, pages, fonts)


def _escaped(text: str) -> str:
    return text.replace("\\", "\\\\").replace("(", "\\(").replace(")", "\\)")


def _document(contents: Sequence[bytes], pages: Sequence[Page], fonts: FontSet) -> bytes:
    first, count = 9, len(contents)  # objects before the pages: the catalog, their tree, and three for each of two fonts
    kids = " ".join(f"{first + n} 0 R" for n in range(count))
    boxes = (f"[0 0 {page.width / MM_PER_POINT:.2f} {page.height / MM_PER_POINT:.2f}]" for page in pages)
    leaves = (
        f"<< /Type /Page /Parent 2 0 R /MediaBox {box} /Resources << /Font << /R 3 0 R /B 6 0 R >> >> /Contents {first + count + n} 0 R >>"
        for n, box in enumerate(boxes)
    )
    every = [
        b"<< /Type /Catalog /Pages 2 0 R >>",
        f"<< /Type /Pages /Kids [{kids}] /Count {count} >>".encode(),
        *_raw_font(fonts.faces[Face.REGULAR][0], 3),
        *_raw_font(fonts.faces[Face.BOLD][0], 6),
        *(leaf.encode() for leaf in leaves),
    ]
    out, places = bytearray(b"%PDF-1.4\n"), []
    for n, body in enumerate((*every, *contents), start=1):
        places.append(len(out))
        out += b"%d 0 obj\n%s\nendobj\n" % (n, body)
    start = len(out)
    out += b"xref\n0 %d\n0000000000 65535 f \n" % (len(places) + 1)
    out += b"".join(b"%010d 00000 n \n" % place for place in places)
    return bytes(out + b"trailer << /Size %d /Root 1 0 R >>\nstartxref\n%d\n%%%%EOF\n" % (len(places) + 1, start))


def _raw_font(font: Font, number: int) -> tuple[bytes, bytes, bytes]:
    """The font's whole file, used by its letters of one byte."""
    widths = " ".join(f"{font.widths.get(bytes([n]).decode('cp1252', 'replace'), 0):g}" for n in range(32, 256))
    name = (
        f"/FontName /{font.name} /Flags 32 /FontBBox [0 -300 1000 1000] /ItalicAngle 0 /Ascent 950 /Descent -290 /CapHeight 670 /StemV 80"
    )
    return (
        f"<< /Type /Font /Subtype /TrueType /BaseFont /{font.name} /Encoding /WinAnsiEncoding /FirstChar 32 /LastChar 255 "
        f"/Widths [{widths}] /FontDescriptor {number + 1} 0 R >>".encode(),
        f"<< /Type /FontDescriptor {name} /FontFile2 {number + 2} 0 R >>".encode(),
        b"<< /Length %d /Length1 %d >>\nstream\n%s\nendstream" % (len(font.data), len(font.data), font.data),
    )


def words_of(pdf: bytes) -> list[str]:
    """The letters of each page from the top, line by line, as PDFium reads them: so (a) is a PDF, and has the same text as ours."""
    return ["".join(g.text for g in sorted(page.glyphs, key=lambda g: (round(g.baseline, 1), g.x))) for page in read_pages(pdf)]


def html(pages: Sequence[Page]) -> str:
    """The same strings at the same places, in the same sizes and weights, as a page of HTML each."""
    page = pages[0]
    style = (
        f"@page {{ size: {page.width:.2f}mm {page.height:.2f}mm; margin: 0 }} body {{ margin: 0 }} div {{ position: relative; "
        f"height: {page.height - 1:.2f}mm; break-after: page; font-family: Paper; line-height: 1 }} "
        "span { position: absolute; white-space: nowrap } b { font-weight: 700 }"
    )
    return f"<style>{style}</style>" + "".join(f"<div>{''.join(_spans(page))}</div>" for page in pages)


def _spans(page: Page) -> list[str]:
    """Each run, its top a line's height above the baseline."""
    return [
        f'<span style="left:{run.x:.2f}mm;top:{run.baseline - run.size * MM_PER_POINT * 0.8:.2f}mm;font-size:{run.size:g}pt">'
        f"{'<b>' if run.face is Face.BOLD else ''}{escape(run.text)}{'</b>' if run.face is Face.BOLD else ''}</span>"
        for run in page.runs
    ]


def engine(pages: Sequence[Page], fonts: FontSet) -> Callable[[], bytes]:
    """The engine's work, its fonts loaded before: from HTML to PDF bytes."""
    loaded = weasyprint.text.fonts.FontConfiguration()
    with TemporaryDirectory() as folder:
        faces = []
        for face, weight in ((Face.REGULAR, 400), (Face.BOLD, 700)):
            path = os.path.join(folder, f"{weight}.ttf")
            with open(path, "wb") as file:
                file.write(fonts.faces[face][0].data)
            faces.append(f"@font-face {{ font-family: Paper; font-weight: {weight}; src: url(file://{path}) }}")
        sheet = weasyprint.CSS(string=" ".join(faces), font_config=loaded)
    text = html(pages)
    return lambda: weasyprint.HTML(string=text).write_pdf(stylesheets=[sheet], font_config=loaded) or b""


def main() -> None:
    """Ratios; then sizes one, a hundred, a thousand, each in a process of its own, so that its peak of memory is its own; then cores."""
    if len(sys.argv) > 1:
        print(_peak(int(sys.argv[1])))
        return
    few, some = material(5), material(50)
    pages, small = drawn(some), drawn(few)
    head = Heading("Card labels", "Tern Street Pharmacy", some.plan.basis, "en")
    print(f"{len(pages)} label pages, {sum(len(page.runs) for page in pages) // len(pages)} strings a page")
    assert words_of(raw(pages[:4], some.fonts)) == words_of(write_pdf(pages[:4], some.fonts, head))
    compare("(a) raw strings", lambda: raw(pages, some.fonts), "plan to PDF", lambda: ours(some), turns=5, clock=process_time)
    limit = lambda: raw(pages, some.fonts)  # noqa: E731
    write = compare("(a) raw strings", limit, "pages to PDF", lambda: write_pdf(pages, some.fonts, head), turns=41, clock=process_time)
    print(f"goal: at least half the speed of (a) before the read-back: {'reached' if write.times <= 2 else 'not reached'}")
    html_engine = engine(small, few.fonts)
    other = compare("pages to PDF", lambda: write_pdf(small, few.fonts, head), "(b) HTML engine", html_engine, turns=3, clock=process_time)
    print(f"goal: 50 times the speed of (b), writing pages: {'reached' if other.times >= 50 else 'not reached'}")
    whole = compare("plan to PDF", lambda: ours(few), "(b) HTML engine, pages drawn already", html_engine, turns=3, clock=process_time)
    print(f"the same with measuring, fitting and checking, which (b) need not do: {'reached' if whole.times >= 50 else 'not reached'}")
    print(f"plan to PDF: {len(small) / seconds(lambda: ours(few)):.0f} pages a second")
    print(f"plan to PDF, read back: {len(small) / seconds(lambda: offer_labels(few)):.0f} pages a second")
    for sheets in (1, 100, 1000, 4000):
        asked = [sys.executable, "-m", "benchmarks.paper", str(sheets)]
        print(subprocess.run(asked, check=True, capture_output=True, text=True).stdout.strip())
    _cores()


def _peak(sheets: int) -> str:
    """So many label sheets of one document, plan to PDF without the read-back, into a file: each is written as it is drawn."""
    of = material(-(-sheets // 4))
    before, began = _mebibytes(), time.process_time()
    pages = (page for person in of.plan.people for page in draw_labels(person, of)[0])
    with TemporaryFile() as file:
        stream_pdf(file, islice(pages, sheets), of.fonts, Heading("Card labels", "Tern Street Pharmacy", of.plan.basis, "en"))
        size = file.tell()
    taken = time.process_time() - began
    return (
        f"{sheets:>5} sheets: {size / sheets / 1024:.1f} KiB a sheet; drawn and written in {taken / sheets * 1e3:.2f} ms of a core each; "
        f"memory {before:.0f} MiB with the plan, {_mebibytes() - before:.0f} MiB more at the peak"
    )


def _mebibytes() -> float:
    """The most memory that this process has had; what the system says of a child's own use counts its parent's before it began."""
    lines = Path("/proc/self/status").read_text("ascii").splitlines()
    return next(int(line.split()[1]) for line in lines if line.startswith("VmHWM")) / 1024


def _cores() -> None:
    """A home's worth: labels, fill sheets, records and check sheets of everybody, read back and recounted, on one core and on all."""
    cores, of = os.cpu_count() or 1, material(_HOME)
    given = PlanInput(of.request, OrdersIn(of.request.people, (), ()), ())

    def draw(executor: Executor) -> dict[str, bytes]:
        return draw_paper(of.plan, given, (), More(check=True), executor)[0]

    single_began = time.process_time()
    single = seconds(lambda: draw(InThisProcess()))
    processor = time.process_time() - single_began
    with ProcessPoolExecutor(cores) as pool:
        list(pool.map(_ready, range(cores)))
        shared = seconds(lambda: draw(pool))
        assert draw(pool) == draw(InThisProcess())
    print(
        f"{_HOME} people, four documents read back: {single:.1f} s on one core (it had {processor:.1f} of it), {shared:.1f} s on {cores}, "
        f"the same bytes; ratio {single / shared:.1f}"
    )


def _ready(_: int) -> str:
    """A process has its fonts."""
    return load_fonts().faces[Face.REGULAR][0].name


if __name__ == "__main__":
    main()

"""Label sheets: from a plan to PDF bytes, against a writer that only puts the same strings at the same places of a PDF.

That writer, as fast as strings can be joined, is the limit. Ours measures, fits, checks texts and fields, embeds fonts and draws codes;
then the same with the PDF read back. Everybody has a name and cards of their own, and eight medicines for a week. Invented people.
"""

from collections.abc import Callable, Sequence
from datetime import date
from fractions import Fraction

from benchmarks.ratio import compare, grow, seconds
from dosewright.core.interop.card_format_toml import parse_card_format
from dosewright.core.interop.profile_toml import parse_profile
from dosewright.core.medicines.medicine import Medicine, Shape, Size
from dosewright.core.packing.plan import plan_cycle
from dosewright.core.packing.request import PlanRequest
from dosewright.core.paper.label_lines import with_label_lines
from dosewright.core.paper.labels import draw_labels
from dosewright.core.paper.material import Material, Pharmacy
from dosewright.core.paper.offer import offer_labels
from dosewright.core.paper.page import MM_PER_POINT, Face, Page
from dosewright.core.paper.pdf import Heading, write_pdf
from dosewright.core.regimen.dosage import Amount, Dosage, Repeat, TimeUnit, Timing
from dosewright.core.regimen.order import Order
from dosewright.core.units.ids import MedicineCode, OrderId, PersonId
from dosewright.core.units.person import Person
from dosewright.core.units.quantity import Quantity, Unit
from dosewright.devices.fonts import load_fonts
from dosewright.devices.shipped import read_shipped

FIRST, DAYS = date(2026, 3, 2), 7
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


def raw(pages: Sequence[Page]) -> bytes:
    """The limit: the same strings at the same places in a built-in font, no fitting, no font file, no compression, no codes."""
    objects: list[bytes] = []
    for page in pages:
        lines = [
            f"BT /{'B' if run.face is Face.BOLD else 'R'} {run.size:g} Tf {run.x / MM_PER_POINT:.2f} "
            f"{(page.height - run.baseline) / MM_PER_POINT:.2f} Td ({run.text}) Tj ET"
            for run in page.runs
        ]
        content = "\n".join(lines).encode("latin-1", "replace")
        objects.append(b"<< /Length %d >>\nstream\n%s\nendstream" % (len(content), content))
    return _document(objects, pages)


def _document(contents: Sequence[bytes], pages: Sequence[Page]) -> bytes:
    count = len(contents)
    kids = " ".join(f"{3 + n} 0 R" for n in range(count))
    boxes = (f"[0 0 {page.width / MM_PER_POINT:.2f} {page.height / MM_PER_POINT:.2f}]" for page in pages)
    regular, heavy = (f"<< /Type /Font /Subtype /Type1 /BaseFont /{name} >>" for name in ("Times-Roman", "Times-Bold"))
    fonts = f"<< /Font << /R {regular} /B {heavy} >> >>"
    leaves = (
        f"<< /Type /Page /Parent 2 0 R /MediaBox {box} /Resources {fonts} /Contents {3 + count + n} 0 R >>" for n, box in enumerate(boxes)
    )
    every = [
        b"<< /Type /Catalog /Pages 2 0 R >>",
        f"<< /Type /Pages /Kids [{kids}] /Count {count} >>".encode(),
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


def main() -> None:
    """Ratios for fifty people; growth from ten to a thousand; what the read-back adds."""
    fifty = material(50)
    pages = drawn(fifty)
    head = Heading("Card labels", "Tern Street Pharmacy", fifty.plan.basis, "en")
    size = len(write_pdf(pages, fifty.fonts, head)) / len(pages)
    strings = sum(len(page.runs) for page in pages) // len(pages)
    print(f"fifty people, {len(pages)} label pages, {strings} strings and {size / 1024:.1f} KiB a page")
    whole = compare("raw strings", lambda: raw(pages), "plan to PDF", lambda: ours(fifty), turns=7)
    write = compare("raw strings", lambda: raw(pages), "pages to PDF", lambda: write_pdf(pages, fifty.fonts, head), turns=7)
    checked = seconds(lambda: offer_labels(fifty))
    for what, taken in (
        ("raw strings", whole.ours),  # the first of the two that were compared
        ("pages to PDF", write.theirs),
        ("plan to PDF", whole.theirs),
        ("plan to PDF, read back", checked),
    ):
        print(f"{what}: {len(pages) / taken:.0f} pages a second")
    grow("labels by people", _labels_of, (10, 100), turns=3)
    grow("labels by people", _labels_of, (1000,), turns=1)


def _labels_of(people: int) -> Callable[[], object]:
    of = material(people)
    return lambda: ours(of)


if __name__ == "__main__":
    main()

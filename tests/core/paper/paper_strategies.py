"""Random people, medicines and orders, as a pharmacy could have them, planned by the real planner: shared by the paper tests."""

from dataclasses import replace
from datetime import date
from fractions import Fraction

from hypothesis import strategies as st

from dosewright.core.interop.card_format_toml import parse_card_format
from dosewright.core.interop.profile_toml import parse_profile
from dosewright.core.medicines.medicine import Medicine, Shape, Size
from dosewright.core.packing.plan import plan_cycle
from dosewright.core.packing.request import PlanRequest
from dosewright.core.paper.label_lines import with_label_lines
from dosewright.core.paper.material import Material, Pharmacy
from dosewright.core.regimen.dosage import Amount, Dosage, Repeat, TimeUnit, Timing
from dosewright.core.regimen.order import Order
from dosewright.core.units.ids import HomeId, MedicineCode, OrderId, PersonId
from dosewright.core.units.person import Person
from dosewright.core.units.quantity import Quantity, Unit
from dosewright.devices.fonts import load_fonts
from dosewright.devices.shipped import read_shipped, shipped_names

FORMATS = [parse_card_format(read_shipped("formats", name)) for name in shipped_names("formats")]
PROFILES = [parse_profile(read_shipped("profiles", name)) for name in shipped_names("profiles")]
PHARMACY = Pharmacy("Tern Street Pharmacy", "14 Tern Street, Saltmarsh", "01632 960 144", "registration 9 017 443")

LETTERS = "abcdefghijklmnopqrstuvwxyzäçéèñøßłžАБВабвгдежзиклмнопрстΑΒΓαβγδεζηθικλμν"
WORD = st.text(alphabet=LETTERS, min_size=2, max_size=11).map(str.capitalize)
NAMES = st.lists(WORD, min_size=2, max_size=3).map(" ".join)
GENERIC: tuple[str, ...] = (
    "amlodipine",
    "bisoprolol",
    "calcium carbonate and colecalciferol",
    "carbamazepine",
    "chlordiazepoxide",
    "clopidogrel",
    "digoxin",
)
GENERIC += (
    "bendroflumethiazide",
    "hydrochlorothiazide",
    "levothyroxine",
    "metformin",
    "isosorbide mononitrate",
    "quetiapine",
    "senna",
    "warfarin",
)
STRENGTHS = (
    "500 mg",
    "2.5 mg",
    "62.5 micrograms",
    "1.25 g and 400 units",
    "1,000 units",
    "25 mg",
    "12.5 mg and 50 mg",
    "5mg",
    "10.0 mg",
    "0.5 mg",
)
FORMS = ("tablet", "modified-release tablet", "gastro-resistant tablet", "capsule", "film-coated tablet")
WHEN = ("MORN", "NOON", "EVE", "HS")


@st.composite
def medicines(draw: st.DrawFn, code: str) -> Medicine:
    form = draw(st.sampled_from(FORMS))
    unit = Unit(form.split()[-1])
    length = draw(st.integers(5, 14))
    return Medicine(
        MedicineCode(code),
        draw(st.sampled_from(GENERIC)),
        draw(st.sampled_from(STRENGTHS)),
        form,
        unit,
        shape=Shape.CAPSULE if unit == "capsule" else draw(st.sampled_from([Shape.ROUND, Shape.OVAL, Shape.BICONVEX, Shape.CAPLET])),
        size=Size(Fraction(length), Fraction(min(length, draw(st.integers(4, 9)))), Fraction(4)),
        colour=draw(st.sampled_from(["white", "yellow", "pink and brown", "light blue"])),
        mark=draw(st.sampled_from(["", "M 5", "A&B", "10mg", "1.0"])),
        maker=draw(st.sampled_from(["Halden Laboratories", "Brook & Sons"])),
        cautions=tuple(
            draw(st.lists(st.sampled_from(["Take with or just after food", "Do not stop taking this medicine suddenly"]), max_size=2))
        ),
    )


@st.composite
def orders(draw: st.DrawFn, medicine: Medicine, person: PersonId, number: int) -> Order:
    amounts = ["1", "2"] if medicine.unit == "capsule" else ["1", "1/2", "3/2", "2"]
    dosages = tuple(
        Dosage(
            timing=Timing(repeat=Repeat(frequency=1, period=Fraction(draw(st.integers(1, 3))), period_unit=TimeUnit.DAY, when=(when,))),
            amounts=(Amount(quantity=Quantity(Fraction(draw(st.sampled_from(amounts))), medicine.unit)),),
        )
        for when in sorted(draw(st.sets(st.sampled_from(WHEN), min_size=1, max_size=2)), key=WHEN.index)
    )
    text = "as the prescriber wrote it"
    return Order(
        OrderId(f"o{number}"),
        person,
        medicine.code,
        dosages,
        text,
        anchor=date(2026, 3, 2),
        prescriber="Dr A. Nwosu",
        rx_no=f"{number:06d}",
    )


@st.composite
def materials(draw: st.DrawFn, people: int = 2, most: int = 7, days: int = 7) -> Material:
    """A planned cycle for `people` persons with up to `most` orders each, in any shipped format and profile."""
    catalogue = {MedicineCode(f"m{n}"): draw(medicines(f"m{n}")) for n in range(draw(st.integers(1, most)))}
    persons = tuple(
        Person(PersonId(f"p{n}"), draw(NAMES), date(1939, 2, n + 1), HomeId("lindens"), draw(st.sampled_from(["", "12", "3 B"])))
        for n in range(people)
    )
    every = tuple(
        draw(orders(medicine, person.id, n * 100 + m)) for n, person in enumerate(persons) for m, medicine in enumerate(catalogue.values())
    )
    form, profile = draw(st.sampled_from(FORMATS)), draw(st.sampled_from(PROFILES))
    request = PlanRequest(persons, every, catalogue, form, profile, date(2026, 3, 2), days, date(2026, 2, 26))
    request = with_label_lines(request, load_fonts())
    return Material(plan_cycle(request), request, PHARMACY, load_fonts(), {HomeId("lindens"): "The Lindens"})


def renamed(material: Material, name: str) -> Material:
    """The same with every person called so."""
    people = tuple(replace(person, name=name) for person in material.request.people)
    return replace(material, request=replace(material.request, people=people))

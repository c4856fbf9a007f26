"""How many lines of smallest type a cavity's label has, and how many each medicine takes: measured, so that the plan never fills a cavity
with more than its label can say. Comes in: a request, before there is a plan. Goes out: `LabelLines` for the same request.
"""

from dataclasses import replace
from datetime import date, time
from fractions import Fraction

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.packing.plan_values import CardColumn, Content, Plan
from dosewright.core.packing.request import LabelLines, PlanRequest
from dosewright.core.paper.cavity_labels import room_at_least, width_inside
from dosewright.core.paper.cavity_text import MEDICINE_SIZE, CavityTexts, content_para, foot_paras, heading_paras
from dosewright.core.paper.fit import line_height, set_block
from dosewright.core.paper.fonts import FontSet
from dosewright.core.paper.material import STAMPED, Material
from dosewright.core.paper.page import Rect
from dosewright.core.paper.words import Para, check_paras
from dosewright.core.units.ids import OrderId, SlotName
from dosewright.core.units.quantity import Quantity

__all__ = ["least_room", "measure_label_lines", "with_label_lines"]

# The widest day, and amounts in the widths that occur.
_WIDEST_DAY = date(2026, 9, 30)
_AMOUNTS = (Fraction(1), Fraction(1, 2), Fraction(3, 2), Fraction(3, 4), Fraction(10))


def with_label_lines(request: PlanRequest, fonts: FontSet) -> PlanRequest:
    """The request with its label lines measured: what `plan_cycle` should be given."""
    return replace(request, label_lines=measure_label_lines(request, fonts))


def measure_label_lines(request: PlanRequest, fonts: FontSet) -> LabelLines:
    """Room and needs at the smallest type that format and profile allow; at least one line of room: no lone medicine is refused here."""
    box, material = _inside(request, fonts)
    return LabelLines(least_room(request, fonts), {code: _lines(medicine, box, material) for code, medicine in request.medicines.items()})


def least_room(request: PlanRequest, fonts: FontSet) -> int:
    """The room alone. That of many people is the least of what parts of them have."""
    box, material = _inside(request, fonts)
    return max(int((_least_room(box, material) + 1e-6) // line_height(material.smallest_in_cavity)), 1)


def _inside(request: PlanRequest, fonts: FontSet) -> tuple[Rect, Material]:
    label = request.format.cavity_label(1, 1)
    box = Rect(float(label.left), float(label.top), float(label.width), float(label.height))
    return box, Material(Plan("", request.first, request.days, "", "", (), ()), request, STAMPED, fonts)


def _least_room(box: Rect, material: Material) -> float:
    """Under the longest dosing time and above the longest name of anybody in the request; names that cannot be printed are found later."""
    request = material.request
    every = (request.timetable, *request.homes.values(), *request.timetables.values())
    slots: set[SlotName] = {slot.name for timetable in every for slot in timetable.slots}
    columns = [CardColumn(1, name, time(22, 0), _WIDEST_DAY, part, 2) for name in slots for part in (1, 2)]
    headings = [heading_paras(_WIDEST_DAY, column, material) for column in columns]
    by_room = {room_at_least(CavityTexts(h, [], ()), box, material): h for h in headings}  # of those as high one will do
    feet = [paras for person in request.people if not _unprintable(paras := foot_paras(person), material)]
    rooms = [room_at_least(CavityTexts(heading, [], foot), box, material) for heading in by_room.values() for foot in (feet or [()])]
    return min(rooms, default=0.0)


def _lines(medicine: Medicine, box: Rect, material: Material) -> int:
    """Lines of the shorter form with the longest of the usual amounts; 1 where the medicine cannot be printed at all."""
    contents = (Content(OrderId(""), medicine.code, Quantity(amount, medicine.unit)) for amount in _AMOUNTS)
    paras = tuple(content_para(content, material, short=True) for content in contents)
    if _unprintable(paras, material):
        return 1
    step = material.smallest_in_cavity / MEDICINE_SIZE
    blocks = [set_block((para,), width_inside(box), material.fonts, step) for para in paras]
    return max((len(block.lines) for block in blocks if block), default=1)


def _unprintable(paras: tuple[Para, ...], material: Material) -> bool:
    return any(check_paras(paras, material.fonts, material.country, {}))

"""The check sheet: for the second person, who has not filled the card. First what the orders say, then an empty card for the own counts.

Nothing that the filler counted, and no total, is on it: the checker counts what lies there and compares afterwards (independent check).
Comes in: one person of a plan. Goes out: A4 pages and findings: the orders, then a page for each card, drawn with its labels to the reader.
Source: the checker forms an own judgement without cues from the packer (ISMP, independent double checks).
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from datetime import date, datetime, time, timedelta
from fractions import Fraction

from dosewright.core.medicines.neighbours import look_alike
from dosewright.core.packing.plan_values import Card, CardColumn, PersonPlan
from dosewright.core.paper.apart_marks import check_second_identifier
from dosewright.core.paper.dates import clock, short_day, span_of_days, year_day
from dosewright.core.paper.directions import directions_of, number_style
from dosewright.core.paper.drawn import Drawn, join, once, page_of
from dosewright.core.paper.due import due_of
from dosewright.core.paper.flow import Entry, entry_of, flow
from dosewright.core.paper.labels import labelled_places
from dosewright.core.paper.material import Material
from dosewright.core.paper.medicine_words import described, named, placed_words, sentence
from dosewright.core.paper.page import About, Dial, Page, Place, Rect, Shade, Stroke
from dosewright.core.paper.page_numbers import number_pages
from dosewright.core.paper.setting import Setting, set_in, setting_of
from dosewright.core.paper.sheet import A4, Frame, Sheet, frame_strip, strip_of
from dosewright.core.paper.when_needed import ONLY_WHEN_NEEDED, on_demand_rows, on_demand_truth, when_needed_in
from dosewright.core.paper.words import Para, bold, given, plain
from dosewright.core.paper.zone_recount import Truth
from dosewright.core.units.finding import Fact, Finding
from dosewright.core.units.ids import OrderId, SlotName
from dosewright.core.units.quantity import Quantity, format_amount

__all__ = ["check_truth", "draw_check"]

_SIDE, _TOP = 22.0, 14.0  # mm of the grid for days and dosing times
_FOOT = 74.0  # mm below the grid for what was found and who signs
_DIAL = 3.0
_WIDE = A4[0] - 20.0


def draw_check(person: PersonPlan, material: Material, made: date | datetime) -> tuple[tuple[Page, ...], tuple[Finding, ...]]:
    """The orders of the set, then each card; none where there is no card."""
    if not person.cards:
        return (), ()
    setting, about = setting_of(material, person.person), {"person": person.person, "sheet": "check"}
    orders = _frame(Sheet("Check sheet: the orders", "", A4), person, material, made)
    entries = list(_orders(person, material, setting))
    found = [finding for entry in entries if isinstance(entry, tuple) for finding in entry]
    whole = [entry for entry in entries if isinstance(entry, Entry)]
    pages = [page_of(join((orders.edges, part)), *A4, dict(about)) for part in flow(whole, orders.room)]
    for number, card in enumerate(person.cards, start=1):
        sheet = Sheet("Check sheet: the card", card.number, A4, f"card {number} of {len(person.cards)}")
        frame = _frame(sheet, person, material, made)
        part = join((frame.edges, *_card(card, frame.room, material, setting)))
        found += part.findings
        facts: dict[str, Fact] = {**about, "card": card.number}
        pages.append(page_of(part, *A4, facts))
    return number_pages(pages, orders.page, material.fonts), once(
        (*check_second_identifier(person.person, material), *orders.edges.findings, *found)
    )


def check_truth(person: PersonPlan, material: Material) -> Truth:
    """What the orders ask of the cards: per order, dosing time and amount on which days, worked out from the cavities."""
    days: dict[tuple[OrderId, time, SlotName, Quantity], list[date]] = defaultdict(list)
    sums: dict[tuple[OrderId, date, time, SlotName, str], Fraction] = defaultdict(Fraction)
    codes = {}
    for cavity in (cavity for card in person.scheduled for cavity in card.cavities):
        for content in cavity.contents:
            sums[content.order, cavity.day, cavity.time, cavity.slot, str(content.quantity.unit)] += content.quantity.count
            codes[content.order] = content.medicine
    for (order, day, at, slot, unit), count in sorted(sums.items()):
        days[order, at, slot, Quantity(count, unit)].append(day)  # type: ignore[arg-type]
    texts: dict[About, str] = {}
    for (order, at, slot, quantity), on in days.items():
        about = ("checked", person.person, order, clock(at), str(slot), format_amount(quantity.count))
        amount = placed_words(material.medicine(codes[order]), quantity, number_style(material))
        texts[about] = f"{clock(at)} {slot}: {amount}, {_which(on, material.request.first, material.request.days)}"
    for order, said in on_demand_truth(person, material).items():
        codes[order], texts["on demand", person.person, order] = said
    for order in codes:
        texts["ordered", person.person, order] = sentence(directions_of(material.order(order), material))
    return Truth({about: text for about, text in texts.items() if text})


def _which(days: Sequence[date], first: date, many: int) -> str:
    every = [first + timedelta(days=n) for n in range(many)]
    if sorted(days) == every:
        return "every day"
    return "on " + ", ".join(short_day(day) for day in sorted(days))


def _frame(sheet: Sheet, person: PersonPlan, material: Material, made: date | datetime) -> Frame:
    who = material.person(person.person)
    return frame_strip(sheet, strip_of(who, material, made), setting_of(material, who.id))


def _orders(person: PersonPlan, material: Material, setting: Setting) -> Iterator[Entry | tuple[Finding, ...]]:
    request = material.request
    lead = "Read the orders first, medicine by medicine. Do not look at the fill sheet. Then count each card yourself."
    opening = (Para((bold(span_of_days(request.first, request.last)),), 11.0, 9.0), Para((plain(lead),), 11.0, 9.0))
    yield entry_of(opening, (), _WIDE, setting)
    rows: dict[OrderId, dict[tuple[time, SlotName, Quantity], list[date]]] = defaultdict(lambda: defaultdict(list))
    medicines = {}
    for due in due_of(person, material, request.first, request.days):
        if due.card is not None:
            rows[due.order.id][due.time, due.slot, due.quantity].append(due.day)
            medicines[due.order.id] = due.medicine
    needed = when_needed_in(person)
    medicines |= {order: material.medicine(said.medicine) for order, said in needed.items()}
    for order_id, medicine in sorted(medicines.items(), key=lambda one: (one[1].label.casefold(), one[0])):
        order, looks = material.order(order_id), described(medicine)
        head = [Para((bold(named(medicine, material.country)),), 13.0, 10.0)]
        head += [Para((plain("Looks:"), given(sentence(looks))), 11.0, 9.0)] if looks else [Para((bold("Looks: not on file."),), 11.0, 9.0)]
        head += [
            Para((bold("Could be mistaken for:"), plain(f"{named(other, material.country)}, also in this set.")), 11.0, 9.0)
            for other in medicines.values()
            if other.code != medicine.code and look_alike(medicine, other)
        ]
        said: list[tuple[Sequence[Para], About]] = []
        if directions := sentence(directions_of(order, material)):
            said.append(((Para((plain(directions),), 11.0, 9.0),), ("ordered", person.person, order_id)))
        for (at, slot, quantity), days in sorted(rows[order_id].items(), key=lambda row: (row[0][0], -row[0][2].count)):
            amount = placed_words(medicine, quantity, number_style(material))
            about = ("checked", person.person, order_id, clock(at), str(slot), format_amount(quantity.count))
            words = (bold(f"{clock(at)} {slot}: {amount},"), plain(_which(days, request.first, request.days)))
            said.append(((Para(words, 11.0, 9.0, indent=4.0),), about))
        if order_id in needed:
            said += on_demand_rows(person.person, needed[order_id], material)
        where = "in every cavity that is used:" if order_id in needed else "in every cavity where it is due:"
        seen = Para(
            (plain("Seen in the card as described:"), given("_______"), plain(where), given("_______")),
            10.0,
            8.0,
        )
        said.append(((seen,), ()))
        yield entry_of(head, said, _WIDE, setting)


def _card(card: Card, room: Rect, material: Material, setting: Setting) -> Iterator[Drawn]:
    span = f"{ONLY_WHEN_NEEDED}, no days and no dosing times." if card.as_needed else span_of_days(card.first, card.last)
    days = Para((bold(span), plain(f"Use no later than {year_day(card.beyond_use)}.")), 11.0, 9.0)
    how = Para(
        (plain("Write into each place how many pieces lie there, 0 where none does. The card lies with its labels to you."),), 9.5, 8.0
    )
    yield set_in((days, how), Rect(room.left, room.top, room.width, 11.0), setting)
    grid = Rect(room.left, room.top + 12.0, room.width, room.height - _FOOT - 12.0)
    yield from _roll(card, grid, setting) if material.request.format.roll else _grid(card, grid, material, setting)
    yield from _findings_box(card, Rect(room.left, room.bottom - _FOOT + 2.0, room.width, _FOOT - 2.0), setting)


def _grid(card: Card, box: Rect, material: Material, setting: Setting) -> Iterator[Drawn]:
    form = material.request.format
    wide, high = (box.width - _SIDE) / form.columns, (box.height - _TOP) / form.rows
    columns = {column.column: column for column in card.columns}
    labelled = {(row, column.column): day for column, row, day in labelled_places(card, material)}
    for number in range(1, form.columns + 1):
        left = box.left + _SIDE + (number - 1) * wide
        if number in columns:
            yield from _heading(columns[number], Rect(left, box.top, wide, _TOP), setting)
        for row in range(1, form.rows + 1):
            rect = Rect(left, box.top + _TOP + (row - 1) * high, wide, high).inset(0.5, 0.5)
            day = labelled.get((row, number))
            used = day is not None
            yield Drawn(places=(Place(rect, Stroke.PLAIN if used else Stroke.HAIR, Shade.NONE if used else Shade.HATCHED, 1.2),))
            if day is not None and not card.as_needed:
                yield set_in(
                    (Para((plain(short_day(day)),), 7.5, 7.0),), Rect(rect.left + 1.0, rect.top + 0.6, rect.width - 2.0, 3.6), setting
                )
    for row in range(1, form.rows + 1):
        where = Rect(box.left, box.top + _TOP + (row - 1) * high, _SIDE - 1.0, high)
        yield set_in((Para((bold(f"row {row}"),), 9.0, 8.0),), where, setting, 0.5)


def _heading(column: CardColumn, box: Rect, setting: Setting) -> Iterator[Drawn]:
    part = (f"part {column.part} of {column.parts}",) if column.parts > 1 else ()
    if column.when_needed:
        lines = [Para((bold(text),), 10.0, 7.0) for text in ("when needed", *part)]
        yield set_in(lines, Rect(box.left + 1.0, box.top, box.width - 1.5, box.height), setting)
        return
    words = [Para((bold(text),), 10.0, 7.0) for text in (f"{clock(column.time)}", str(column.slot), *part)]
    yield set_in(words, Rect(box.left + 2 * _DIAL + 1.5, box.top, box.width - 2 * _DIAL - 2.0, box.height), setting)
    yield Drawn(dials=(Dial(box.left + _DIAL + 0.6, box.top + _DIAL + 0.6, _DIAL, column.time),))


def _roll(card: Card, box: Rect, setting: Setting) -> Iterator[Drawn]:
    """Pouches in the order of time, seven to a line."""
    lines = -(-len(card.columns) // 7)
    wide, high = box.width / 7, min(box.height / lines, 26.0)
    for n, column in enumerate(card.columns):
        down, across = divmod(n, 7)
        rect = Rect(box.left + across * wide, box.top + down * high, wide, high).inset(0.5, 0.5)
        part = f", {column.part} of {column.parts}" if column.parts > 1 else ""
        words = (short_day(column.first), f"{clock(column.time)}{part}")
        yield Drawn(places=(Place(rect, Stroke.PLAIN, radius=1.2),))
        inner = Rect(rect.left + 1.0, rect.top + 0.6, rect.width - 2.0, 8.0)
        yield set_in([Para((plain(text),), 7.5, 7.0) for text in words], inner, setting)


def _findings_box(card: Card, box: Rect, setting: Setting) -> Iterator[Drawn]:
    line = "______________________________"
    asked = (
        f"Header: name, birth date, {'only when needed' if card.as_needed else 'days'}, number as on this sheet",
        f"Every cavity label: {'how much at most, and how far apart' if card.as_needed else 'day and dosing time'}",
        "Each medicine's shape, colour and mark as described",
        "Lot and expiry of each medicine seen",
    )
    paras = [Para((plain(text), given("______")), 10.0, 8.0, after=0.8) for text in asked]
    paras.append(Para((bold("What differs, cavity by cavity:"), given(line + line)), 10.0, 8.0, after=2.0))
    paras.append(Para((given(line + line + line),), 10.0, 8.0, after=2.0))
    paras.append(
        Para((bold("Accepted"), given("____"), bold("Sent back"), given("____"), plain("because"), given(line)), 11.0, 9.0, after=2.0)
    )
    paras.append(Para((plain("I did not fill this card. Name in capitals"), given(line)), 11.0, 9.0, after=2.0))
    paras.append(Para((plain("Signed"), given(line), plain("date and time"), given("__________________")), 11.0, 9.0))
    yield set_in(paras, box, setting)

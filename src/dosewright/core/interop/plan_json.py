"""The plan file: `Plan` ⇄ JSON text, exactly, keys in a fixed order. The same plan gives the same bytes (R18).

Amounts are exact decimal text, or "1/3" where there is none; days and clock times ISO 8601; `fill` is rounded to a thousandth, for reading
only. A person and a finding stand on a line each. Reading back is strict: what the file states is taken as it is, and what is not a plan
is one sentence with its place. Findings are for people and are not read back.
"""

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import time
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from functools import lru_cache

from dosewright.core.interop.findings_json import finding_in_json
from dosewright.core.interop.json_text import Writable, parse_json
from dosewright.core.interop.plan_object import PlanError, PlanObject
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.packing.plan_values import Alongside, Card, CardColumn, Content, PackedCavity, PersonPlan, Plan, Proof, WhenNeeded
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import CardNumber, MedicineCode, OrderId, PersonId, SlotName
from dosewright.core.units.quantity import Quantity, Unit, format_amount

__all__ = [
    "PlanError",
    "findings_text",
    "format_finding",
    "format_findings",
    "format_person",
    "format_plan",
    "parse_person",
    "parse_plan",
    "parse_plan_head",
    "plan_text",
]

_MOST_DAYS = 3660  # ten years
_THOUSANDTH = Decimal("0.001")


def format_plan(plan: Plan, names: Mapping[PersonId, str], findings: Sequence[Finding]) -> str:
    """The file's text. `names` are the people's printed names; `findings` those of the whole run, the plan's own among them."""
    people = (format_person(person, names[person.person]) for person in plan.people)
    return "".join(plan_text(plan, people, map(format_finding, findings)))


def plan_text(head: Plan, people: Iterable[str], findings: Iterable[str]) -> Iterator[str]:
    """The file piece by piece, so that it need not be in memory: what `head` says of the plan as a whole, then people, then findings."""
    said: dict[str, Writable] = {
        "basis": head.basis,
        "from": head.first.isoformat(),
        "days": head.days,
        "profile": head.profile,
        "format": head.format,
    }
    yield f"{_dump(said)[:-1]},\n "
    yield from _lines("people", people)
    yield ",\n "
    yield from _lines("findings", findings)
    yield "}\n"


def format_findings(findings: Iterable[Finding]) -> str:
    """All findings as one JSON object, a finding a line."""
    return "".join(findings_text(map(format_finding, findings)))


def findings_text(findings: Iterable[str]) -> Iterator[str]:
    """The same piece by piece, from each finding's line."""
    yield "{"
    yield from _lines("findings", findings)
    yield "}\n"


def parse_plan(text: str, medicines: Mapping[MedicineCode, Medicine]) -> Plan:
    """The plan that `format_plan` wrote, without its findings. `medicines` say in what each is counted.

    Raises JsonError where it is not JSON, PlanError where it is no plan.
    """
    top = PlanObject(parse_json(text), "plan")
    people = tuple(_read_person(person, medicines) for person in top.objects("people"))
    plan = replace(_read_head(top), people=people)
    top.known("findings")
    top.finish()
    return plan


def parse_person(line: str, medicines: Mapping[MedicineCode, Medicine]) -> PersonPlan:
    """The set that one line of `format_person` says. Raises as `parse_plan` does."""
    return _read_person(PlanObject(parse_json(line), "person"), medicines)


def parse_plan_head(text: str) -> Plan:
    """What the plan says of itself (days, profile, card format, fingerprint), without its people. Raises as `parse_plan` does."""
    return _read_head(PlanObject(parse_json(text), "plan"))


def _read_head(top: PlanObject) -> Plan:
    basis, first, days = top.text("basis"), top.day("from"), top.whole("days")
    if not 1 <= days <= _MOST_DAYS:
        raise PlanError(f"plan.days: must be from 1 to {_MOST_DAYS}.")
    return Plan(basis, first, days, top.text("profile"), top.text("format"), (), ())


def _lines(name: str, lines: Iterable[str]) -> Iterator[str]:
    yield f'"{name}": ['
    between = "\n  "
    for line in lines:
        yield between + line
        between = ",\n  "
    yield "]"


_ENCODER = json.JSONEncoder(ensure_ascii=False)


def _dump(value: Writable) -> str:
    return _ENCODER.encode(value)


def format_finding(finding: Finding) -> str:
    """One finding's line of a file."""
    return _dump(finding_in_json(finding))


def format_person(planned: PersonPlan, name: str) -> str:
    """One person's line of the file. A plan has thousands of cavities, so their text is put together from what repeats."""
    who = {"id": planned.person, "name": name}
    known = _Known()
    cards = ", ".join([_card(card, known) for card in planned.cards])
    rest: dict[str, Writable] = {
        "alongside": [{"order": entry.order, "medicine": entry.medicine, "why": entry.why} for entry in planned.alongside],
        "proof": {
            "columns": planned.proof.columns,
            "lower_bound": planned.proof.lower_bound,
            "optimal": planned.proof.optimal,
            "nodes": planned.proof.nodes,
            "cards": planned.proof.cards,
            "cards_lower_bound": planned.proof.cards_lower_bound,
        },
    }
    return f'{_dump(who)[:-1]}, "cards": [{cards}], {_dump(rest)[1:]}'


_Known = dict[tuple[int, int, str, time, int, int], str]  # what ends a cavity's text, by all that is in it


def _card(card: Card, known: _Known) -> str:
    head: dict[str, Writable] = {
        "number": card.number,
        "beyond_use": card.beyond_use.isoformat(),
        "from": card.first.isoformat(),
        "to": card.last.isoformat(),
    }
    columns, cavities = ", ".join(map(_column, card.columns)), ", ".join(_cavities(card.cavities, known))
    return f'{_dump(head)[:-1]}, "columns": [{columns}], "cavities": [{cavities}]}}'


@lru_cache(maxsize=4096)
def _column(column: CardColumn) -> str:
    """Kept, because everyone's cards in one cycle share their columns' heads."""
    said: dict[str, Writable] = {
        "column": column.column,
        "slot": column.slot,
        "time": _clock(column.time),
        "from": column.first.isoformat(),
        "part": column.part,
        "parts": column.parts,
    }
    return _dump(said | {"when_needed": _when_needed(column.when_needed)} if column.when_needed else said)


def _when_needed(said: WhenNeeded) -> dict[str, Writable]:
    """The key stands only in columns of as-needed medicines; `apart_minutes` only where the directions say it."""
    return {
        "order": said.order,
        "medicine": said.medicine,
        "dose": format_amount(said.dose.count),
        "most_in_24_hours": format_amount(said.most.count),
        **({"apart_minutes": said.apart} if said.apart is not None else {}),
    }


def _cavities(cavities: Iterable[PackedCavity], known: _Known) -> Iterator[str]:
    """What lies in a cavity is written once for all the days that share it."""
    for c in cavities:
        key = id(c.contents), id(c.fill), c.slot, c.time, c.part, c.parts
        if (rest := known.get(key)) is None:
            rest = known[key] = _all_but_place(c)
        yield f'{{"row": {c.row}, "column": {c.column}, "date": "{c.day.isoformat()}", {rest}'


def _all_but_place(c: PackedCavity) -> str:
    contents, fill = _dump([_content(content) for content in c.contents]), _rounded(*c.fill.as_integer_ratio())
    return (
        f'"slot": {_dump(c.slot)}, "time": "{_clock(c.time)}", "contents": {contents}, "fill": "{fill}",'
        f' "part": {c.part}, "parts": {c.parts}}}'
    )


def _content(content: Content) -> dict[str, Writable]:
    return {"order": content.order, "medicine": content.medicine, "quantity": format_amount(content.quantity.count)}


@lru_cache(maxsize=1440)
def _clock(clock: time) -> str:
    return clock.isoformat("minutes") if clock.second == 0 and clock.microsecond == 0 else clock.isoformat()


@lru_cache(maxsize=65536)
def _rounded(numerator: int, denominator: int) -> str:
    exact = Decimal(numerator) / Decimal(denominator)
    return format_amount(Fraction(exact.quantize(_THOUSANDTH, ROUND_HALF_UP)))


def _read_person(person: PlanObject, medicines: Mapping[MedicineCode, Medicine]) -> PersonPlan:
    proof = person.object("proof")
    found = PersonPlan(
        person=PersonId(person.text("id")),
        cards=tuple(_read_card(card, medicines) for card in person.objects("cards")),
        alongside=tuple(_read_alongside(entry) for entry in person.objects("alongside")),
        proof=Proof(
            proof.whole("columns"),
            proof.whole("lower_bound"),
            proof.truth("optimal"),
            proof.whole("nodes"),
            proof.whole("cards"),
            proof.whole("cards_lower_bound"),
        ),
        name=person.text("name"),
    )
    proof.finish()
    person.finish()
    return found


def _read_alongside(entry: PlanObject) -> Alongside:
    found = Alongside(OrderId(entry.text("order")), MedicineCode(entry.text("medicine")), entry.text("why"))
    entry.finish()
    return found


def _read_card(card: PlanObject, medicines: Mapping[MedicineCode, Medicine]) -> Card:
    found = Card(
        number=CardNumber(card.text("number")),
        first=card.day("from"),
        last=card.day("to"),
        beyond_use=card.day("beyond_use"),
        columns=tuple(_read_column(column, medicines) for column in card.objects("columns")),
        cavities=tuple(_read_cavity(cavity, medicines) for cavity in card.objects("cavities")),
    )
    card.finish()
    return found


def _read_column(column: PlanObject, medicines: Mapping[MedicineCode, Medicine]) -> CardColumn:
    found = CardColumn(
        column=column.whole("column"),
        slot=SlotName(column.text("slot")),
        time=column.clock("time"),
        first=column.day("from"),
        part=column.whole("part"),
        parts=column.whole("parts"),
        when_needed=_read_when_needed(column.object("when_needed"), medicines) if column.has("when_needed") else None,
    )
    column.finish()
    return found


def _read_when_needed(said: PlanObject, medicines: Mapping[MedicineCode, Medicine]) -> WhenNeeded:
    code = MedicineCode(said.text("medicine"))
    unit = medicines[code].unit if code in medicines else Unit("")
    dose, most = (Quantity(said.amount(name), unit) for name in ("dose", "most_in_24_hours"))
    apart = said.whole("apart_minutes") if said.has("apart_minutes") else None
    found = WhenNeeded(OrderId(said.text("order")), code, dose, most, apart)
    said.finish()
    return found


def _read_cavity(cavity: PlanObject, medicines: Mapping[MedicineCode, Medicine]) -> PackedCavity:
    found = PackedCavity(
        row=cavity.whole("row"),
        column=cavity.whole("column"),
        day=cavity.day("date"),
        slot=SlotName(cavity.text("slot")),
        time=cavity.clock("time"),
        contents=tuple(_read_content(content, medicines) for content in cavity.objects("contents")),
        fill=cavity.amount("fill"),
        part=cavity.whole("part"),
        parts=cavity.whole("parts"),
    )
    cavity.finish()
    return found


def _read_content(content: PlanObject, medicines: Mapping[MedicineCode, Medicine]) -> Content:
    """The plan counts each medicine in its own unit; of a medicine that is not in the catalogue the unit is not known."""
    code = MedicineCode(content.text("medicine"))
    unit = medicines[code].unit if code in medicines else Unit("")
    found = Content(OrderId(content.text("order")), code, Quantity(content.amount("quantity"), unit))
    content.finish()
    return found

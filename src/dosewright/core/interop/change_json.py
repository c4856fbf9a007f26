"""A laid-out change → JSON text, exactly, keys in a fixed order: differences, choices, what is recommended, the cards as they will be.

Amounts are exact decimal text, minutes rounded to a hundredth. `after` has the form of a plan file. Beside what the contract names stand
`combination` (the choice for each card, where cards differ), `left` (cards that nothing puts right) and the findings with their sentences.
"""

import json
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from dosewright.core.interop.findings_json import finding_in_json
from dosewright.core.interop.json_text import Writable
from dosewright.core.interop.plan_json import format_plan
from dosewright.core.packing.plan_values import Content, Plan
from dosewright.core.rework.choices import Choice, ChoiceName
from dosewright.core.rework.difference import CardDifference, CavityChange
from dosewright.core.rework.layout import PersonLayout
from dosewright.core.rework.situation import Situation
from dosewright.core.units.dosing_time import Moment, Timetable
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import PersonId
from dosewright.core.units.quantity import format_amount

__all__ = ["format_change", "recommended"]

_HUNDREDTH, _MILLIONTH = Decimal("0.01"), Decimal("0.000001")


def format_change(
    layouts: Sequence[PersonLayout], situation: Situation, after: Plan, names: Mapping[PersonId, str], findings: Sequence[Finding]
) -> str:
    """The file's text. `after` is the plan of the cards as they will be; `findings` those of the whole run."""
    name = recommended(layouts)
    parts = [
        f'"at": {json.dumps(_at(situation.at, situation.after.timetable))}',
        _lines("differences", (_difference(one, change) for each in layouts for one in each.differences for change in one.changes)),
        _lines("choices", (_choice(choice, layout, situation) for layout in layouts for choice in _every(layout))),
        f'"recommended": {json.dumps(str(name) if name else None)}',
        f'"after": {format_plan(after, names, ()).rstrip()}',
        _lines("combination", (_chosen(choice, layout) for layout in layouts for choice in layout.chosen)),
        f'"left": {json.dumps([number for layout in layouts for number in layout.left])}',
        _lines("findings", map(finding_in_json, findings)),
    ]
    return "{" + ",\n ".join(parts) + "}\n"


def recommended(layouts: Iterable[PersonLayout]) -> ChoiceName | None:
    """The choice that the best combination makes for most cards, of equals the one that disturbs least; None if there is none."""
    order = (ChoiceName.ADD, ChoiceName.OPEN, ChoiceName.MOVE, ChoiceName.AFRESH, ChoiceName.RECALL, ChoiceName.WAIT)
    counted: Counter[ChoiceName] = Counter()
    for choice in (choice for layout in layouts for choice in layout.chosen):
        counted[choice.name] += 0 if _closed(choice) else max(1, len(choice.cards))
    return min(counted, key=lambda name: (-counted[name], order.index(name))) if counted else None


def _closed(choice: Choice) -> bool:
    """Whether the card stays closed, and gets a new header at most."""
    return choice.name in (ChoiceName.OPEN, ChoiceName.WAIT) and not choice.changes


def _at(at: Moment, timetable: Timetable) -> dict[str, Writable]:
    """The day, and the first dosing time that follows the new orders; null where that day has none any more."""
    slot = next((slot for slot in timetable.slots if slot.time >= at.time), None)
    return {"date": at.day.isoformat(), "slot": slot.name if slot else None}


def _difference(one: CardDifference, change: CavityChange) -> dict[str, Writable]:
    return {
        "card": one.card.number,
        "row": change.row,
        "column": change.column,
        "date": change.when[0].isoformat(),
        "slot": change.slot,
        "remove": [_content(content) for content in change.remove],
        "add": [_content(content) for content in change.add],
    }


def _content(content: Content) -> dict[str, Writable]:
    return {"order": content.order, "medicine": content.medicine, "quantity": format_amount(content.quantity.count)}


def _choice(choice: Choice, layout: PersonLayout, situation: Situation) -> dict[str, Writable]:
    cost, rates = choice.cost, situation.rates
    ready = cost.ready_for
    timetable = situation.after.timetable_of(layout.person)
    slot = timetable.at(ready[1]) if ready else None
    return {
        "name": str(choice.name),
        "cards": list(_numbers(choice)),
        "minutes": _rounded(cost.minutes + len(cost.drawn) * rates.minutes.fetch_medicine),
        "placements": cost.placements,
        "waste": [{"medicine": code, "quantity": format_amount(count)} for code, count in cost.waste.items()],
        "disturbed": cost.disturbed,
        "ready_for": {"date": ready[0].isoformat(), "slot": slot.name if slot else None} if ready else None,
        "lawful": choice.lawful,
        "beside_added_card": choice not in layout.choices,
        "doses_at_risk": cost.at_risk,
        "expected_errors": _rounded(cost.errors, _MILLIONTH),
        "findings": [finding_in_json(finding) for finding in choice.findings],
    }


def _every(layout: PersonLayout) -> tuple[Choice, ...]:
    """All choices, then those that put the rest right beside an added card."""
    return (*layout.choices, *(choice for choice in layout.chosen if choice not in layout.choices))


def _numbers(choice: Choice) -> Iterable[str]:
    """The cards that the choice is about; of an added card its own number."""
    return choice.cards or tuple(laid.card.number for laid in choice.laid)


def _chosen(choice: Choice, layout: PersonLayout) -> dict[str, Writable]:
    return {
        "person": layout.person.id,
        "name": str(choice.name),
        "cards": list(_numbers(choice)),
        "withdrawn": list(choice.withdrawn),
        "new": [laid.card.number for laid in choice.laid if laid.was is None],
    }


def _rounded(amount: Fraction, to: Decimal = _HUNDREDTH) -> str:
    exact = Decimal(amount.numerator) / Decimal(amount.denominator)
    return format_amount(Fraction(exact.quantize(to, ROUND_HALF_UP)))


def _lines(name: str, values: Iterable[Mapping[str, Writable]]) -> str:
    held = ",\n  ".join(json.dumps(value, ensure_ascii=False) for value in values)
    return f'"{name}": [\n  {held}]' if held else f'"{name}": []'

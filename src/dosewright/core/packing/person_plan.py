"""One person's set for a cycle: the person and the request in, cards, alongside list, proof and findings out."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, time, timedelta
from fractions import Fraction
from functools import partial
from itertools import zip_longest

from dosewright.core.medicines.volume import volume_of
from dosewright.core.packing.card_number import make_card_number
from dosewright.core.packing.cards import DraftColumn, card_count, draft_cards
from dosewright.core.packing.columns import LoadColumns, WeekColumns, solve_load
from dosewright.core.packing.daily_total import check_daily_totals
from dosewright.core.packing.fingerprint import fingerprint_of_set
from dosewright.core.packing.free_columns import use_free_columns
from dosewright.core.packing.ingredients import check_ingredients
from dosewright.core.packing.keeping import Keeping, check_keeping, keepings_of
from dosewright.core.packing.load import Item, Load, loads_of
from dosewright.core.packing.on_demand_cards import on_demand_cards
from dosewright.core.packing.placing import Placed, UnitSeries, place_order
from dosewright.core.packing.plan_values import Alongside, Card, CardColumn, Content, PackedCavity, PersonPlan, Proof
from dosewright.core.packing.remarks import remarks_on
from dosewright.core.packing.request import PlanRequest
from dosewright.core.packing.rolls import roll_pouches, strips_of
from dosewright.core.packing.sharing import sharing
from dosewright.core.packing.staying import settle_weeks
from dosewright.core.units.finding import Fact, Finding, Severity, blocks
from dosewright.core.units.ids import CardNumber, SlotName
from dosewright.core.units.person import Person

__all__ = ["Planned", "lay_out_columns", "most_weeks_of", "plan_person", "weeks_of"]

_Parts = dict[tuple[date, time, SlotName], list[int]]  # for a day and dosing time the parts that hold something
_Held = tuple[tuple[Content, ...], Fraction]  # what lies in a cavity, and the filled share of it
_Alike = dict[tuple[int, ...], _Held | None]  # the same by the very contents that the items give on a day
_NOTHING_PACKED = Proof(columns=0, lower_bound=0, optimal=True, nodes=0, cards=0, cards_lower_bound=0)


@dataclass(frozen=True, slots=True)
class Planned:
    """One person's plan with what was found on the way, and the fingerprint of the set (`fingerprint_of_set`)."""

    plan: PersonPlan
    findings: tuple[Finding, ...]
    basis: str


def plan_person(person: Person, request: PlanRequest, setting: str) -> Planned:
    """Plan one person's set; nobody else's orders matter to it. A cycle that outlives what is in it is refused whole (R5).

    `setting` is `fingerprint_of_setting(request)`, the same for all people.
    """
    placed = tuple(place_order(order, person, request) for order in request.orders_of(person.id))
    beside = _by_order(p.alongside for p in placed if p.alongside)
    found = tuple(finding for p in placed for finding in p.findings)
    series = tuple(one for p in placed for one in p.series)
    drafts, proof = _drafts(loads_of(series, request), person, request)
    keepings = keepings_of(drafts, request)
    too_late = check_keeping(person, drafts, keepings, request)
    demanded = [p.on_demand for p in placed if p.on_demand]
    if blocks(too_late):
        beside = _by_order((*beside, *(held for p in placed if (held := _held(p, too_late[0].code)))))
        drafts, demanded, proof = [], [], _NOTHING_PACKED
    parts, alike = _parts(drafts), _Alike()
    cards = [_card(draft, keeping, parts, alike, request) for draft, keeping in zip(drafts, keepings, strict=bool(drafts))]
    cards += (besides := on_demand_cards(demanded, request))
    proof = replace(proof, cards=proof.cards + len(besides), cards_lower_bound=proof.cards_lower_bound + len(besides))
    basis = fingerprint_of_set(setting, person, request, cards, beside)
    numbered = _numbered(basis, cards, request)
    remarks = remarks_on(person, [card for card in numbered if not card.as_needed], series, request)
    together = _check_together(person, placed, series, request)
    said = (*found, *too_late, *_unproved(person, proof), *remarks, *together)
    return Planned(PersonPlan(person.id, numbered, beside, proof), said, basis)


def _unproved(person: Person, proof: Proof) -> tuple[Finding, ...]:
    """Where the search ended at its limit the plan says so, and gives the bound that stands."""
    if proof.optimal and proof.cards == proof.cards_lower_bound:
        return ()
    figures: dict[str, Fact] = {name: getattr(proof, name) for name in ("columns", "lower_bound", "cards", "cards_lower_bound", "nodes")}
    return (Finding("proof.open", Severity.NOTE, {"person": person.id}, {"name": person.name, **figures}),)


def _check_together(person: Person, placed: Iterable[Placed], series: Sequence[UnitSeries], request: PlanRequest) -> tuple[Finding, ...]:
    """What the orders that are supplied in this cycle, in a card or alongside, come to together."""
    ids = {one.order for one in series} | {one.alongside.order for one in placed if one.alongside}
    ids |= {one.on_demand.says.order for one in placed if one.on_demand}
    supplied = [order for order in request.orders_of(person.id) if order.id in ids]
    return (*check_ingredients(person, supplied, series, request), *check_daily_totals(person, supplied, request))


def _held(placed: Placed, why: str) -> Alongside | None:
    """The alongside entry of an order that would have lain in a card."""
    if placed.on_demand:
        return Alongside(placed.on_demand.says.order, placed.on_demand.medicine.code, why)
    return Alongside(placed.series[0].order, placed.series[0].medicine.code, why) if placed.series else None


def _by_order(alongside: Iterable[Alongside]) -> tuple[Alongside, ...]:
    return tuple(sorted(alongside, key=lambda entry: entry.order))


def _drafts(loads: Sequence[Load], person: Person, request: PlanRequest) -> tuple[list[list[DraftColumn]], Proof]:
    if not loads:
        return [], _NOTHING_PACKED
    if request.format.roll:
        return _roll_drafts(loads, request)
    weeks = weeks_of(request)
    solved = [solve_load(load, weeks, request, request.places.get(person.id, {})) for load in loads]
    return _card_drafts(solved, weeks, person, request)


def weeks_of(request: PlanRequest) -> list[tuple[date, ...]]:
    """The cycle in runs of as many days as the card has rows; the last may be shorter. A run starts where the cycle starts."""
    days = [request.first + timedelta(days=at) for at in range(request.days)]
    return [tuple(days[at : at + request.format.rows]) for at in range(0, len(days), request.format.rows)]


def most_weeks_of(person: Person, request: PlanRequest) -> int:
    """How many weeks one card of this person may hold, by the profile and the person."""
    allowed = request.profile.number("weeks_a_card_max")
    return max(1, min(allowed, request.weeks_a_card.get(person.id, allowed)))


def _card_drafts(
    solved: Sequence[LoadColumns], weeks: Sequence[tuple[date, ...]], person: Person, request: PlanRequest
) -> tuple[list[list[DraftColumn]], Proof]:
    may_share = sharing((one.load for one in solved), weeks, request)
    fewest, wider = lay_out_columns(solved, person, request)
    columns = [_columns(wider, week, days) for week, days in zip(_by_week(wider, weeks), weeks, strict=True)]
    width, most_weeks = request.format.columns, most_weeks_of(person, request)
    drafts = draft_cards(columns, width, most_weeks, may_share)
    bound = [sum(one.weekly[w].lower_bound for one in solved) for w in range(len(weeks))]
    least, lowest = max(_used(_by_week(fewest, weeks))), max(bound)
    nodes = sum(s.nodes for s in solved)
    cards_bound = card_count(bound, columns=width, most_weeks=most_weeks, may_share=may_share)
    return drafts, Proof(least, lowest, least == lowest, nodes, len(drafts), cards_bound)


def lay_out_columns(solved: Sequence[LoadColumns], person: Person, request: PlanRequest) -> tuple[list[LoadColumns], list[LoadColumns]]:
    """The dosing times in as few columns as the fewest cards allow, and as they are used: in more where that costs no card."""
    weeks, places = weeks_of(request), request.places.get(person.id, {})
    may_share = sharing((one.load for one in solved), weeks, request)
    count = partial(card_count, columns=request.format.columns, most_weeks=most_weeks_of(person, request), may_share=may_share)
    settled, stay = settle_weeks(solved, weeks, count, request, places)
    cards = count(_used(_by_week(settled, weeks)))
    wider = use_free_columns(settled, weeks, places, lambda used: count(used) <= cards) if stay else settled
    return list(settled), list(wider)


def _by_week(loads: Sequence[LoadColumns], weeks: Sequence[tuple[date, ...]]) -> list[list[WeekColumns]]:
    return [[one.kept[w] for one in loads] for w in range(len(weeks))]


def _used(weeks: Iterable[Sequence[WeekColumns]]) -> list[int]:
    return [sum(len(found.columns) for found in week) for week in weeks]


def _columns(solved: Sequence[LoadColumns], week: Sequence[WeekColumns], days: tuple[date, ...]) -> list[DraftColumn]:
    return [
        DraftColumn(one.load.slot, one.load.time, days, part, len(found.columns), items)
        for one, found in zip(solved, week, strict=True)
        for part, items in enumerate(found.columns, start=1)
    ]


def _roll_drafts(loads: Sequence[Load], request: PlanRequest) -> tuple[list[list[DraftColumn]], Proof]:
    found = roll_pouches(loads, request)
    drafts = strips_of(found.pouches, request)
    proved = found.fewest == len(found.pouches)
    fewest = len(drafts) if proved else -(-found.fewest // request.format.columns)
    return drafts, Proof(found.most, found.most_bound, proved, found.nodes, len(drafts), fewest)


def _parts(drafts: Iterable[Sequence[DraftColumn]]) -> _Parts:
    """For each day and dosing time the parts that hold something that day, in order: a cavity that is empty is no part of a dose. A dosing
    time in one column is not in it."""
    parts: _Parts = {}
    for column in (column for draft in drafts for column in draft if column.parts > 1):
        for day in column.days:
            if any(day in item.counts for item in column.items):
                parts.setdefault((day, column.time, column.slot), []).append(column.part)
    return parts


def _card(draft: Sequence[DraftColumn], keeping: Keeping, parts: _Parts, alike: _Alike, request: PlanRequest) -> Card:
    columns = tuple([CardColumn(at, c.slot, c.time, c.days[0], c.part, c.parts) for at, c in enumerate(draft, start=1)])
    down = [list(_cavities(at, column, parts, alike, request)) for at, column in enumerate(draft, start=1)]
    cavities = tuple([cavity for row in zip_longest(*down) for cavity in row if cavity])
    first, last = min([column.days[0] for column in draft]), max([column.days[-1] for column in draft])
    return Card(CardNumber(""), first, last, keeping.last, columns, cavities)


def _cavities(at: int, column: DraftColumn, parts: _Parts, alike: _Alike, request: PlanRequest) -> Iterable[PackedCavity | None]:
    """A column's cavities from the top down, None where nothing is due. `alike`: what lies in cavities that were made before."""
    slot, clock = column.slot, column.time
    keys = zip(*[map(id, map(item.contents.get, column.days)) for item in column.items], strict=True)
    for row, (day, key) in enumerate(zip(column.days, keys, strict=True), start=1):
        if key not in alike:
            alike[key] = _held_on(day, column.items, request)
        if not (held := alike[key]):
            yield None
        elif column.parts == 1:
            yield PackedCavity(row, at, day, slot, clock, *held)
        else:
            now = parts[day, clock, slot]
            yield PackedCavity(row, at, day, slot, clock, *held, now.index(column.part) + 1, len(now))


def _held_on(day: date, items: Iterable[Item], request: PlanRequest) -> _Held | None:
    """What lies in the cavity and how full it is; None for nothing. Worked out once for all of a person's days on which the items give
    the same."""
    held = [item for item in items if day in item.counts]
    if not held:
        return None
    filled = sum([volume_of(item.medicine, item.counts[day]) for item in held])
    return tuple([content for item in held for content in item.contents[day]]), Fraction(filled, request.format.cavity.volume)


def _numbered(basis: str, cards: Sequence[Card], request: PlanRequest) -> tuple[Card, ...]:
    """Cards with numbers that follow from everything that this person's set is made from, and from nobody else's."""
    numbers = [make_card_number(request.salt, basis, str(at)) for at in range(1, len(cards) + 1)]
    return tuple([Card(n, c.first, c.last, c.beyond_use, c.columns, c.cavities) for n, c in zip(numbers, cards, strict=True)])

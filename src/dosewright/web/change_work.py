"""A card that is put right, at the bench: what has to leave it, medicine by medicine, to waste; what goes in; the new labels. And its
check.

Everything is read from what lies in the card now, so that anybody can stop anywhere, and somebody else go on at another station.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from dosewright.actions.check_card import OwnCheck, check_card, may_check
from dosewright.actions.check_plan import load_check_plan
from dosewright.actions.outcome import Outcome
from dosewright.actions.rework_card import Removed, relabel_card, remove_units
from dosewright.core.checking.check_plan import Spot
from dosewright.core.checking.still_open import still_open
from dosewright.core.custody.cells import parse_cells
from dosewright.core.custody.event import Deed
from dosewright.core.custody.follow import check_follows
from dosewright.core.custody.reworking import to_take_out
from dosewright.core.custody.stage import Stage
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.packing.card_number import format_card_number
from dosewright.core.packing.plan_values import Card
from dosewright.core.rework.tasks import CardTask
from dosewright.core.units.amount_words import format_count
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import CardNumber, MedicineCode
from dosewright.store.catalogue import load_catalogue
from dosewright.store.changes import StoredChange, load_change
from dosewright.store.ledger import load_card_events
from dosewright.store.missing import Missing
from dosewright.web.bench_card import BenchCard, load_bench_card
from dosewright.web.card_map import CardMap, MapCell, MapRow, draw_card, glyph
from dosewright.web.change_map import BeforeAfter, draw_before_after
from dosewright.web.check_words import PlanWords, plan_words
from dosewright.web.dates import short_day
from dosewright.web.findings import with_names
from dosewright.web.page import show
from dosewright.web.request import BenchRequest, new_token, occasion, today
from dosewright.web.scanned import read_scan
from dosewright.web.seen_events import seen_events
from dosewright.web.typed import CountedIn, counts_typed
from dosewright.web.wording import say_finding

__all__ = [
    "ChangeCheckScreen",
    "CountCell",
    "CountField",
    "CountRow",
    "LeavingLot",
    "WorkScreen",
    "check_reworked",
    "relabel",
    "remove",
    "work_on",
]

_LONGEST = 300  # characters of a scan
_NO_BREAK = "\u00a0"  # a number and its unit stay together


@dataclass(frozen=True, slots=True)
class LeavingLot:
    """Units of one medicine that leave the card now: of which lots, out of how many cavities."""

    code: MedicineCode
    name: str
    appearance: str
    unit: str
    amount: Fraction
    cavities: int
    lots: tuple[str, ...]
    map: CardMap


@dataclass(frozen=True, slots=True)
class WorkScreen:
    """One card of a change at the bench. `leaving` is what to take out now (None: nothing more), `left` how many medicines leave in all;
    `entering` the medicines still to be put in; `labels`: the old ones are still on it. `next`: where the one thing to do next is, its
    words."""

    change: int
    number: CardNumber
    leaving: LeavingLot | None
    left: int
    entering: tuple[str, ...]
    labels: bool
    opened: int
    drawn: BeforeAfter | None
    next: tuple[str, str]
    findings: tuple[Finding, ...]
    typed: str
    token: str


def work_on(request: BenchRequest, change: int, number: str) -> HttpResponse:
    """The next thing to do with the card."""
    return _show(request, change, number)


def remove(request: BenchRequest, change: int, number: str) -> HttpResponse:
    """A medicine is out of the card and in the waste: its destination was scanned, or a reason given."""
    scan, medicine = request.POST.get("scan", "")[:_LONGEST], MedicineCode(request.POST.get("medicine", ""))
    gtin = read_scan(scan, today(request)).gtin if scan.strip() else None
    what = Removed(medicine, scan.strip()[:60], gtin, request.POST.get("reason", "")[:500])
    outcome = remove_units(CardNumber(number), occasion(request), what)
    if outcome.done:
        messages.success(request, "It is out of the card, and waste.")
        return redirect("change-card", change, number)
    return _show(request, change, number, outcome)


def relabel(request: BenchRequest, change: int, number: str) -> HttpResponse:
    """The old labels are void and destroyed; the new ones are on."""
    outcome = relabel_card(CardNumber(number), occasion(request))
    if outcome.done:
        messages.success(request, "The old labels are void, the new ones are on.")
        return redirect("change-card", change, number)
    return _show(request, change, number, outcome)


def _task(stored: StoredChange, number: str) -> CardTask:
    found = next((task for task in stored.tasks if task.card == number), None)
    if found is None:
        raise Missing("card", number)
    return found


def _show(request: BenchRequest, change: int, number: str, outcome: Outcome | None = None) -> HttpResponse:
    task, card = _task(load_change(change), number), load_bench_card(CardNumber(number))
    medicines = _medicines(card, task)
    leaving = to_take_out(card.stored.filled, card.stored.state)
    stage, codes = card.stored.state.stage, list(dict.fromkeys(code for code, _ in leaving))
    working = stage is Stage.FILLING
    entering = [code for code in card.filling_order if working and still_open([card.stored.filled], code)]
    screen = WorkScreen(
        change=change,
        number=card.stored.number,
        leaving=_leaving(card, task, medicines, codes[0]) if working and codes else None,
        left=len(codes),
        entering=tuple(card.name_of(code) for code in entering),
        labels=card.stored.state.old_labels,
        opened=len(card.stored.state.disturbed),
        drawn=draw_before_after(task, card.rules.card_format, medicines, card.country),
        next=_next(card, change, enters=bool(entering)),
        findings=with_names(outcome.findings if outcome else ()),
        typed=request.POST.get("reason", "")[:500],
        token=new_token(),
    )
    return show(request, "change/work.html", screen, strip=card.strip, status=422 if outcome else 200)


def _medicines(card: BenchCard, task: CardTask) -> Mapping[MedicineCode, Medicine]:
    both = (one for one in (task.before, task.after) if one is not None)
    codes = {content.medicine for one in both for cavity in one.cavities for content in cavity.contents}
    ever = {MedicineCode(str(event.facts["medicine"])) for event in load_card_events(card.stored.number) if event.deed is Deed.PLACED}
    return {**load_catalogue(codes | ever), **card.medicines}


def _leaving(card: BenchCard, task: CardTask, medicines: Mapping[MedicineCode, Medicine], code: MedicineCode) -> LeavingLot:
    mine = {lot: cells for (one, lot), cells in to_take_out(card.stored.filled, card.stored.state).items() if one == code}
    spots: dict[tuple[int, int], Fraction] = {}
    for cells in mine.values():
        for cell, amount in cells.items():
            spots[cell.row, cell.column] = spots.get((cell.row, cell.column), Fraction(0)) + amount
    said = {spot: _leaves(spot, amount, card) for spot, amount in spots.items()}
    held = _with_emptied(card, task)
    name = medicines[code]
    return LeavingLot(
        code=code,
        name=f"{name.name} {name.strength} {name.form}",
        appearance=", ".join(part for part in (name.colour, f"marked {name.mark}" if name.mark else "") if part),
        unit=name.unit,
        amount=sum(spots.values(), Fraction(0)),
        cavities=len(spots),
        lots=tuple(sorted(mine)),
        map=draw_card(held, card.rules.card_format, said),
    )


def _leaves(spot: tuple[int, int], amount: Fraction, card: BenchCard) -> MapCell:
    """Big: what leaves the cavity; small: what stays in it."""
    inside = sum((units.amount for units in card.stored.state.placed if (units.cell.row, units.cell.column) == spot), Fraction(0)) - amount
    stays = f"{glyph(inside)} stays" if inside else ""
    spoken = f"take out {format_count(amount)}" + (f", {format_count(inside)} stays" if inside else "")
    return MapCell(*spot, open=True, place=glyph(amount), inside=stays, spoken=spoken)


def _with_emptied(card: BenchCard, task: CardTask) -> Card:
    """The card as it is to be, and what will be empty, so that it is drawn where it lies."""
    known = {(cavity.row, cavity.column) for cavity in card.stored.card.cavities}
    gone = (c for c in (task.before.cavities if task.before else ()) if (c.row, c.column) not in known)
    return replace(card.stored.card, cavities=(*card.stored.card.cavities, *gone))


def _next(card: BenchCard, change: int, *, enters: bool) -> tuple[str, str]:
    """Where to go when nothing is to be taken out: fill, say that it is full, check, seal, release."""
    number, stage = card.stored.number, card.stored.state.stage
    if stage is Stage.FILLING:
        return ("Put in what is new" if enters else "See that all is in", reverse("fill", args=[number]))
    steps = {
        Stage.FILLED: ("Check card", reverse("change-check", args=[change, number])),
        Stage.CHECKED: ("Seal card", reverse("seal", args=[number])),
        Stage.SEALED: ("Release card", reverse("release", args=[number])),
        Stage.PLANNED: ("Print the paper of this set", reverse("paper", args=[card.stored.set_id])),
    }
    words, url = steps.get(stage, ("The card", reverse("card", args=[number])))
    return (f"{words} {format_card_number(number)}" if stage in steps and stage is not Stage.PLANNED else words, url)


@dataclass(frozen=True, slots=True)
class CountField:
    """One number that the checker writes: of a medicine in an opened cavity, or of all units in a closed one ("" is its medicine then).
    `where`: where that is, in words."""

    name: str
    medicine: str
    where: str
    typed: str


@dataclass(frozen=True, slots=True)
class CountCell:
    """A cavity at its place on the card, and what is counted in it: of one that was opened each medicine that lay there, or is to; of one
    that stayed closed all units together; nothing where the check plan asks for nothing."""

    cell: MapCell
    opened: bool
    fields: tuple[CountField, ...]


@dataclass(frozen=True, slots=True)
class CountRow:
    """A row of the card as it lies on the bench."""

    row: MapRow
    cells: tuple[CountCell, ...]


@dataclass(frozen=True, slots=True)
class ChangeCheckScreen:
    """The second person's check of a card that was put right, drawn as it lies on the bench. `opened`: how many cavities were. Nothing of
    the filler's counts is shown. `findings` after a wrong count. `seen`: how many events the card had when the counting began."""

    change: int
    number: CardNumber
    opened: int
    map: CardMap
    rows: tuple[CountRow, ...]
    blocked: tuple[Finding, ...]
    findings: tuple[Finding, ...]
    wrong: str
    plan: PlanWords
    token: str
    seen: int


def check_reworked(request: BenchRequest, change: int, number: str) -> HttpResponse:
    """Every opened cavity medicine by medicine, the others by number."""
    task, card = _task(load_change(change), number), load_bench_card(CardNumber(number))
    if request.method != "POST":
        return _ask(request, change, card)
    typed = counts_typed(request.POST, _fields(request, task, card))
    if typed.wrong:
        return _ask(request, change, card, wrong=typed.wrong)
    own = replace(_own(typed.counts, request.POST.get("alone", "")[:500]), seen=seen_events(request))
    outcome = check_card(card.stored.number, occasion(request), own)
    if any(finding.code == "custody.moved-on" for finding in outcome.findings):
        messages.error(request, " ".join(say_finding(finding) for finding in outcome.findings if finding.code == "custody.moved-on"))
        return redirect("change-check", change, number)  # nothing that was typed is shown again: it is to be counted
    if not outcome.done:
        return _ask(request, change, card, findings=outcome.findings)
    messages.success(request, f"All cavities hold what the orders ask. Checked by {request.actor.name}.")
    return redirect("change-card", change, number)


_Key = tuple[Spot, MedicineCode | None]  # a cavity, and which medicine in it; None: all together


def _fields(request: BenchRequest, task: CardTask, card: BenchCard) -> dict[_Key, CountedIn]:
    """Every opened cavity medicine by medicine; of those that stayed closed the ones that the check plan demands."""
    where, medicines = _where(task, card), _medicines(card, task)
    opened: dict[_Key, CountedIn] = {
        (spot, code): CountedIn(_of(spot, code), f"{where[spot]}, {medicines[code].name} {medicines[code].strength}")
        for spot in sorted(card.stored.state.disturbed)
        if spot in where
        for code in _codes(task, card, spot)
    }
    return opened | {(spot, None): CountedIn(_all(spot), where[spot]) for spot in _closed(request, card)}


def _where(task: CardTask, card: BenchCard) -> dict[Spot, str]:
    cavities = (*(task.before.cavities if task.before else ()), *card.stored.card.cavities)
    return {(one.row, one.column): f"{short_day(one.day)}, {one.slot}" for one in cavities}


def _own(counted: Mapping[_Key, Fraction], alone_because: str) -> OwnCheck:
    opened: dict[Spot, dict[MedicineCode, Fraction]] = {}
    for (spot, code), amount in counted.items():
        if code is not None:
            opened.setdefault(spot, {})[code] = amount
    counts = {spot: sum(by.values(), Fraction(0)) for spot, by in opened.items()}
    counts |= {spot: amount for (spot, code), amount in counted.items() if code is None}
    return OwnCheck(counts, alone_because, opened)


def _of(spot: tuple[int, int], code: MedicineCode) -> str:
    return f"m{spot[0]}-{spot[1]}-{code}"


def _all(spot: tuple[int, int]) -> str:
    return f"c{spot[0]}-{spot[1]}"


def _closed(request: BenchRequest, card: BenchCard) -> list[Spot]:
    return sorted(load_check_plan(card.stored, request.actor).demanded - card.stored.state.disturbed)


def _codes(task: CardTask, card: BenchCard, spot: tuple[int, int]) -> list[MedicineCode]:
    """What ever lay there, and what is to lie there now."""
    both = (*(task.before.cavities if task.before else ()), *card.stored.card.cavities)
    planned = {content.medicine for cavity in both if (cavity.row, cavity.column) == spot for content in cavity.contents}
    laid = (event for event in load_card_events(card.stored.number) if event.deed is Deed.PLACED)
    ever = {
        MedicineCode(str(event.facts["medicine"]))
        for event in laid
        if any((cell.row, cell.column) == spot for cell in parse_cells(event.card, event.facts["cells"]))
    }
    return sorted(planned | ever)


def _count_rows(request: BenchRequest, drawn: CardMap, fields: Mapping[_Key, CountedIn], disturbed: frozenset[Spot]) -> Iterator[CountRow]:
    codes = load_catalogue({code for _, code in fields if code is not None})
    words = {code: f"{one.name} {one.strength.replace(' ', _NO_BREAK)}" for code, one in codes.items()}
    counted: dict[Spot, list[CountField]] = {}
    for (spot, code), one in fields.items():
        field = CountField(one.name, words.get(code, "") if code else "", one.where, request.POST.get(one.name, ""))
        counted.setdefault(spot, []).append(field)
    for row in drawn.rows:
        spots = [(cell, (cell.row, cell.column)) for cell in row.cells]
        yield CountRow(row, tuple(CountCell(cell, spot in disturbed, tuple(counted.get(spot, ()))) for cell, spot in spots))


def _ask(request: BenchRequest, change: int, card: BenchCard, *, findings: tuple[Finding, ...] = (), wrong: str = "") -> HttpResponse:
    task = _task(load_change(change), card.stored.number)
    drawn, fields = draw_card(_with_emptied(card, task), card.rules.card_format), _fields(request, task, card)
    blocked = check_follows(card.stored.state, Deed.CHECKED) or may_check(card.stored, occasion(request))
    screen = ChangeCheckScreen(
        change=change,
        number=card.stored.number,
        opened=len(card.stored.state.disturbed),
        map=drawn,
        rows=tuple(_count_rows(request, drawn, fields, card.stored.state.disturbed)),
        blocked=with_names(blocked),
        findings=with_names(findings),
        wrong=wrong,
        plan=plan_words(load_check_plan(card.stored, request.actor)),
        token=new_token(),
        seen=card.stored.state.events if (began := seen_events(request)) is None else began,
    )
    return show(request, "change/check.html", screen, strip=card.strip, status=422 if findings or wrong else 200)

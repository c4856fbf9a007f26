"""One change: what it is, every card that it touches wherever it is, what can be done about each and about the whole, and the decision.

Afterwards: what is to be done card by card, the sheets, the recount, and that it is done.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from django.contrib import messages
from django.http import HttpResponse, HttpResponseBadRequest
from django.shortcuts import redirect

from dosewright.actions.change_sheets import CHANGE_SHEETS, sheet_of_change
from dosewright.actions.decide_change import Decided, decide_change
from dosewright.actions.finish_change import finish_change, recount_change
from dosewright.actions.lay_out_change import Gathered, gather, load_rates, shown_as, what_changes
from dosewright.actions.make_sheet import Asked, make_sheet
from dosewright.core.custody.changing import ChangeStanding, Deciding, waits_for
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.rights import RIGHTS, Ability
from dosewright.core.custody.stage import Stage
from dosewright.core.custody.state import CardState
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.packing.card_number import format_card_number
from dosewright.core.rework.choices import Choice, ChoiceName
from dosewright.core.rework.layout import PersonLayout
from dosewright.core.rework.picked import Pick, touched_cards
from dosewright.core.rework.situation import OpenCard
from dosewright.core.rework.tasks import CardTask, tasks_of
from dosewright.core.units.dosing_time import Timetable
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import CardNumber, MedicineCode
from dosewright.store.calendar import wall_moment
from dosewright.store.catalogue import load_catalogue
from dosewright.store.changes import StoredChange, load_change
from dosewright.store.made_papers import MadeSheet, load_made_lately
from dosewright.store.people import load_home_names, load_timetable
from dosewright.store.pharmacy import load_pharmacy, load_rules
from dosewright.web.change_map import BeforeAfter, draw_before_after
from dosewright.web.change_words import (
    PLACES,
    BriefLine,
    ChoiceLine,
    CostLine,
    When,
    brief_lines,
    choice_words,
    cost_line,
    say_when,
)
from dosewright.web.dates import short_day
from dosewright.web.findings import with_names
from dosewright.web.page import Strip, show, strip_of
from dosewright.web.request import BenchRequest, new_token, occasion
from dosewright.web.signature import SignedForm, signed_again

__all__ = ["ChangeScreen", "LostCard", "NextStep", "SheetLine", "TaskLine", "TouchedCard", "WayLine", "change", "decide", "finish", "sheet"]

_DEEDS = {
    "wait": "waits: it runs out as it is",
    "open": "to be opened and put right",
    "header": "gets a new header, stays closed",
    "recall": "called back",
    "afresh": "taken out of use, filled afresh",
    "move": "moved over to a new card",
    "add": "a card is added",
    "kept": "stays as it is",
}
_WAITS = {
    "": "right",
    "undecided": "waits for a decision",
    "not begun": "not begun: to be put right",
    "work": "part done: to be put right",
    "labels": "new labels are missing",
    "out": "not here yet",
    "missing": "not found",
}


@dataclass(frozen=True, slots=True)
class TouchedCard:
    """A card that the change touches: where it is, how many cavities differ, how many are past, and what can be done."""

    number: CardNumber
    place: str
    first: date
    last: date
    cavities: int
    past: int
    drawn: BeforeAfter | None
    choices: tuple[ChoiceLine, ...]


@dataclass(frozen=True, slots=True)
class LostCard:
    """A card that nobody finds, or of which nobody can say what it holds; or one that is left to be decided apart."""

    number: CardNumber
    why: str


@dataclass(frozen=True, slots=True)
class WayLine:
    """One way to go about the whole: which choice for which card, what it costs in all. The first is the best."""

    number: int
    words: tuple[str, ...]
    cost: CostLine
    asks: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class TaskLine:
    """One card after the decision: what was decided, what it waits for; `doing`: there is something to do with it at the bench."""

    number: CardNumber
    words: str
    waits: str
    right: bool
    doing: bool
    out: bool
    before: When | None
    cavities: int
    drawn: BeforeAfter | None
    new: tuple[CardNumber, ...]


@dataclass(frozen=True, slots=True)
class SheetLine:
    """A sheet that can be made, and the latest of its kind. `again`: it is a sheet of labels made before, and one more needs a reason."""

    kind: str
    words: str
    made: MadeSheet | None
    again: bool


@dataclass(frozen=True, slots=True)
class NextStep:
    """The one thing to do next with a decided change: `kind` is "sheet", "card", or "" where nothing can be done here before something else
    happens; `words` say what, and why."""

    kind: str = ""
    words: str = ""
    sheet: str = ""
    title: str = ""
    card: CardNumber | None = None


@dataclass(frozen=True, slots=True)
class ChangeScreen:
    """`asking`: it waits for a decision, and `ways`, `cards` say what can be done; else `tasks` say what is. `recount`: what the recount
    finds now, None where it does not count yet. `given`: doses due since it counts that followed the old orders."""

    id: int
    standing: str
    cause: str
    reason: str
    taken_at: datetime
    taken_by: str
    decided_at: datetime | None
    decided_by: str
    done_at: datetime | None
    done_by: str
    briefs: tuple[BriefLine, ...]
    asking: bool
    mine: bool
    held: bool
    ways: tuple[WayLine, ...]
    cards: tuple[TouchedCard, ...]
    lost: tuple[LostCard, ...]
    tasks: tuple[TaskLine, ...]
    sheets: tuple[SheetLine, ...]
    next: NextStep
    recount: tuple[Finding, ...] | None
    finishable: bool
    findings: tuple[Finding, ...]
    notes: tuple[Finding, ...]
    shown: str
    typed: str
    wrong: bool
    form: SignedForm
    token: str


def change(request: BenchRequest, change: int) -> HttpResponse:
    """Everything about one change."""
    return _show(request, load_change(change))


def decide(request: BenchRequest, change: int) -> HttpResponse:
    """The pharmacist's decision, signed."""
    stored = load_change(change)
    if not signed_again(request):
        return _show(request, stored, wrong=True)
    try:
        what = _decided(request)
    except ValueError:
        return HttpResponseBadRequest("a choice is written as its name and its cards")
    outcome = decide_change(change, occasion(request), what)
    if not outcome.done:
        return _show(request, stored, outcome.findings)
    messages.success(request, f"Decided and signed by {request.actor.name}. Cards that are here cannot leave before they are right.")
    return redirect("change", change)


def finish(request: BenchRequest, change: int) -> HttpResponse:
    """It is done: the recount agrees."""
    outcome = finish_change(change, occasion(request))
    if not outcome.done:
        return _show(request, load_change(change), outcome.findings)
    messages.success(request, "Every card holds what the orders ask. The change is done.")
    return redirect("change", change)


def sheet(request: BenchRequest, change: int, kind: str) -> HttpResponse:
    """A sheet of the change is made."""
    stored = load_change(change)
    if kind not in CHANGE_SHEETS:
        return HttpResponseBadRequest("a change has no such sheet")
    asked = Asked(reason=request.POST.get("reason", "")[:400])
    outcome = make_sheet(f"change {change}", occasion(request), sheet_of_change(change, kind), asked)
    if not outcome.done:
        return _show(request, stored, outcome.findings)
    return redirect("sheet", int(outcome.made[0]))


def _decided(request: BenchRequest) -> Decided:
    reason, way = request.POST.get("reason", "").strip()[:1000], request.POST.get("way", "0")
    picks: list[Pick] = []
    for name, value in sorted(request.POST.items()):
        if way == "cards" and name.startswith("pick-"):
            chosen, _, cards = str(value).partition("|")
            one = Pick(ChoiceName(chosen), tuple(CardNumber(card) for card in cards.split("+") if card))
            picks += [one] if one not in picks else []
    reasons = {CardNumber(name[4:]): str(value)[:1000] for name, value in request.POST.items() if name.startswith("why-")}
    said = Deciding(reason, reasons, request.POST.get("shown", ""))
    return Decided(said, 0 if way == "cards" else int(way), tuple(picks))


def _strip(stored: StoredChange) -> Strip:
    home = load_home_names().get(stored.person.home, "") if stored.person.home else ""
    return strip_of(stored.person, home)


def _show(request: BenchRequest, stored: StoredChange, findings: tuple[Finding, ...] = (), *, wrong: bool = False) -> HttpResponse:
    screen = _Screen(stored, occasion(request)).draw(findings, typed=request.POST.get("reason", "")[:1000], wrong=wrong)
    return show(request, "change/screen.html", screen, strip=_strip(stored), status=422 if findings or wrong else 200)


class _Screen:
    """A change on its way to the screen."""

    def __init__(self, stored: StoredChange, on: Occasion) -> None:
        self.stored, self.on = stored, on
        self.timetable: Timetable = load_timetable(stored.person.id)
        self.country = load_pharmacy().country
        over = stored.standing in {ChangeStanding.DONE, ChangeStanding.WITHDRAWN}
        self.found: Gathered | None = None if over else gather(stored, on)

    def draw(self, findings: tuple[Finding, ...], *, typed: str, wrong: bool) -> ChangeScreen:
        stored, found = self.stored, self.found
        asking = stored.standing is ChangeStanding.WAITING and found is not None
        role = self.on.by.role
        tasks, sheets = self._tasks() if stored.tasks else (), self._sheets(role in RIGHTS[Ability.MAKE_SHEET])
        return ChangeScreen(
            id=stored.id,
            standing=stored.standing.value,
            cause=stored.cause.value,
            reason=stored.reason,
            taken_at=stored.taken_at,
            taken_by=stored.taken_by,
            decided_at=stored.decided_at,
            decided_by=stored.decided_by,
            done_at=stored.done_at,
            done_by=stored.done_by,
            briefs=self._briefs(),
            asking=asking,
            mine=role in RIGHTS[Ability.DECIDE_CHANGE],
            held=bool(found and found.layout.held),
            ways=self._ways() if asking else (),
            cards=self._cards() if asking else (),
            lost=self._lost(),
            tasks=tasks,
            sheets=sheets,
            next=NextStep() if asking or found is None else _next(tasks, sheets),
            recount=self._recount(),
            finishable=not asking and found is not None and role in RIGHTS[Ability.FINISH_CHANGE],
            findings=with_names(findings),
            notes=with_names(self._notes()) if asking else (),
            shown=shown_as(found) if found and asking else "",
            typed=typed,
            wrong=wrong,
            form=SignedForm(),
            token=new_token(),
        )

    def _medicines(self) -> Mapping[MedicineCode, Medicine]:
        return self.found.situation.after.medicines if self.found else {}

    def _briefs(self) -> tuple[BriefLine, ...]:
        found = what_changes(self.stored.person.id, self.stored.before, wall_moment(self.stored.taken_at))
        medicines = load_catalogue({code for one in found for code in (one.was, one.now)})
        return brief_lines(found, medicines, self.timetable, self.country)

    def _notes(self) -> Sequence[Finding]:
        """What is not said beside a choice."""
        if self.found is None:
            return ()
        beside = {id(one) for choice in self.found.layout.choices for one in choice.findings}
        said = [one for one in (*self.found.layout.findings, *self.found.faults) if id(one) not in beside]
        return [one for number, one in enumerate(said) if one not in said[:number]]

    def _ways(self) -> tuple[WayLine, ...]:
        if self.found is None or self.found.layout.held or self.found.layout.left:
            return ()
        layouts = (self.found.layout, *self.found.layout.alternatives)
        return tuple(self._way(number, one) for number, one in enumerate(layouts) if one.chosen)

    def _way(self, number: int, layout: PersonLayout) -> WayLine:
        words = tuple(self._way_words(choice) for choice in layout.chosen)
        asks = tuple(one for choice in layout.chosen for one in choice.findings if one.severity is Severity.DECIDE)
        cost = cost_line([choice.cost for choice in layout.chosen], load_rates(), self._medicines(), self.timetable)
        return WayLine(number, words, cost, with_names(asks))

    def _way_words(self, choice: Choice) -> str:
        """What is done with which card, and where that is: nobody knows a card by its number alone."""
        cards = " and ".join(format_card_number(number) for number in choice.cards)
        where = f", {self._where(choice.cards[0])}" if len(choice.cards) == 1 else ""
        done = choice_words(choice, header=choice.name is ChoiceName.OPEN and not choice.changes)
        return f"{cards}{where}: {done[0].lower()}{done[1:]}" if cards else done

    def _where(self, number: CardNumber) -> str:
        found = self.found.situation.cards if self.found else ()
        card = next((one for one in found if one.number == number), None)
        return f"{PLACES[card.place]}, from {short_day(card.card.first)}" if card else "not found"

    def _cards(self) -> tuple[TouchedCard, ...]:
        if self.found is None:
            return ()
        layout = self.found.layout
        touched = set(touched_cards(layout))
        opened = {one.number: one for one in self.found.situation.cards}
        return tuple(self._card(one, layout) for number, one in opened.items() if number in touched)

    def _card(self, card: OpenCard, layout: PersonLayout) -> TouchedCard:
        difference = next(one for one in layout.differences if one.card.number == card.number)
        choices = [one for one in layout.choices if card.number in one.cards and one.name is not ChoiceName.MOVE]
        best = {(one.name, one.cards) for one in layout.chosen}
        right = next((task for task in self._right(layout) if task.card == card.number), None)
        form = load_rules(load_pharmacy().rules).card_format
        return TouchedCard(
            number=card.number,
            place=PLACES[card.place],
            first=card.card.first,
            last=card.card.last,
            cavities=len(difference.changes),
            past=len(card.card.cavities) - len(card.open_from(self.found.situation.at)) if self.found else 0,
            drawn=draw_before_after(right, form, self._medicines(), self.country) if right else None,
            choices=tuple(self._choice(one, best=(one.name, one.cards) in best) for one in choices),
        )

    def _right(self, layout: PersonLayout) -> tuple[CardTask, ...]:
        """The cards as they would be, each opened and put right where that can be said."""
        some = tuple(one for one in layout.choices if one.name in {ChoiceName.OPEN, ChoiceName.RECALL})
        once = tuple(one for n, one in enumerate(some) if one.cards not in [other.cards for other in some[:n]])
        return tasks_of(replace(layout, chosen=once, laid=tuple(laid for one in once for laid in one.laid)))

    def _choice(self, choice: Choice, *, best: bool) -> ChoiceLine:
        header = choice.name is ChoiceName.OPEN and not choice.changes
        stops = tuple(one for one in choice.findings if one.severity is Severity.STOP)
        asks = tuple(one for one in choice.findings if one.severity is Severity.DECIDE)
        words = choice_words(choice, header=header)
        if len(choice.cards) > 1:
            words = f"{words} ({len(choice.cards)} cards together)"
        cost = cost_line([choice.cost], load_rates(), self._medicines(), self.timetable)
        value = f"{choice.name.value}|{'+'.join(choice.cards)}"
        return ChoiceLine(value, words, choice.cards, choice.lawful, best, cost, with_names(asks), with_names(stops))

    def _lost(self) -> tuple[LostCard, ...]:
        if self.found is None:
            return ()
        missing = tuple(LostCard(card.number, "nobody finds it") for card in self.found.open.cards if card.state.missing)
        unread = tuple(LostCard(one.number, f"{one.stage.value}: its record cannot be read") for one in self.found.open.unreadable)
        apart = tuple(
            LostCard(card.number, "for as-needed medicines: decide about it apart")
            for card in self.found.open.cards
            if card.card.as_needed and card.state.out_of_date
        )
        return (*missing, *unread, *apart)

    def _tasks(self) -> tuple[TaskLine, ...]:
        states = {card.number: card.state for card in self.found.open.cards} if self.found else {}
        form = load_rules(load_pharmacy().rules).card_format
        codes = {
            content.medicine
            for task in self.stored.tasks
            for card in (task.before, task.after)
            if card is not None
            for cavity in card.cavities
            for content in cavity.contents
        }
        medicines = load_catalogue(codes)
        lines = []
        for task in self.stored.tasks:
            state = states.get(task.card)
            waits = waits_for(state) if state else ""
            drawn = draw_before_after(task, form, medicines, self.country) if task.deed in {"open", "recall", "header"} else None
            lines.append(
                TaskLine(
                    number=task.card,
                    words=_DEEDS[task.deed],
                    waits=_WAITS["not begun" if waits == "work" and state and not self._begun(state) else waits],
                    right=not waits,
                    doing=waits in {"work", "labels"},
                    out=waits == "out",
                    before=say_when(task.first, self.timetable),
                    cavities=len(task.opened),
                    drawn=drawn,
                    new=task.new,
                )
            )
        return tuple(lines)

    def _begun(self, state: CardState) -> bool:
        """Whether somebody laid hands on the card since it was decided."""
        decided = self.stored.decided_at
        return decided is None or (state.last_touched is not None and state.last_touched > decided) or state.stage is not Stage.FILLING

    def _sheets(self, may: bool) -> tuple[SheetLine, ...]:  # noqa: FBT001 - who may, not how
        if not may or not self.stored.tasks:
            return ()
        made = load_made_lately(f"change {self.stored.id}")
        deeds = {task.deed for task in self.stored.tasks}
        wanted = {
            "labels": bool(deeds & {"open", "header"}),
            "work": bool(deeds & {"open", "header", "afresh", "add", "move"}),
            "interim": bool(self.stored.interims),
            "note": True,
            "answer": True,
        }
        latest = {one.name.kind: one for one in reversed(made)}
        return tuple(
            SheetLine(kind, words, latest.get(kind), again=kind == "labels" and kind in latest)
            for kind, (words, _) in CHANGE_SHEETS.items()
            if wanted[kind]
        )

    def _recount(self) -> tuple[Finding, ...] | None:
        if self.found is None or self.stored.standing is ChangeStanding.WAITING:
            return None
        if any(waits_for(card.state) for card in self.found.open.cards):
            return None
        return with_names(recount_change(self.found))


_FIRST_SHEETS = {
    "interim": "A card is called back. Whoever has it needs the sheet with what to give until then, signed by a pharmacist.",
    "labels": "The labels that go onto the cards are not made yet.",
}


def _next(tasks: tuple[TaskLine, ...], sheets: tuple[SheetLine, ...]) -> NextStep:
    """First what people outside need, then what the bench needs, then the bench; then what is waited for."""
    doing = [task.number for task in tasks if task.doing]
    missing = {one.kind: one for one in sheets if one.made is None}
    for kind, words in _FIRST_SHEETS.items():
        if kind in missing and (kind == "interim" or doing):
            return NextStep("sheet", words, kind, missing[kind].words)
    if doing:
        return NextStep("card", card=doing[0])
    out = next((task for task in tasks if task.out), None)
    if out is None:
        return NextStep()
    until = f" It must be here before {out.before.time:%H:%M}, {short_day(out.before.day)}." if out.before else ""
    return NextStep(words=f"What is left waits for card {format_card_number(out.number)}, which is out.{until}")

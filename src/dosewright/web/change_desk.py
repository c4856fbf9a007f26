"""The change desk: every change on its way, the most urgent first, by the first dosing time that it affects; and cards to call back."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from django.http import HttpResponse

from dosewright.actions.lay_out_change import what_changes
from dosewright.core.custody.changing import ChangeStanding, waits_for
from dosewright.core.custody.rights import RIGHTS, Ability
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import CardNumber
from dosewright.store.calendar import wall_moment
from dosewright.store.catalogue import load_catalogue
from dosewright.store.changes import StoredChange, load_changes, load_open_cards
from dosewright.store.people import load_home_names, load_timetable
from dosewright.store.pharmacy import load_pharmacy
from dosewright.web.change_words import BriefLine, When, brief_lines, say_when
from dosewright.web.page import show
from dosewright.web.people import AT_HOME
from dosewright.web.request import BenchRequest

__all__ = ["ChangeDesk", "ChangeRowLine", "OutLine", "change_lines", "changes"]

_WAITS = {
    "undecided": "to decide",
    "work": "to put right",
    "labels": "to label",
    "out": "called back, not here yet",
    "missing": "not found",
}


@dataclass(frozen=True, slots=True)
class ChangeRowLine:
    """One change. `stands`: what its cards wait for, "2 to put right, 1 called back"; `late`: the first dose that it affects is past."""

    id: int
    name: str
    where: str
    cause: str
    first: When | None
    late: bool
    briefs: tuple[BriefLine, ...]
    stands: str
    taken_at: datetime
    done_at: datetime | None


@dataclass(frozen=True, slots=True)
class OutLine:
    """A card that is called back: before which dose it must be here, and whether that is past."""

    change: int
    card: CardNumber
    name: str
    where: str
    before: When | None
    late: bool


@dataclass(frozen=True, slots=True)
class ChangeDesk:
    """Changes by what is to be done with them."""

    waiting: tuple[ChangeRowLine, ...]
    decided: tuple[ChangeRowLine, ...]
    working: tuple[ChangeRowLine, ...]
    done: tuple[ChangeRowLine, ...]
    out: tuple[OutLine, ...]
    may_decide: bool
    may_change_rates: bool


def changes(request: BenchRequest) -> HttpResponse:
    """All of them on one page."""
    now = wall_moment(request.clock.now())
    open_ones = load_changes((ChangeStanding.WAITING, ChangeStanding.DECIDED, ChangeStanding.IN_WORK))
    by_standing = {standing: [one for one in open_ones if one.standing is standing] for standing in ChangeStanding}
    over = sorted(load_changes((ChangeStanding.DONE,), 500), key=lambda one: one.done_at or one.taken_at, reverse=True)[:20]
    role = request.actor.role
    screen = ChangeDesk(
        waiting=change_lines(by_standing[ChangeStanding.WAITING], now),
        decided=change_lines(by_standing[ChangeStanding.DECIDED], now),
        working=change_lines(by_standing[ChangeStanding.IN_WORK], now),
        done=change_lines(over, now),
        out=tuple(line for one in open_ones for line in _out(one, now)),
        may_decide=role in RIGHTS[Ability.DECIDE_CHANGE],
        may_change_rates=role in RIGHTS[Ability.CHANGE_RATES],
    )
    return show(request, "change/desk.html", screen)


def change_lines(some: Iterable[StoredChange], now: Moment) -> tuple[ChangeRowLine, ...]:
    """The changes as the desk lists them."""
    return tuple(_line(one, now) for one in some)


def _line(one: StoredChange, now: Moment) -> ChangeRowLine:
    timetable, country = load_timetable(one.person.id), load_pharmacy().country
    found = what_changes(one.person.id, one.before, wall_moment(one.taken_at))
    medicines = load_catalogue({code for brief in found for code in (brief.was, brief.now)})
    return ChangeRowLine(
        id=one.id,
        name=one.person.name,
        where=_where(one),
        cause=one.cause.value,
        first=say_when(one.first, timetable),
        late=one.first is not None and one.first < now and one.standing is not ChangeStanding.DONE,
        briefs=brief_lines(found, medicines, timetable, country),
        stands=_stands(one) if one.standing is not ChangeStanding.DONE else "every card is right",
        taken_at=one.taken_at,
        done_at=one.done_at,
    )


def _where(one: StoredChange) -> str:
    home = load_home_names().get(one.person.home, "") if one.person.home else AT_HOME
    return ", ".join(part for part in (home, f"room {one.person.room}" if one.person.room else "") if part)


def _stands(one: StoredChange) -> str:
    found = load_open_cards(one.person.id)
    waits = [waits_for(card.state) for card in found.cards]
    said = [f"{waits.count(word)} {words}" for word, words in _WAITS.items() if waits.count(word)]
    said += [f"{len(found.unreadable)} that cannot be read"] if found.unreadable else []
    return ", ".join(said) or "all cards are right: count again and finish"


def _out(one: StoredChange, now: Moment) -> tuple[OutLine, ...]:
    timetable = load_timetable(one.person.id)
    before = {task.card: Moment(*task.first) if task.first else None for task in one.tasks}
    found = (card for card in load_open_cards(one.person.id).cards if waits_for(card.state) == "out")
    return tuple(
        OutLine(one.id, card.number, one.person.name, _where(one), say_when(due, timetable), due is not None and due <= now)
        for card in found
        for due in (before.get(card.number),)
    )

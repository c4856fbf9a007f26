"""Dosing times of the pharmacy, of a home, of one person: looked at, and changed by the same action as at the bench, in the form of a
timetable file."""

import json
from typing import Any

from django.http import HttpResponse
from ninja import Router, Schema

from dosewright.actions.change_times import change_times
from dosewright.api.answer import Refused, answer, stop
from dosewright.api.door import Scope
from dosewright.api.fields import Reason
from dosewright.api.offer import does, gives, offer
from dosewright.api.request import ApiRequest
from dosewright.core.custody.rights import Ability
from dosewright.core.interop.json_text import JsonError
from dosewright.core.interop.timetable_json import TimetableError, parse_timetable
from dosewright.core.units.dosing_time import Timetable
from dosewright.core.units.ids import HomeId
from dosewright.store.people import load_home_names
from dosewright.store.whose_times import PHARMACY, WhoseTimes, has_own_times, load_times_of

__all__ = [
    "SlotOut",
    "TimesIn",
    "TimesOut",
    "change",
    "change_home",
    "change_pharmacy",
    "home_times",
    "pharmacy_times",
    "router",
    "times",
]

router = Router(tags=["dosing times"])


class SlotOut(Schema):
    """A dosing time: its name, its clock time, and the FHIR R4 events that it stands for."""

    name: str
    time: str
    when: list[str]


class TimesOut(Schema):
    """What counts for them. `own`: theirs alone, else a person follows the home or the pharmacy, and a home the pharmacy. `often`: the
    dosing times that "so many times a day" means."""

    own: bool
    slots: list[SlotOut]
    often: dict[str, list[str]]


class TimesIn(Schema):
    """A timetable as its file has it, `{"slots": [{"name": "morning", "time": "08:00"}]}`, and why; null: the home's or the pharmacy's
    count again."""

    timetable: dict[str, Any] | None
    reason: Reason


@offer(router, gives("times", "/people/{path:person}/times", Ability.LOOK), out=TimesOut)
def times(request: ApiRequest, person: str) -> dict[str, object]:
    """The dosing times that count for the person, by the clock."""
    return _out(WhoseTimes("person", person))


@offer(router, gives("home-times", "/homes/{path:home}/times", Ability.LOOK), out=TimesOut)
def home_times(request: ApiRequest, home: str) -> dict[str, object]:
    """The dosing times that count for a home's people, but for those who have their own."""
    return _out(WhoseTimes("home", home))


@offer(router, gives("pharmacy-times", "/times", Ability.LOOK, scope=Scope.PHARMACY), out=TimesOut)
def pharmacy_times(request: ApiRequest) -> dict[str, object]:
    """The pharmacy's dosing times: whoever has no others follows them."""
    return _out(PHARMACY)


def _out(whose: WhoseTimes) -> dict[str, object]:
    now = load_times_of(whose)
    slots = [{"name": slot.name, "time": f"{slot.time:%H:%M}", "when": sorted(slot.when)} for slot in now.slots]
    often = {str(many): list(names) for many, names in sorted(now.by_frequency.items())}
    return {"own": has_own_times(whose), "slots": slots, "often": often}


@offer(router, does("change-times", "/people/{path:person}/times", Ability.CHANGE_TIMES))
def change(request: ApiRequest, person: str, body: TimesIn) -> HttpResponse:
    """They are these from now on; cards whose doses they move are out of date (R9)."""
    return _change(request, f"person {person}", WhoseTimes("person", person), body)


@offer(router, does("change-home-times", "/homes/{path:home}/times", Ability.CHANGE_TIMES))
def change_home(request: ApiRequest, home: str, body: TimesIn) -> HttpResponse:
    """The home's from now on; cards of whoever follows them are out of date where a dose moves (R9)."""
    return _change(request, f"home {load_home_names()[HomeId(home)]}", WhoseTimes("home", home), body)


@offer(router, does("change-pharmacy-times", "/times", Ability.CHANGE_TIMES, scope=Scope.PHARMACY))
def change_pharmacy(request: ApiRequest, body: TimesIn) -> HttpResponse:
    """The pharmacy's from now on; cards of whoever follows them are out of date where a dose moves (R9)."""
    return _change(request, "the pharmacy", PHARMACY, body)


def _change(request: ApiRequest, said: str, whose: WhoseTimes, body: TimesIn) -> HttpResponse:
    """`said`: whose they are in the words that the bench's history looks for."""
    wanted = _read(body.timetable) if body.timetable is not None else None
    return answer(change_times(said, request.auth.on, whose, wanted, body.reason))


def _read(said: dict[str, Any]) -> Timetable:
    """Raises Refused: one sentence that names the field and what would be right."""
    try:
        return parse_timetable(json.dumps(said))
    except (TimetableError, JsonError) as error:
        raise Refused(422, stop("custody.timetable-wrong", why=str(error))) from error

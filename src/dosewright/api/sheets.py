"""Sheets made on demand: of a set, of a home, of a person; and the very bytes of one."""

from datetime import datetime, time
from typing import Literal

from django.http import HttpResponse
from ninja import Router, Schema

from dosewright.actions.make_sheet import Asked, Wanted, make_sheet
from dosewright.actions.sheets_wanted import (
    check_of_set,
    lots_of_set,
    manifest_of,
    month_of_home,
    month_of_person,
    rest_of_set,
    round_of_home,
    sheet_of_person,
)
from dosewright.api.answer import Refused, answer, stop
from dosewright.api.door import Scope
from dosewright.api.fields import Day, Reason
from dosewright.api.offer import does, gives, offer
from dosewright.api.request import ApiRequest
from dosewright.api.sets import PDF
from dosewright.core.custody.rights import Ability
from dosewright.core.paper.person_sheet import GIANT, LARGE
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import HomeId, PersonId
from dosewright.store.calendar import wall_moment
from dosewright.store.made_papers import load_made

__all__ = ["HomeSheetIn", "PersonSheetIn", "SetSheetIn", "make_for_home", "make_for_person", "make_for_set", "router", "sheet"]

router = Router(tags=["sheets"])


class SetSheetIn(Schema):
    """The person's own sheet, the check sheet, labels with lot and expiry, or labels for the rest of the cycle, from `day` and `at` on.
    `reason`: why labels are made once more."""

    kind: Literal["person", "check", "lots", "rest"]
    print: Literal["large", "giant"] = "large"
    lang: Literal["en", "fr", "es", "de"] = "en"
    day: Day | None = None
    at: time = time(0, 0)
    printer: Reason = ""
    reason: Reason = ""


class HomeSheetIn(Schema):
    """Administration records of the month in which the day lies, or the day's round list or manifest."""

    kind: Literal["record", "round", "manifest"]
    day: Day
    printer: Reason = ""


class PersonSheetIn(Schema):
    """The person's administration record of the month in which the day lies, or the day's manifest of somebody at home."""

    kind: Literal["record", "manifest"]
    day: Day
    printer: Reason = ""


@offer(router, does("make-set-sheet", "/sets/{int:set_id}/sheets", Ability.MAKE_SHEET))
def make_for_set(request: ApiRequest, set_id: int, body: SetSheetIn) -> HttpResponse:
    """Drawn, read back and kept; `made` is the sheet's number."""
    if body.kind == "rest" and body.day is None:
        raise Refused(422, stop("custody.request-wrong", field="day", why="labels for the rest of a cycle begin on a day"))
    return _made(request, _of_set(set_id, body, _moment(request)), Asked(body.printer, body.reason))


@offer(router, does("make-home-sheet", "/homes/{path:home}/sheets", Ability.MAKE_SHEET))
def make_for_home(request: ApiRequest, home: str, body: HomeSheetIn) -> HttpResponse:
    """Drawn, read back and kept; `made` is the sheet's number."""
    return _made(request, _of_home(HomeId(home), body, _moment(request)), Asked(body.printer))


@offer(router, does("make-person-sheet", "/people/{path:person}/sheets", Ability.MAKE_SHEET))
def make_for_person(request: ApiRequest, person: str, body: PersonSheetIn) -> HttpResponse:
    """Drawn, read back and kept; `made` is the sheet's number."""
    return _made(request, _of_person(PersonId(person), body, _moment(request)), Asked(body.printer))


@offer(router, gives("sheet", "/sheets/{int:sheet}", Ability.MAKE_SHEET, scope=Scope.PHARMACY), out=bytes, extra=PDF)
def sheet(request: ApiRequest, sheet: int) -> HttpResponse:
    """One sheet, byte for byte as it was made."""
    return HttpResponse(load_made(sheet).pdf, content_type="application/pdf")


def _made(request: ApiRequest, wanted: Wanted, asked: Asked) -> HttpResponse:
    return answer(make_sheet(wanted.name.subject, request.auth.on, wanted, asked))


def _moment(request: ApiRequest) -> datetime:
    """By the pharmacy's clock on the wall, as sheets print it."""
    now = wall_moment(request.auth.on.at)
    return datetime.combine(now.day, now.time)


def _of_set(set_id: int, body: SetSheetIn, made: datetime) -> Wanted:
    if body.kind == "person":
        return sheet_of_person(set_id, GIANT if body.print == "giant" else LARGE, body.lang, made)
    if body.kind == "check":
        return check_of_set(set_id, made)
    return rest_of_set(set_id, Moment(body.day, body.at)) if body.kind == "rest" and body.day else lots_of_set(set_id)


def _of_home(home: HomeId, body: HomeSheetIn, made: datetime) -> Wanted:
    if body.kind == "record":
        return month_of_home(home, body.day.replace(day=1), made)
    return round_of_home(home, body.day, made) if body.kind == "round" else manifest_of(home, None, body.day, made)


def _of_person(person: PersonId, body: PersonSheetIn, made: datetime) -> Wanted:
    if body.kind == "record":
        return month_of_person(person, body.day.replace(day=1), made)
    return manifest_of(None, person, body.day, made)

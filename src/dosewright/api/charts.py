"""The figures of the two charts of near misses, and what changed in the work beside them."""

from datetime import date, datetime
from fractions import Fraction
from typing import Annotated

from django.http import HttpResponse
from ninja import Query, Router, Schema
from pydantic import StringConstraints

from dosewright.actions.near_miss_figures import load_figures
from dosewright.actions.say_what_changed import say_what_changed, take_back_what_changed
from dosewright.api.answer import answer
from dosewright.api.door import Scope
from dosewright.api.fields import Code, Day
from dosewright.api.offer import does, gives, offer
from dosewright.api.request import ApiRequest
from dosewright.core.checking.control_limits import Limits
from dosewright.core.checking.g_chart import GChart
from dosewright.core.checking.p_chart import Period, PPoint
from dosewright.core.checking.turn import Turn
from dosewright.core.custody.near_miss import NearMissKind
from dosewright.core.custody.rights import Ability
from dosewright.core.units.quantity import format_amount
from dosewright.store.calendar import wall_day
from dosewright.store.near_misses import StoredTurn, load_near_misses

__all__ = ["ChartsOut", "LimitsOut", "NoteOut", "PointOut", "RunOut", "SayIn", "Which", "charts", "router", "say", "take_back"]

router = Router(tags=["near misses"])
_ALL = Scope.PHARMACY
_CHART = "near misses"


class Which(Schema):
    """Weeks or months; one kind of near miss, or every."""

    by: Period = Period.WEEK
    kind: NearMissKind | None = None


class LimitsOut(Schema):
    """The centre line and what lies three standard deviations from it, as exact text."""

    centre: str
    lower: str
    upper: str


class PointOut(Schema):
    """A week or month: so many checks, so many of them sent the card back. `side`: 1 above the upper limit, -1 below the lower one, else 0.
    `counted`: the limits were reckoned from it as well."""

    first: date
    checks: int
    sent_back: int
    share: str | None
    limits: LimitsOut | None
    side: int
    counted: bool


class RunOut(Schema):
    """So many cards were accepted from one near miss to the next, which came at `at`. `side`: 1 where chance does not explain so many."""

    at: datetime
    cards: int
    limits: LimitsOut
    side: int


class NoteOut(Schema):
    """What changed on a day; `limits`: said (no more than that), left out, or anew."""

    id: int
    day: date
    text: str
    limits: Turn
    said_by: str


class ChartsOut(Schema):
    """The share of checks that sent a card back (a p-chart), the week or month that still goes on apart; cards accepted between two near
    misses (a g-chart), with how many since the latest; and what changed."""

    points: list[PointOut]
    still: PointOut | None
    runs: list[RunOut]
    since_latest: int
    since_latest_side: int
    notes: list[NoteOut]


class SayIn(Schema):
    """From which day, what changed, and what follows for the limits."""

    day: Day
    text: Annotated[Code, StringConstraints(max_length=200)]
    limits: Turn = Turn.SAID


@offer(router, gives("near-miss-charts", "/near-misses/charts", Ability.LOOK, scope=_ALL), out=ChartsOut)
def charts(request: ApiRequest, which: Query[Which]) -> dict[str, object]:
    """The figures that the bench draws, with the same limits."""
    found = [one for one in load_near_misses() if which.kind in {None, one.kind}]
    figures = load_figures(found, which.by, wall_day(request.auth.on.at))
    return {
        "points": [_point(point) for point in figures.points],
        "still": _point(figures.still[0]) if figures.still else None,
        "runs": _runs(figures.runs),
        "since_latest": figures.runs.going_on,
        "since_latest_side": figures.runs.side,
        "notes": [_note(turn) for turn in figures.turns],
    }


@offer(router, does("say-what-changed", "/near-misses/notes", Ability.SAY_WHAT_CHANGED, scope=_ALL))
def say(request: ApiRequest, body: SayIn) -> HttpResponse:
    """It stands beside the points of that week or month; `made` is its number."""
    return answer(say_what_changed(_CHART, request.auth.on, body.day, body.text, body.limits))


@offer(router, does("take-back-note", "/near-misses/notes/{int:note}/take-back", Ability.SAY_WHAT_CHANGED, scope=_ALL))
def take_back(request: ApiRequest, note: int) -> HttpResponse:
    """It stands there no more; the ledger keeps that it did."""
    return answer(take_back_what_changed(_CHART, request.auth.on, note))


def _point(point: PPoint) -> dict[str, object]:
    sample = point.sample
    counted = {"first": sample.first, "checks": sample.many, "sent_back": sample.found, "side": point.side, "counted": point.counted}
    share = format_amount(point.share) if point.share is not None else None
    return {**counted, "share": share, "limits": _limits(point.limits) if point.limits else None}


def _runs(chart: GChart) -> list[dict[str, object]]:
    return [{"at": run.at, "cards": run.many, "limits": _limits(run.limits), "side": run.side} for run in chart.runs]


def _limits(limits: Limits) -> dict[str, str]:
    sides: tuple[Fraction, ...] = (limits.centre, limits.lower, limits.upper)
    return dict(zip(("centre", "lower", "upper"), map(format_amount, sides), strict=True))


def _note(turn: StoredTurn) -> dict[str, object]:
    return {"id": turn.id, "day": turn.day, "text": turn.text, "limits": turn.turn, "said_by": turn.said_by}

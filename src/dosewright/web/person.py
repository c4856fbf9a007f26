"""One person: orders in force, what waits, what was, and the sets made for them. Stopping an order."""

from dataclasses import dataclass
from datetime import date

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from dosewright.actions.stop_order import stop_order
from dosewright.core.custody.rights import RIGHTS, Ability
from dosewright.core.medicines.suitability import holds_back, rules_about
from dosewright.core.units.dosing_time import DosingTime, Moment
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import OrderId, PersonId
from dosewright.core.units.person import Person
from dosewright.store.calendar import wall_moment
from dosewright.store.orders import StoredOrder, load_order, load_orders_of
from dosewright.store.people import load_home_names, load_person, load_timetable
from dosewright.store.pharmacy import load_pharmacy, load_rules
from dosewright.store.work import SetInBrief, load_sets_of
from dosewright.web.decision import Decision
from dosewright.web.directions import say_directions
from dosewright.web.findings import with_names
from dosewright.web.order_lines import OrderLine, order_line
from dosewright.web.page import Strip, show, strip_of
from dosewright.web.request import BenchRequest, new_token, occasion, today
from dosewright.web.unused import UnusedLine, unused_lines

__all__ = ["PersonScreen", "StopForm", "person", "stop"]


@dataclass(frozen=True, slots=True)
class PersonScreen:
    """`orders` are in force now; `waiting` for a pharmacist; `past` is everything else, with its standing;
    `unused` came in a file, could not be used, and holds the planning."""

    id: str
    today: date
    orders: tuple[OrderLine, ...]
    waiting: tuple[OrderLine, ...]
    past: tuple[OrderLine, ...]
    unused: tuple[UnusedLine, ...]
    times: tuple[DosingTime, ...]
    sets: tuple[SetInBrief, ...]
    may_stop: bool
    may_confirm: bool
    may_plan: bool
    may_sheet: bool
    placeable: frozenset[str]  # orders that a rule holds back, where a pharmacist decides where their medicine goes
    may_take_up_times: bool
    may_correct: bool
    may_change_times: bool


class StopForm(forms.Form):
    """From when on the order counts no more, and why."""

    day = forms.DateField(label="No dose from this day on", widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"))
    time = forms.TimeField(label="and this time", widget=forms.TimeInput({"type": "time"}, format="%H:%M"))
    reason = forms.CharField(label="Why, and who said so", max_length=1000, widget=forms.Textarea({"rows": 3}))


def person(request: BenchRequest, person: str) -> HttpResponse:
    """The page."""
    someone, profile = load_person(PersonId(person)), load_rules(load_pharmacy().rules).profile
    now, role = wall_moment(request.clock.now()), request.actor.role
    stored = load_orders_of(someone.id)
    groups: dict[str, list[OrderLine]] = {"force": [], "waiting": [], "past": []}
    for one in stored:
        groups[_group(one, now)].append(order_line(one, profile))
    screen = PersonScreen(
        id=someone.id,
        today=today(request),
        orders=tuple(groups["force"]),
        waiting=tuple(groups["waiting"]),
        past=tuple(groups["past"]),
        unused=unused_lines(someone.id),
        times=load_timetable(someone.id).slots,
        sets=load_sets_of(someone.id),
        may_stop=role in RIGHTS[Ability.STOP_ORDER],
        may_confirm=role in RIGHTS[Ability.CONFIRM_READING],
        may_plan=role in RIGHTS[Ability.PLAN_SET],
        may_sheet=role in RIGHTS[Ability.MAKE_SHEET],
        placeable=_placeable(stored) if role in RIGHTS[Ability.ANSWER_FINDING] else frozenset(),
        may_take_up_times=role in RIGHTS[Ability.TAKE_UP_TIMES],
        may_correct=role in RIGHTS[Ability.CORRECT_PERSON],
        may_change_times=role in RIGHTS[Ability.CHANGE_TIMES],
    )
    return show(request, "people/person.html", screen, strip=_strip(someone))


def _placeable(stored: tuple[StoredOrder, ...]) -> frozenset[str]:
    rules = load_rules(load_pharmacy().rules).suitability
    return frozenset(one.order.id for one in stored if holds_back(rules_about(one.medicine, rules)))


def _group(one: StoredOrder, now: Moment) -> str:
    if one.standing == "waiting":
        return "waiting"
    return "force" if one.standing == "confirmed" and (one.order.until is None or now < one.order.until) else "past"


def stop(request: BenchRequest, order: str) -> HttpResponse:
    """An order ends; every card that it touches is out of date from then on."""
    stored, now = load_order(OrderId(order)), wall_moment(request.clock.now())
    form = StopForm(request.POST or None, initial={"day": now.day, "time": now.time})
    findings: tuple[Finding, ...] = ()
    if request.method == "POST" and form.is_valid():
        said = form.cleaned_data
        outcome = stop_order(stored.order.id, occasion(request), Moment(said["day"], said["time"]), said["reason"])
        if outcome.done:
            touched = sum(finding.code == "rework.card-touched" for finding in outcome.findings)
            stale = f" {touched} card{'s are' if touched > 1 else ' is'} out of date now." if touched else ""
            messages.success(request, f"Stopped: {stored.medicine.label}.{stale}")
            return redirect("person", stored.person.id)
        findings = outcome.findings
    ask = Decision(
        title=f"Stop {stored.medicine.label}.",
        about=say_directions(stored.order.dosages, stored.order.text, load_rules(load_pharmacy().rules).profile.number_style),
        action=reverse("stop-order", args=[order]),
        button="This order is stopped",
        back=reverse("person", args=[stored.person.id]),
        form=form,
        token=new_token(),
        findings=with_names(findings),
    )
    return show(request, "decision.html", ask, strip=_strip(stored.person), status=422 if request.method == "POST" else 200)


def _strip(someone: Person) -> Strip:
    return strip_of(someone, load_home_names().get(someone.home, "") if someone.home else "")

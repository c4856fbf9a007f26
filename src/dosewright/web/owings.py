"""What is owed: which medicine, to whom, since when, and whether it is in stock by now."""

from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction
from itertools import groupby

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect

from dosewright.actions.record_owing import record_owing
from dosewright.core.paper.medicine_words import named
from dosewright.core.units.ids import CardNumber, MedicineCode
from dosewright.store.catalogue import load_catalogue
from dosewright.store.owings import Owing, load_owings
from dosewright.store.pharmacy import load_pharmacy, load_rules
from dosewright.store.stock import load_stock
from dosewright.store.work import set_of
from dosewright.web.page import show
from dosewright.web.request import BenchRequest, local, occasion
from dosewright.web.wording import say_finding

__all__ = ["OwedLine", "OwedMedicine", "OwingsScreen", "owings", "record"]


@dataclass(frozen=True, slots=True)
class OwedLine:
    """One set that waits for it."""

    set_id: int
    name: str
    amount: Fraction
    since: datetime
    by: str


@dataclass(frozen=True, slots=True)
class OwedMedicine:
    """A medicine with everybody who waits for it: how much in all, and how much of it is in stock by now, of lots not past."""

    name: str
    unit: str
    amount: Fraction
    stock: Fraction
    lines: tuple[OwedLine, ...]


@dataclass(frozen=True, slots=True)
class OwingsScreen:
    """Medicine by medicine."""

    medicines: tuple[OwedMedicine, ...]
    sets: int


def owings(request: BenchRequest) -> HttpResponse:
    """The list."""
    found = load_owings()
    lines = tuple(_medicine(request, MedicineCode(code), tuple(group)) for code, group in groupby(found, key=lambda one: one.medicine))
    return show(request, "stock/owings.html", OwingsScreen(lines, len({one.set_id for one in found})))


def record(request: BenchRequest, number: str) -> HttpResponse:
    """What is wanting for the card's set goes on the list; the card waits, and others are filled meanwhile."""
    set_id, _ = set_of(CardNumber(number))
    outcome = record_owing(set_id, occasion(request), MedicineCode(request.POST.get("medicine", "")[:60]))
    if outcome.done:
        messages.success(request, "It is on the list of what is owed. Go on with another medicine or another card.")
    else:
        messages.error(request, " ".join(say_finding(finding) for finding in outcome.findings))
    return redirect("fill", number)


def _medicine(request: BenchRequest, code: MedicineCode, owed: tuple[Owing, ...]) -> OwedMedicine:
    medicine, country = load_catalogue([code])[code], load_rules(load_pharmacy().rules).profile.country
    today = local(request.clock.now()).date()
    stock = sum((held.amount for held in load_stock(code) if held.batch.expiry >= today and not held.recalled), Fraction(0))
    lines = tuple(OwedLine(one.set_id, one.person.name, one.amount, one.since, one.by) for one in owed)
    return OwedMedicine(named(medicine, country), medicine.unit, sum((one.amount for one in owed), Fraction(0)), stock, lines)

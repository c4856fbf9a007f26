"""One way to show a page: a template and the one value that it may show.

Comes in: a frozen dataclass made for the template, and the strip that says whose card it is. Goes out: HTML. Nothing else reaches a
template, so what a screen shows is declared where the dataclass is.
"""

from dataclasses import dataclass, is_dataclass
from typing import Any

from django.conf import settings
from django.http import HttpResponse
from django.shortcuts import render
from django.urls import reverse

from dosewright.core.units.person import Person
from dosewright.web.bench_lock import take_draft
from dosewright.web.dates import day_of_year
from dosewright.web.request import BenchRequest
from dosewright.web.rights import ADDRESSES
from dosewright.web.ways import ways_for

__all__ = ["NOBODY", "Strip", "show", "strip_of"]


@dataclass(frozen=True, slots=True)
class Strip:
    """The top line: whose card (`whose` empty: none is on the bench), the facts that tell two people apart, and the card."""

    whose: str = ""
    facts: tuple[str, ...] = ()
    card: str = ""
    of: str = ""
    plan: str = ""  # the plan's fingerprint, which the foot prints


NOBODY = Strip()


def strip_of(person: Person, home: str = "", *, card: str = "", of: str = "", plan: str = "") -> Strip:
    """`home` is the home's printed name; a person of no home is told by the address."""
    where = ", ".join(part for part in (home or person.address, f"room {person.room}" if person.room else "") if part)
    facts = (f"born {day_of_year(person.born)}" if person.born else "birth date not known", where)
    return Strip(person.name, tuple(fact for fact in facts if fact), card, of, plan)


def show(request: BenchRequest, template: str, screen: Any, *, strip: Strip = NOBODY, status: int = 200) -> HttpResponse:
    """The page. Raises TypeError for a screen that is no dataclass."""
    if not is_dataclass(screen):
        raise TypeError(f"{template} must be given a dataclass, not {type(screen).__name__}")
    person = request.person
    context: dict[str, Any] = {"screen": screen, "strip": strip, "person": person, "station": request.station, "ways": ways_for(person)}
    context |= {"lock_after": int(settings.BENCH_IDLE.total_seconds()), "draft": take_draft(request, person.id) if person else ""}
    context["page"] = _page_of(request)
    return render(request, template, context, status=status)


def _page_of(request: BenchRequest) -> str:
    """Where what is shown in answer to a form belongs, so that somebody can come back to it; "" where its own address will do."""
    found = request.resolver_match
    address = ADDRESSES.get(found.url_name or "") if found else None
    return reverse(address.page, kwargs=_taken(address.page, found.kwargs)) if address and address.page and found else ""


def _taken(name: str, kwargs: dict[str, object]) -> dict[str, object]:
    return {key: value for key, value in kwargs.items() if f":{key}>" in ADDRESSES[name].path}

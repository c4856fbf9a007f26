"""The sheets of a plan, for those people whose set is whole. Comes in: a plan with its input. Goes out: PDFs, and why some have none.

Each document is drawn, written, read back and recounted as one task of an executor: with several cores at once, the same bytes as with one.

A sheet is drawn for a person only if every order that may be theirs is in a card or named beside it (R15), and the recount agrees (R1–R5).
An order that is broken is neither, so it holds that person's sheets; one that names nobody holds everybody's. An order whose directions are
still a question is named on the header as not in the cards, and holds nothing.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from concurrent.futures import Executor
from dataclasses import dataclass, replace
from datetime import date
from functools import partial
from threading import Lock

from dosewright.cli.plan_input import PlanInput
from dosewright.cli.through import InThisProcess, run_through
from dosewright.core.packing.plan_values import Plan
from dosewright.core.packing.request import PlanRequest
from dosewright.core.paper.alike import Apart, tell_apart
from dosewright.core.paper.finish import Offered
from dosewright.core.paper.material import STAMPED, Material
from dosewright.core.paper.offer import offer_fill, offer_labels, offer_record
from dosewright.core.paper.offer_sheets import offer_check, offer_person_sheet
from dosewright.core.paper.person_sheet import GIANT, LARGE, PersonSheet
from dosewright.core.paper.tongues.words import TONGUES
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import HomeId, PersonId
from dosewright.devices.fonts import load_fonts

__all__ = ["EVERY_PAPER", "LANGUAGES", "PAPER", "SIZES", "More", "draw_paper"]

PAPER: Mapping[str, Callable[[Material], Offered]] = {"labels.pdf": offer_labels, "fill.pdf": offer_fill, "record.pdf": offer_record}

EVERY_PAPER = (*PAPER, "person.pdf", "check.pdf")
SIZES: Mapping[str, float] = {"large": LARGE, "giant": GIANT}
LANGUAGES = tuple(TONGUES)


@dataclass(frozen=True, slots=True)
class More:
    """Sheets beyond the three that every plan gets."""

    person: PersonSheet | None = None
    check: bool = False

    @property
    def many(self) -> int:
        """How many documents there are in all."""
        return len(PAPER) + (self.person is not None) + self.check

    def offers(self, prepared_on: date) -> Iterator[tuple[str, Callable[[Material], Offered]]]:
        """File names with what draws them; functions that can be sent to another process."""
        if (sheet := self.person) is not None:
            yield "person.pdf", partial(offer_person_sheet, sheet=sheet)
        if self.check:
            yield "check.pdf", partial(offer_check, made=prepared_on)


@dataclass(frozen=True, slots=True)
class _Document:
    """One document to draw: how, and the material without its fonts, which each process has already."""

    offer: Callable[[Material], Offered]
    plan: Plan
    request: PlanRequest
    homes: Mapping[HomeId, str]
    apart: Mapping[PersonId, Apart]


_ONE_AT_A_TIME = Lock()  # PDFium, which reads back, is not for several threads of one process


def _draw(document: _Document) -> Offered:
    with _ONE_AT_A_TIME:
        material = Material(document.plan, document.request, STAMPED, load_fonts(), homes=document.homes, apart=document.apart)
        return document.offer(material)


def draw_paper(
    plan: Plan, given: PlanInput, doubted: Iterable[Fact], more: More = More(), executor: Executor | None = None
) -> tuple[dict[str, bytes], tuple[Finding, ...]]:
    """File names with their bytes, without those that have no page; `doubted`: whose sets the recount found faults in, None for all.

    `executor`: where the documents are drawn, here where none is given.
    """
    held = _held(plan, given, doubted)
    names = {person.id: person.name for person in given.request.people}
    findings = [Finding("paper.held", Severity.STOP, {"person": person}, {"name": names[person]}) for person in sorted(held)]
    whole = frozenset(person.person for person in plan.people) - held
    apart = tell_apart(given.request.people)
    mine = replace(plan, people=tuple(person for person in plan.people if person.person in whole))
    wanted = {**PAPER, **dict(more.offers(given.request.prepared_on))}
    tasks = [_Document(offer, mine, given.request, _home_names(given), apart) for offer in wanted.values()]
    drawn = dict(run_through(executor or InThisProcess(), _draw, enumerate(tasks), len(tasks)))
    files = {}
    for number, name in enumerate(wanted):
        offered = drawn[number]
        findings += [found for found in offered.findings if found not in findings]
        if offered.pdf:
            files[name] = offered.pdf
    return files, tuple(findings)


def _held(plan: Plan, given: PlanInput, doubted: Iterable[Fact]) -> frozenset[PersonId]:
    everyone = frozenset(person.person for person in plan.people)
    named = {received.order.id for received in given.orders.received}
    lost = [found for found in given.orders.findings if found.severity is Severity.STOP and found.where.get("order") not in named]
    touched = [*(found.where.get("person") for found in lost), *doubted]
    if None in touched:
        return everyone
    return frozenset(person for person in everyone if person in touched)


def _home_names(given: PlanInput) -> dict[HomeId, str]:
    return {person.home: person.home for person in given.request.people if person.home}

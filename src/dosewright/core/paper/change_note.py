"""The note that tells a home, or the person, what changes: in plain words, large enough for a corridor.

Comes in: whose, what changes (amounts a day before and after), what becomes of which card, until when which card holds. Goes out: A4 pages
and findings. It never asks anybody to open or to alter a card.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.paper.dates import clock, long_day, moment_words
from dosewright.core.paper.drawn import join, once
from dosewright.core.paper.material import Material
from dosewright.core.paper.medicine_words import closed, named, total_or_none
from dosewright.core.paper.page import Page, Rect
from dosewright.core.paper.sheet import A4, Sheet, finish_sheets, frame_sheet, set_text
from dosewright.core.paper.words import Para, bold, given, given_bold, plain
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import CardNumber, MedicineCode, PersonId

__all__ = ["ChangeAnswer", "ChangeNote", "NotedCard", "NotedMedicine", "draw_change_answer", "draw_change_note", "say_noted"]

_A_PAGE = 11  # medicines or cards on a page, with room for two lines each
_VERBS = {
    "started": "New",
    "stopped": "Stopped",
    "raised": "More",
    "lowered": "Less",
    "moved": "Other times",
    "swapped": "Another product",
    "otherwise": "Other days",
    "open": "Other directions",
}
_CARDS = {
    "wait": "goes on as it is. A pharmacist has judged that the change may wait until the next card.",
    "recall": "is called back. Give nothing from it any more: the sheet that comes with this note says what to give instead. "
    "Leave it closed; the pharmacy fetches it.",
    "recall here": "is being put right in the pharmacy.",
    "open": "is in the pharmacy, where it is put right before it comes to you.",
    "header": "is right inside. It gets a new header in the pharmacy.",
    "afresh": "is replaced. Give nothing from it any more. Leave it closed; the pharmacy takes it back.",
    "move": "is replaced. Give nothing from it any more. Leave it closed; the pharmacy takes it back.",
    "add": "is new. It belongs beside the card that you have: give from both.",
}
_CAUSES = {
    "suspended": "This is for a stay in hospital. The medicines begin again only when the pharmacy says so.",
    "resumed": "The stay in hospital is over. Medicines begin again as written here.",
    "discharged": "After a stay in hospital the whole list of medicines is another one.",
    "died": "All medicines have ended. We are sorry. Please keep every card closed; the pharmacy takes them back.",
    "moved home": "The person lives somewhere else now, and the dosing times may be others.",
}


@dataclass(frozen=True, slots=True)
class NotedMedicine:
    """What becomes of one medicine (`kind`, see `_VERBS`); `was` and `now` differ where the product does. Units in `days` days."""

    kind: str
    was: MedicineCode
    now: MedicineCode
    since: Moment | None
    before: Fraction
    after: Fraction
    days: int
    times: str


@dataclass(frozen=True, slots=True)
class NotedCard:
    """What becomes of one card; `deed` as in `_CARDS`; `before`: when it must be back."""

    card: CardNumber
    deed: str
    before: Moment | None


@dataclass(frozen=True, slots=True)
class ChangeNote:
    """One person's note. `at`: when it was decided, `by` whom; `cause` as in `_CAUSES`, or anything else where the orders say it all."""

    person: PersonId
    medicines: tuple[NotedMedicine, ...]
    cards: tuple[NotedCard, ...]
    cause: str
    at: Moment
    by: str


@dataclass(frozen=True, slots=True)
class ChangeAnswer:
    """What the prescriber is told: what was asked (`medicines`), by whom (`prescribers`), and what was done when: a moment, words, by
    whom."""

    person: PersonId
    medicines: tuple[NotedMedicine, ...]
    prescribers: tuple[str, ...]
    steps: tuple[tuple[datetime, str, str], ...]


def draw_change_answer(answer: ChangeAnswer, material: Material) -> tuple[tuple[Page, ...], tuple[Finding, ...]]:
    """Its pages, at least one."""
    who = material.person(answer.person)
    frame = frame_sheet(Sheet("What was done", "", A4), who, material)
    asked = [_medicine_para(one, material) for one in answer.medicines]
    lines = [*asked, Para((bold("What was done"),), 14.0, 12.0, after=1.0), *(_step(*one) for one in answer.steps)]
    stretches = [lines[n : n + _A_PAGE * 2] for n in range(0, len(lines), _A_PAGE * 2)]
    parts = []
    for number, some in enumerate(stretches):
        lead = _answer_lead(answer) if number == 0 else ()
        place = Rect(frame.room.left, frame.room.top + 2, frame.room.width, frame.room.height - 4)
        parts.append(join((set_text((*lead, *some), place, material, who),)))
    pages = finish_sheets(parts, frame, A4, material, {"person": answer.person, "sheet": "answer"})
    return pages, once(finding for part in (frame.edges, *parts) for finding in part.findings)


def _answer_lead(answer: ChangeAnswer) -> Iterator[Para]:
    if answer.prescribers:
        yield Para((plain("To"), given(", ".join(answer.prescribers))), 13.0, 11.0, after=2.0)
    yield Para((bold("What was asked"),), 14.0, 12.0, after=1.0)


def _step(at: datetime, words: str, by: str) -> Para:
    return Para((bold(moment_words(at)), plain(f"{words}, by"), given(f"{by}.")), 11.0, 9.0, indent=4.0, after=1.0)


def draw_change_note(note: ChangeNote, material: Material) -> tuple[tuple[Page, ...], tuple[Finding, ...]]:
    """Its pages, at least one."""
    who = material.person(note.person)
    frame = frame_sheet(Sheet("What changes", "", A4), who, material)
    lines = [*(_medicine_para(one, material) for one in note.medicines), *_cards_paras(note.cards)]
    stretches = [lines[n : n + _A_PAGE] for n in range(0, max(1, len(lines)), _A_PAGE)]
    parts = []
    for number, some in enumerate(stretches):
        paras = (*(_lead(note) if number == 0 else ()), *some, *(_close(note) if number == len(stretches) - 1 else ()))
        parts.append(
            join((set_text(paras, Rect(frame.room.left, frame.room.top + 2, frame.room.width, frame.room.height - 4), material, who),))
        )
    pages = finish_sheets(parts, frame, A4, material, {"person": note.person, "sheet": "note"})
    return pages, once(finding for part in (frame.edges, *parts) for finding in part.findings)


def _lead(note: ChangeNote) -> Iterator[Para]:
    yield Para((bold("The orders have changed."),), 18.0, 14.0, after=2.0)
    if note.cause in _CAUSES:
        yield Para((plain(_CAUSES[note.cause]),), 13.0, 11.0, after=2.0)
    if note.medicines:
        yield Para((bold("What is given"),), 14.0, 12.0, after=1.0)


def _medicine_para(one: NotedMedicine, material: Material) -> Para:
    said = say_noted(one, material.medicine(one.was), material.medicine(one.now), material.country)
    return Para((bold(f"{_VERBS[one.kind]}:"), plain(said)), 13.0, 10.0, indent=4.0, after=1.5)


def say_noted(one: NotedMedicine, was: Medicine, now: Medicine, country: str) -> str:
    """ "bisoprolol 5 mg tablet, from 08:00, Tuesday 10 March 2026: 1 tablet a day becomes none."."""
    name = named(was, country) if one.was == one.now else f"{named(now, country)} in place of {named(was, country)}"
    if one.since is None:
        return closed(f"{name}: ask the pharmacy what has changed")
    when = f"from {clock(one.since.time)}, {long_day(one.since.day)}"
    span = "a day" if one.days == 1 else f"in {one.days} days"
    times = f", at {one.times}" if one.times else ""
    before, after = total_or_none(was, one.before), total_or_none(now, one.after)
    if one.kind == "stopped":
        return f"{name}, {when}: none any more. Until then {before} {span}."
    if one.kind == "started":
        return f"{name}, {when}: {after} {span}{times}."
    if one.before == one.after and one.was == one.now:
        return f"{name}, {when}: {after} {span} as before{times}."
    return f"{name}, {when}: {after} {span}{times}. Until then {before} {span}."


def _cards_paras(cards: Sequence[NotedCard]) -> Iterator[Para]:
    for number, one in enumerate(cards):
        if number == 0:
            yield Para((bold("What becomes of the cards"),), 14.0, 12.0, after=1.0)
        back = f"It must be back before {clock(one.before.time)}, {long_day(one.before.day)}." if one.before else ""
        words = (plain("Card"), given_bold(one.card), plain(_CARDS[one.deed]), *((bold(back),) if back else ()))
        yield Para(words, 13.0, 10.0, indent=4.0, after=1.5)


def _close(note: ChangeNote) -> Iterator[Para]:
    yield Para(
        (plain("Never open a card, take anything out of it or write on it, whatever this note says. Ask the pharmacy."),),
        12.0,
        10.0,
        after=2.0,
    )
    when = f"{clock(note.at.time)}, {long_day(note.at.day)}"
    if note.by:
        yield Para(
            (plain("Decided by"), given(note.by), plain(f"pharmacist, {when}."), plain("Signed"), given("____________________")), 11.0, 9.0
        )

"""One order that waits, as the screen shows it: everything it may mean, what it changes, what stands against it, and what to decide next.

Comes in: the order from the store, what was answered so far (which meaning, from which day), the moment. Goes out: a `ReadingScreen`. The
screen asks one thing at a time: which is meant, then from which day, then whether that is so.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime

from dosewright.actions.look_around import look_around
from dosewright.core.custody.confirming import Around, Standing, alike, asked_beside_reading, check_against
from dosewright.core.custody.meanings import LaidOut, Meaning, lay_out_meanings
from dosewright.core.custody.replacing import Outlook, Side, compare_beside, compare_first, compare_replaced
from dosewright.core.custody.wordings import choice_by, may_remember
from dosewright.core.interop.dosage_json import format_dosage
from dosewright.core.interop.json_text import format_json
from dosewright.core.medicines.medicine import Medicine
from dosewright.core.paper.medicine_words import named
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Finding, Severity, blocks
from dosewright.store.orders import StoredOrder
from dosewright.store.pharmacy import load_pharmacy
from dosewright.store.wordings import load_wording
from dosewright.web.changes import ChangeDrawn, draw_change
from dosewright.web.directions import Spoken, say_directions, say_in_languages, say_reading
from dosewright.web.findings import with_names
from dosewright.web.order_lines import say_span
from dosewright.web.regimen_strip import RegimenStrip, draw_strip

__all__ = ["Answered", "Mark", "Option", "ReadingScreen", "Relative", "draw_reading"]

_NEEDS_DAY = "assumed.anchor"


@dataclass(frozen=True, slots=True)
class Answered:
    """What was said so far: which meaning (None: nothing; `ask`: not by what is remembered), from which day; and what came of it."""

    choice: int | None = None
    ask: bool = False
    since: date | None = None
    reason: str = ""
    restated: str = ""
    wrong: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class Option:
    """One thing that the order may mean: whose word it is, in sentences, as fourteen days, as structure; what stands against it."""

    number: int
    by: str
    sentence: str
    languages: tuple[Spoken, ...]
    strip: RegimenStrip
    against: tuple[Finding, ...]
    structure: str

    @property
    def usable(self) -> bool:
        """Whether it can be packed as it is, if need be with a reason."""
        return self.strip.certain and not blocks(self.against)


@dataclass(frozen=True, slots=True)
class Relative:
    """What the order may be to another of the same substance: the answer's value, in words, what would change, what stands against it."""

    value: str
    title: str
    words: str
    change: ChangeDrawn
    against: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Mark:
    """The remembered wording by which the order is read: its number, for whom it is, who confirmed it, when and why."""

    number: int
    where: str
    by: str
    at: datetime
    reason: str


@dataclass(frozen=True, slots=True)
class ReadingScreen:
    """`step`: "settled", "which", "day", "meant" or "anew". `options`: all of them while one is to be chosen, then the chosen one alone.

    `many`: how many there were. `first`: what changes where there is no other order. `since`: the day that was said. `reasoned`: a reason
    is needed whatever is chosen; `doubted`: only for one of the relatives. `rememberable`: the words may be remembered.
    """

    step: str
    order: str
    person: str
    medicine: str
    text: str
    prescriber: str
    rx_no: str
    file: str
    span: str
    settled: str
    apart: bool
    many: int
    options: tuple[Option, ...]
    questions: tuple[Finding, ...]
    findings: tuple[Finding, ...]
    relatives: tuple[Relative, ...]
    first: ChangeDrawn | None
    mark: Mark | None
    since: date | None
    today: date
    reasoned: bool
    doubted: bool
    rememberable: bool
    reason: str
    restated: str
    wrong: tuple[Finding, ...]
    token: str


@dataclass(frozen=True, slots=True)
class _Seen:
    """Everything that the parts of the screen are drawn from. `order`: as it would count, from the day that was said."""

    stored: StoredOrder
    order: Order
    around: Around
    laid: LaidOut
    country: str
    languages: tuple[str, ...]


def draw_reading(stored: StoredOrder, said: Answered, at: datetime, languages: Iterable[str], token: str) -> ReadingScreen:
    """The screen at the step that is next."""
    seen = _see(stored, said, at, languages)
    options, (number, mark) = _options(seen), _chosen(seen, said)
    chosen = options[number] if number is not None and number < len(options) else None
    relatives = _relatives(seen, chosen) if chosen and chosen.usable else ()
    step = _step(stored, options, chosen, needs_day=_needs_day(seen, chosen, relatives))
    against = chosen.against if chosen and not relatives else ()
    order = stored.order
    return ReadingScreen(
        step=step,
        order=order.id,
        person=stored.person.id,
        medicine=named(stored.medicine, seen.country),
        text=order.text,
        prescriber=order.prescriber,
        rx_no=order.rx_no,
        file=stored.file,
        span=say_span(seen.order),
        settled="" if stored.standing == "waiting" else f"{stored.standing} by {stored.settled_by}",
        apart=seen.laid.apart,
        many=len(options),
        options=(chosen,) if chosen else options,
        questions=_questions(seen) if step != "settled" else (),
        findings=with_names(one for one in stored.findings if not _asked_above(one)),
        relatives=relatives,
        first=_first(seen, chosen) if chosen and chosen.usable and not relatives else None,
        mark=mark,
        since=said.since,
        today=seen.around.today,
        reasoned=seen.laid.apart or asked_beside_reading(stored.findings) or _decides(against),
        doubted=any(_decides(one.against) for one in relatives),
        rememberable=mark is None and may_remember(stored.reading),
        reason=said.reason,
        restated=said.restated,
        wrong=with_names(said.wrong),
        token=token,
    )


def _see(stored: StoredOrder, said: Answered, at: datetime, languages: Iterable[str]) -> _Seen:
    around = look_around(stored, at)
    since = Moment(said.since) if said.since else stored.order.since
    anchor = stored.order.anchor or said.since
    order = replace(stored.order, since=since, anchor=anchor)
    laid = lay_out_meanings(stored.order, stored.reading, around.words, around.timetable, around.today)
    if stored.standing != "waiting":
        laid = LaidOut((stored.order.dosages,) if stored.order.dosages else laid.meanings)
    return _Seen(stored, order, around, laid, load_pharmacy().country, (stored.lang, *languages))


def _chosen(seen: _Seen, said: Answered) -> tuple[int | None, Mark | None]:
    """The remembered meaning, with its mark, unless another was said; else the one that was said; else the only one."""
    remembered = _remembered(seen)
    if remembered and not said.ask and said.choice in (None, remembered[0]):
        number, standing = remembered
        return number, _mark(standing.number)
    if said.choice is not None:
        return said.choice, None
    return (0 if len(seen.laid.meanings) == 1 and not seen.laid.apart else None), None


def _remembered(seen: _Seen) -> tuple[int, Standing] | None:
    standing = seen.around.wording
    choice = choice_by(standing.wording, seen.stored.reading) if standing and seen.stored.standing == "waiting" else None
    return None if standing is None or choice is None else (choice, standing)


def _mark(number: int) -> Mark:
    stored = load_wording(number)
    where = "this home" if stored.wording.key.home else "this pharmacy"
    return Mark(stored.id, where, stored.confirmed_by, stored.confirmed_at, stored.reason)


def _step(stored: StoredOrder, options: tuple[Option, ...], chosen: Option | None, *, needs_day: bool) -> str:
    if stored.standing != "waiting":
        return "settled"
    if not any(option.usable for option in options) or (chosen and not chosen.usable):
        return "anew"
    if chosen is None:
        return "which"
    return "day" if needs_day else "meant"


def _needs_day(seen: _Seen, chosen: Option | None, relatives: tuple[Relative, ...]) -> bool:
    """Whether nobody has said yet from which day the order counts, and that matters: another order ends then, or a rhythm begins."""
    if chosen is None or seen.order.since is not None:
        return False
    return bool(relatives) or any(assumed.code == _NEEDS_DAY for assumed in chosen.strip.assumed)


def _options(seen: _Seen) -> tuple[Option, ...]:
    return tuple(_option(seen, number, meaning) for number, meaning in enumerate(seen.laid.meanings))


def _option(seen: _Seen, number: int, meaning: Meaning) -> Option:
    order, medicine, around = replace(seen.order, dosages=meaning), seen.stored.medicine, seen.around
    first = max(around.today, order.since.day) if order.since else around.today
    strip = draw_strip(order, around.timetable, first, medicine.unit)
    by = "" if not seen.laid.apart else "As the words say" if number else "As the structure says"
    return Option(
        number,
        by,
        say_reading(meaning),
        tuple(spoken for spoken in say_in_languages(meaning, seen.languages) if spoken.lang != "en"),
        strip,
        with_names(check_against(order, None, around)) if strip.certain else (),
        "\n".join(format_json(format_dosage(dosage)) for dosage in meaning),
    )


def _relatives(seen: _Seen, chosen: Option) -> tuple[Relative, ...]:
    """In place of each other order of the same substance; and beside them."""
    order = replace(seen.order, dosages=seen.laid.meanings[chosen.number])
    others = alike(order, seen.around)
    replacing = tuple(_in_place_of(seen, order, other) for other in others)
    return (*replacing, *(_beside(seen, order, others) if others else ()))


def _in_place_of(seen: _Seen, order: Order, other: Order) -> Relative:
    new, old = _side(seen, order), _side(seen, other)
    change = draw_change(compare_replaced(new, old, _outlook(seen)), seen.country)
    against = with_names(check_against(order, other.id, seen.around))
    return Relative(f"replaces:{other.id}", "In place of this order, which then ends", _words(seen, old, order), change, against)


def _beside(seen: _Seen, order: Order, others: tuple[Order, ...]) -> tuple[Relative, ...]:
    change = draw_change(compare_beside(_side(seen, order), _side(seen, others[0]), _outlook(seen)), seen.country)
    against = with_names(check_against(order, None, seen.around))
    title = "Beside it: both count together" if len(others) == 1 else f"Beside them: all {len(others) + 1} count together"
    return (Relative("beside", title, "", change if len(others) == 1 else ChangeDrawn(""), against),)


def _words(seen: _Seen, old: Side, order: Order) -> str:
    said = f"{say_directions(old.order.dosages, old.order.text)} ({say_span(old.order)})"
    return said if old.order.medicine == order.medicine else f"{named(old.medicine, seen.country)}: {said}"


def _first(seen: _Seen, chosen: Option) -> ChangeDrawn:
    order = replace(seen.order, dosages=seen.laid.meanings[chosen.number])
    return draw_change(compare_first(_side(seen, order), _outlook(seen)), seen.country)


def _outlook(seen: _Seen) -> Outlook:
    return Outlook(seen.around.timetable, seen.around.today)


def _side(seen: _Seen, order: Order) -> Side:
    known = seen.around.known
    medicine: Medicine = known.medicines[order.medicine] if known else seen.stored.medicine
    return Side(order, medicine)


def _questions(seen: _Seen) -> tuple[Finding, ...]:
    asked = seen.stored.reading.questions if seen.stored.reading and not seen.stored.order.dosages else ()
    return tuple(Finding(question.code, Severity.DECIDE, {}, dict(question.facts)) for question in asked)


def _asked_above(finding: Finding) -> bool:
    """Whether it is one of the reading's questions, which stand beside the words already."""
    return finding.severity is not Severity.NOTE and finding.code.startswith(("read.", "order.directions-"))


def _decides(findings: tuple[Finding, ...]) -> bool:
    return any(one.severity is Severity.DECIDE for one in findings)

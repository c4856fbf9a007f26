"""The sheet for the person who lives with the card: when to take what, how each medicine looks, what is not in the card. In large print.

Comes in: one person of a plan, a size and a language. Goes out: A4 pages and findings. Nothing is set smaller than the size that was
asked for, but the lines for staff at the foot. Sizes: large print 18 points, giant print 24 (RNIB; ACB large print, from memory).
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.packing.plan_values import PersonPlan
from dosewright.core.paper.apart_marks import check_second_identifier
from dosewright.core.paper.border import Pattern, border_round
from dosewright.core.paper.dates import clock
from dosewright.core.paper.drawn import Drawn, join, once, page_of
from dosewright.core.paper.fit import Block
from dosewright.core.paper.flow import Entry, FlowPart, flow, too_high
from dosewright.core.paper.joints import BIND
from dosewright.core.paper.marks import fingerprint
from dosewright.core.paper.material import Material
from dosewright.core.paper.medicine_words import closed
from dosewright.core.paper.page import About, Line, Page, Rect, Stroke
from dosewright.core.paper.page_numbers import number_pages
from dosewright.core.paper.person_words import PersonWords, Row, Sentence, name_in
from dosewright.core.paper.setting import Setting, measure, set_in, setting_of
from dosewright.core.paper.sheet import A4
from dosewright.core.paper.tongues.words import slot_in
from dosewright.core.paper.words import Para, amount, bold, given, given_bold, kept, plain
from dosewright.core.regimen.order import Order
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import PersonId
from dosewright.core.units.person import Person

__all__ = ["GIANT", "LARGE", "PersonSheet", "draw_person_sheet"]

LARGE, GIANT = 18.0, 24.0  # points
_MARGIN, _FOOT = 14.0, 30.0  # mm
_NUMBER = 12.0  # points: "page 2 of 4"
_STAFF = 9.0  # points: the lines at the foot that are for staff
_CARDS = 4  # numbers of cards named on the sheet; more are on the cards themselves


@dataclass(frozen=True, slots=True)
class PersonSheet:
    """How sheets are made: `size` in points, the language, when. `before`: each person's products of the last cycle, for changed looks."""

    size: float
    lang: str
    made: date | datetime
    before: Mapping[PersonId, tuple[Medicine, ...]] = field(default_factory=dict)


def draw_person_sheet(person: PersonPlan, material: Material, sheet: PersonSheet) -> tuple[tuple[Page, ...], tuple[Finding, ...]]:
    """All pages. A `stop` where something cannot be said in the language, or a text does not fit a page at this size."""
    drawing = _Drawing.of(person, material, sheet)
    parts, findings = drawing.pages()
    about: dict[str, Fact] = {"person": person.person, "sheet": "person"}
    pages = [page_of(part, *A4, about) for part in parts]
    numbered = number_pages(pages, drawing.frame, material.fonts, drawing.words.tongue.page, _NUMBER)
    return numbered, once(
        (*check_second_identifier(person.person, material), *findings, *(found for part in parts for found in part.findings))
    )


@dataclass(frozen=True, slots=True)
class _Drawing:
    """One person's sheet on its way."""

    person: PersonPlan
    material: Material
    sheet: PersonSheet
    words: PersonWords
    setting: Setting

    @staticmethod
    def of(person: PersonPlan, material: Material, sheet: PersonSheet) -> "_Drawing":
        words = PersonWords.of(person, material, sheet.lang, sheet.before.get(person.person, ()))
        return _Drawing(person, material, sheet, words, setting_of(material, person.person))

    @property
    def who(self) -> Person:
        return self.material.person(self.person.person)

    @property
    def _pattern(self) -> Pattern | None:
        apart = self.material.apart.get(self.who.id)
        return apart.pattern if apart else None

    @property
    def frame(self) -> Rect:
        return Rect(_MARGIN, _MARGIN, A4[0] - 2 * _MARGIN, A4[1] - 2 * _MARGIN)

    def pages(self) -> tuple[tuple[Drawn, ...], tuple[Finding, ...]]:
        """Every page with its edges."""
        findings: list[Finding] = []
        entries = list(self._entries(findings))
        top = self._head_height()
        room = Rect(self.frame.left, self.frame.top + top, self.frame.width, self.frame.height - top - _FOOT)
        if too_high(entries, room.height):
            found = Finding("paper.text-does-not-fit", Severity.STOP, self.setting.where, {"text": self.who.name})
            return (), (*findings, found)
        edges = join((*self._head(top), *self._foot(), Drawn(figures=border_round(self.frame, self._pattern))))
        return tuple(join((edges, page)) for page in flow(entries, room)), (*findings, *self.words.findings())

    # What stands on every page.

    def _head_paras(self) -> tuple[Para, ...]:
        size, tongue, request = self.sheet.size, self.words.tongue, self.material.request
        span = tongue.span(request.first, request.last)
        return (
            Para((given_bold(self.who.name),), size * 1.25, size, after=0.5),
            Para((plain(f"{tongue.title},"), plain(span)), size, size),
        )

    def _head_height(self) -> float:
        block = measure(self._head_paras(), self.frame.width, self.setting)
        return 20.0 if isinstance(block, tuple) else block.height + 5.0

    def _head(self, height: float) -> Iterator[Drawn]:
        frame = self.frame
        yield set_in(self._head_paras(), Rect(frame.left, frame.top, frame.width, height), self.setting)
        y = frame.top + height - 3.0
        yield Drawn(lines=(Line(frame.left, y, frame.right, y, Stroke.HEAVY),))

    def _foot(self) -> Iterator[Drawn]:
        frame, tongue, pharmacy = self.frame, self.words.tongue, self.material.pharmacy
        ask = ", ".join(part for part in (pharmacy.name, pharmacy.phone) if part)
        y = frame.bottom - _FOOT + 2.0
        yield Drawn(lines=(Line(frame.left, y, frame.right, y, Stroke.HAIR),))
        lead, _, tail = tongue.ask.partition("{a}")
        whom = Para((bold(lead.strip()), given_bold(ask.replace(" ", BIND) + tail)), self.sheet.size, LARGE)
        when = self._said(self.sheet.made)
        staff = (
            Para((plain(tongue.caution),), _STAFF, 8.0),
            Para((given(f"{fingerprint(self.material)}."), plain(closed(tongue.made.format(a=when)))), _STAFF, 8.0),
        )
        yield set_in((whom,) if ask else (), Rect(frame.left, y + 1.0, frame.width, 11.5), self.setting)
        yield set_in(staff, Rect(frame.left, y + 13.0, frame.width - 40.0, 15.0), self.setting)

    def _said(self, at: date | datetime) -> str:
        day = self.words.year_day(at.date() if isinstance(at, datetime) else at)
        return f"{day}, {clock(at.time())}" if isinstance(at, datetime) else day

    # What flows.

    def _entries(self, findings: list[Finding]) -> Iterator[Entry]:
        tongue = self.words.tongue
        yield from self._opening(findings)
        times = self.words.times()
        if times:
            yield self._heading(tongue.when_heading, findings)
        for at, slot, rows in times:
            yield self._time(at, slot, rows, findings)
        packed = self.words.packed()
        if packed:
            yield self._heading(tongue.each_heading, findings)
        for order, medicine in packed:
            yield self._medicine(order, medicine, findings)
        beside = self.words.beside()
        if beside:
            yield self._heading(tongue.beside_heading, findings, tongue.beside_line)
        for order, medicine in beside:
            yield self._medicine(order, medicine, findings)

    def _opening(self, findings: list[Finding]) -> Iterator[Entry]:
        size, tongue = self.sheet.size, self.words.tongue
        facts = self.words.identifiers()
        numbers = [card.number for card in self.person.cards]
        cards = tongue.card_line.format(a=", ".join(numbers)) if 0 < len(numbers) <= _CARDS else ""
        paras = [Para((given(text),), size, size, after=1.0) for text in (facts, cards) if text]
        paras.append(Para((bold(tongue.differs),), size, size))
        if not numbers:
            paras.append(Para((plain(tongue.nothing),), size, size))
        part = self._part(paras, findings)
        yield Entry(part, part, rule=False, after=4.0)

    def _heading(self, words: str, findings: list[Finding], under: str = "") -> Entry:
        size = self.sheet.size
        paras = [Para((bold(words),), size * 1.3, size)]
        if under:
            paras.append(Para((plain(under),), size, size))
        part = self._part(paras, findings)
        return Entry(part, part, rule=True, after=2.0, leads=True)

    def _time(self, at: time, slot: str, rows: Sequence[Row], findings: list[Finding]) -> Entry:
        size, tongue = self.sheet.size, self.words.tongue
        word = slot_in(tongue, slot)
        radius = size * 0.36
        indent = 2 * radius + 5.0

        def head(words: str) -> FlowPart:
            paras = [Para((bold(words),), size * 1.35, size)]
            part = self._part(paras, findings, indent=indent, after=1.0)
            return replace(part, dial=at, radius=radius, least=2 * radius + 1.5)

        opened = f"{clock(at)} {word}"
        return Entry(
            head(opened), head(tongue.continued.format(a=opened)), tuple(self._row(row, indent, findings) for row in rows), after=5.0
        )

    def _row(self, row: Row, indent: float, findings: list[Finding]) -> FlowPart:
        size = self.sheet.size
        paras = [Para((amount(row.amount), kept(plain(row.name))), size, size, indent=5.0)]
        paras += [Para((plain(words),), size, size) for words in (row.days, row.where) if words]
        return self._part(paras, findings, indent=indent, about=row.about, after=1.5)

    def _medicine(self, order: Order, medicine: Medicine, findings: list[Finding]) -> Entry:
        size, tongue = self.sheet.size, self.words.tongue
        name = name_in(tongue, medicine, self.material)
        head = self._part([Para((bold(name),), size * 1.1, size)], findings, about=("name", self.person.person, order.id))
        again = self._part([Para((bold(tongue.continued.format(a=name)),), size, size)], findings)
        rows = [
            self._part([_para(said, size)], findings, about=said.about, after=0.8) for said in self.words.about_medicine(order, medicine)
        ]
        return Entry(head, again, tuple(rows), after=5.0)

    def _part(self, paras: Sequence[Para], findings: list[Finding], about: About = (), after: float = 0.0, indent: float = 0.0) -> FlowPart:
        block = measure(paras, self.frame.width - indent, self.setting)
        if isinstance(block, tuple):
            findings += block
            block = Block((), 0.0)
        return FlowPart(block, indent, about, after=after)


def _para(said: Sentence, size: float) -> Para:
    kinds = (given_bold, given) if said.given else (bold, plain)
    return Para((kinds[0 if said.loud else 1](said.text),), size, size, indent=5.0)

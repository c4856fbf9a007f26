"""A recall of lots, on paper: a sheet for the pharmacy with every card and person, and a notice for each home or person that has one.

A notice tells what is due from the recalled lots and what to do; it never asks anybody to open or alter a card. What is in the past is
listed as exposed. Comes in: the trace as values. Goes out: A4 pages and findings. Source: needs of a recall, from lot to cards, people,
cavities and dates to come; CV-9.2: a card whose cavities are all in the past counts nothing to come and is listed as exposed.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time
from fractions import Fraction

from dosewright.core.medicines.medicine import Medicine
from dosewright.core.paper.dates import clock, long_day, short_day
from dosewright.core.paper.drawn import Drawn, join, once
from dosewright.core.paper.finish import basis_of
from dosewright.core.paper.flow import Entry, Rows, entry_of, flow
from dosewright.core.paper.joints import BIND
from dosewright.core.paper.marks import fingerprint_words
from dosewright.core.paper.material import Pharmacy, Supplier
from dosewright.core.paper.medicine_words import named, sentence, total_words
from dosewright.core.paper.page import About, Page
from dosewright.core.paper.setting import Setting
from dosewright.core.paper.sheet import A4, Sheet, Strip, frame_strip, number_sheets, whose
from dosewright.core.paper.words import Para, bold, given, given_bold, plain
from dosewright.core.paper.zone_recount import Truth
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Fact, Finding
from dosewright.core.units.ids import CardNumber, Lot, SlotName
from dosewright.core.units.person import Person

__all__ = ["Recall", "RecalledCard", "RecalledDose", "draw_notices", "draw_recall", "recall_truth"]


@dataclass(frozen=True, slots=True)
class RecalledDose:
    """Units of a recalled lot in one cavity."""

    row: int
    column: int
    day: date
    time: time
    slot: SlotName
    amount: Fraction


@dataclass(frozen=True, slots=True)
class RecalledCard:
    """A card that holds, or held, units of the lot. `place`: the home's or the person's own name; `out`: it has left the pharmacy."""

    person: Person
    others: str
    place: str
    number: CardNumber
    stage: str
    out: bool
    basis: str
    doses: tuple[RecalledDose, ...]

    def coming(self, at: Moment) -> tuple[RecalledDose, ...]:
        """What is still to be taken from that moment on, in order of the clock."""
        return tuple(dose for dose in _in_order(self.doses) if Moment(dose.day, dose.time) >= at)

    def past(self, at: Moment) -> tuple[RecalledDose, ...]:
        """What was due before, of a card that has left: taken, unless it came back."""
        return tuple(dose for dose in _in_order(self.doses) if self.out and Moment(dose.day, dose.time) < at)


@dataclass(frozen=True, slots=True)
class Recall:
    """`lots` of one medicine are called back. `urgency` and `reason` as the maker or the authority says them."""

    medicine: Medicine
    lots: tuple[Lot, ...]
    urgency: str
    reason: str
    at: Moment
    made: datetime
    cards: tuple[RecalledCard, ...]


def draw_recall(recall: Recall, by: Supplier) -> tuple[tuple[Page, ...], tuple[Finding, ...]]:
    """The pharmacy's own sheet: every card, where it is, what is to come and who was exposed."""
    pharmacy, setting = by.pharmacy, Setting(by.fonts, by.country, {"person": by.pharmacy.name}, by.printer.dpi)
    return _draw(recall, pharmacy, setting, ("Recall", pharmacy.name, pharmacy.address), list(_for_pharmacy(recall, setting, by.country)))


def draw_notices(recall: Recall, by: Supplier) -> tuple[tuple[Page, ...], tuple[Finding, ...]]:
    """One notice for each place outside that has a card with doses to come, or people who were exposed: its own people only."""
    pages: list[Page] = []
    found: list[Finding] = []
    for place in sorted({card.place for card in recall.cards if card.out}):
        mine = tuple(card for card in recall.cards if card.out and card.place == place)
        own = Recall(recall.medicine, recall.lots, recall.urgency, recall.reason, recall.at, recall.made, mine)
        setting = Setting(by.fonts, by.country, {"person": place}, by.printer.dpi)
        entries = list(_for_place(own, by.pharmacy, setting, by.country))
        drawn, more = _draw(own, by.pharmacy, setting, ("Recall notice", place, ""), entries)
        pages += drawn
        found += more
    return tuple(pages), once(found)


def recall_truth(recall: Recall, *, notices: bool) -> Truth:
    """On the pharmacy's sheet each card with its counts; on the notices each dose to come, with its amount."""
    texts: dict[tuple[str, ...], str] = {}
    for card in recall.cards:
        ahead = [d for d in card.doses if (d.day, d.time) >= (recall.at.day, recall.at.time)]
        if notices:
            for dose in ahead if card.out else ():
                about = ("recalled", card.number, dose.day.isoformat(), str(dose.slot), str(dose.row), str(dose.column))
                texts[about] = f"{short_day(dose.day)}, {clock(dose.time)} {dose.slot}: {total_words(recall.medicine, dose.amount)}"
        else:
            units = sum((dose.amount for dose in ahead), Fraction())
            gone = sum((dose.amount for dose in card.doses), Fraction()) - units if card.out else Fraction()
            said = f"To come: {total_words(recall.medicine, units)} in {_cavities(len(ahead))}." if ahead else "To come: nothing."
            said += f" Exposed: {total_words(recall.medicine, gone)} in {_cavities(len(card.doses) - len(ahead))}." if gone else ""
            texts["counts", card.person.id, card.number] = said
    return Truth(texts)


def _cavities(many: int) -> str:
    return f"{many} {'cavity' if many == 1 else 'cavities'}"


def _in_order(doses: Sequence[RecalledDose]) -> list[RecalledDose]:
    return sorted(doses, key=lambda dose: (dose.day, dose.time, dose.row, dose.column))


def _draw(
    recall: Recall, pharmacy: Pharmacy, setting: Setting, names: tuple[str, str, str], entries: list[Entry | tuple[Finding, ...]]
) -> tuple[tuple[Page, ...], tuple[Finding, ...]]:
    title, name, others = names
    plans = fingerprint_words(basis_of(card.basis for card in recall.cards))
    frame = frame_strip(Sheet(title, "", A4), Strip(whose(name, others), plans, pharmacy, recall.made), setting)
    found = [finding for entry in entries if isinstance(entry, tuple) for finding in entry]
    pages = flow([entry for entry in entries if isinstance(entry, Entry)], frame.room)
    about: dict[str, Fact] = {"person": name, "sheet": "recall"}
    drawn: list[Drawn] = [join((frame.edges, page)) for page in pages]
    return number_sheets(drawn, frame, A4, setting.fonts, about), once((*frame.edges.findings, *found))


def _for_pharmacy(recall: Recall, setting: Setting, country: str) -> Iterator[Entry | tuple[Finding, ...]]:
    ahead = [(card, card.coming(recall.at)) for card in recall.cards]
    units = sum((dose.amount for _, doses in ahead for dose in doses), Fraction())
    people, cards = len({card.person.id for card, doses in ahead if doses}), sum(bool(doses) for _, doses in ahead)
    yield _entry(setting, (_lead(recall, country, "Recall of"), *_why(recall)))
    yield _entry(
        setting,
        (
            Para((bold(f"To come: {total_words(recall.medicine, units)}, cards: {cards}, people: {people}."),), 13.0, 10.0),
            Para((plain("Take what is in stock of these lots out of use, and mark it. Stop filling with it now."),), 11.0, 9.0),
            Para((plain("Cards that are here: do not release them. Take the units out to waste, or fill the card afresh."),), 11.0, 9.0),
            Para(
                (plain("Cards that are out: call, send the notice, bring what is right, fetch the card. Nobody misses a dose."),), 11.0, 9.0
            ),
            Para((plain("Tell the prescriber of everybody exposed, as the recall asks."),), 11.0, 9.0),
        ),
    )
    for card in sorted(recall.cards, key=lambda card: (not card.out, card.place, card.person.name.casefold(), card.number)):
        yield _pharmacy_card(card, recall, setting)
    yield _entry(setting, tuple(Para((plain(what), given("____________________________")), 11.0, 9.0, after=2.0) for what in _SIGNED))


_SIGNED = ("Stock set aside by", "Everybody told by, at", "All cards accounted for (pharmacist)")


def _pharmacy_card(card: RecalledCard, recall: Recall, setting: Setting) -> Entry | tuple[Finding, ...]:
    ahead, gone = card.coming(recall.at), card.past(recall.at)
    said = f"To come: {_amount(ahead, recall)}." if ahead else "To come: nothing."
    said += f" Exposed: {_amount(gone, recall)}." if gone else ""
    more = ", ".join(part for part in (card.others, card.place if card.place != card.person.name else "") if part)
    who = (given_bold(f"{card.person.name},"), given(more)) if more else (given_bold(card.person.name),)
    number = (plain("card"), given_bold(card.number), plain(f"{card.stage}."))
    days = sentence(_days(ahead)) if ahead else ""
    rows: list[tuple[Sequence[Para], About]] = [((Para((plain(said),), 11.0, 9.0),), ("counts", card.person.id, card.number))]
    rows += [((Para((plain(days), plain("Fetched, set aside, by"), given("______________")), 10.0, 8.0),), ())] if ahead else []
    return _entry(setting, (Para(who, 11.0, 9.0), Para(number, 10.0, 8.0)), rows)


def _amount(doses: Sequence[RecalledDose], recall: Recall) -> str:
    return f"{total_words(recall.medicine, sum((dose.amount for dose in doses), Fraction()))} in {_cavities(len(doses))}"


def _for_place(recall: Recall, pharmacy: Pharmacy, setting: Setting, country: str) -> Iterator[Entry | tuple[Finding, ...]]:
    coming = [card for card in recall.cards if card.coming(recall.at)]
    yield _entry(setting, (_lead(recall, country, "Recalled:"), *_why(recall)))
    phone = ", ".join(part for part in (pharmacy.name, pharmacy.phone) if part)
    steps = (
        "Give nothing more from the cards that are named here, from now on.",
        "Leave them closed. Do not open them, take anything out, or write on them.",
        "Put them where nobody uses them. We bring what is right, and fetch them.",
        "Nobody should miss a dose: call us now, before the next dosing time.",
    )
    todo = [Para((bold(f"{n}."), plain(step)), 13.0, 11.0, indent=6.0, after=0.8) for n, step in enumerate(steps, start=1)]
    call = Para((bold("Call:"), given_bold(phone.replace(" ", BIND))), 14.0, 12.0)
    yield _entry(setting, (*(todo if coming else [Para((plain("No card at your place has any of it left to take."),), 13.0, 11.0)]), call))
    for card in coming:
        whose = (given_bold(f"{card.person.name},"), given(f"{card.others}:")) if card.others else (given_bold(f"{card.person.name}:"),)
        who = Para((*whose, plain("card"), given_bold(card.number)), 13.0, 10.0)
        rows = [((Para((plain(_dose(dose, recall)),), 11.0, 9.0),), _about(card, dose)) for dose in card.coming(recall.at)]
        yield _entry(setting, (who, Para((plain("Do not give what is due from this card at:"),), 10.0, 9.0)), rows)
    exposed = [card for card in recall.cards if card.past(recall.at)]
    if exposed:
        yield _entry(setting, (Para((bold("May have taken some of it already:"),), 12.0, 10.0), *_exposed(exposed, recall)))
    if not coming:
        return
    slip = ("Cards set aside, how many", "Name in capitals, and signature", "Date and time")
    yield _entry(setting, tuple(Para((plain(what), given("____________________________")), 11.0, 9.0, after=2.0) for what in slip))


def _exposed(cards: Sequence[RecalledCard], recall: Recall) -> Iterator[Para]:
    for card in cards:
        past = card.past(recall.at)
        days = (
            f"from {short_day(past[0].day)} to {short_day(past[-1].day)}."
            if past[0].day != past[-1].day
            else f"on {short_day(past[0].day)}."
        )
        yield Para((given_bold(card.person.name), plain(days)), 11.0, 9.0)
    yield Para((plain("If any of them is unwell, call a doctor now, and tell us."),), 11.0, 9.0)


def _days(doses: Sequence[RecalledDose]) -> str:
    """ "from Mon 2 Mar to Thu 5 Mar.", "on Mon 2 Mar."."""
    first, last = short_day(doses[0].day), short_day(doses[-1].day)
    return f"on {first}." if first == last else f"from {first} to {last}."


def _dose(dose: RecalledDose, recall: Recall) -> str:
    return f"{short_day(dose.day)}, {clock(dose.time)} {dose.slot}: {total_words(recall.medicine, dose.amount)}"


def _about(card: RecalledCard, dose: RecalledDose) -> tuple[str, ...]:
    return ("recalled", card.number, dose.day.isoformat(), str(dose.slot), str(dose.row), str(dose.column))


def _lead(recall: Recall, country: str, verb: str) -> Para:
    lots = f"lot {recall.lots[0]}" if len(recall.lots) == 1 else f"lots {', '.join(recall.lots)}"
    return Para((bold(verb), bold(f"{named(recall.medicine, country)},"), given_bold(f"{lots}.")), 16.0, 12.0, after=1.0)


def _why(recall: Recall) -> tuple[Para, ...]:
    when = f"{clock(recall.at.time)}, {long_day(recall.at.day)}"
    return (
        *((Para((given_bold(recall.urgency),), 13.0, 10.0),) if recall.urgency else ()),
        *((Para((given(recall.reason),), 11.0, 9.0),) if recall.reason else ()),
        Para((plain(f"As the cards stand at {when}."),), 10.0, 8.0),
    )


def _entry(setting: Setting, head: Sequence[Para], rows: Rows = ()) -> Entry | tuple[Finding, ...]:
    return entry_of(head, rows, A4[0] - 20.0, setting)

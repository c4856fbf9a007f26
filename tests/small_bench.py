"""A pharmacy in small, for tests that need the store: one person, two medicines (one of them in halves), one week, one 7×4 card.

Every step goes through the actions, as at the bench. Builders have dull defaults; a test changes what it is about.
"""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

from django.db import transaction
from tests.bench_fixtures import MONDAY as MOMENT
from tests.bench_fixtures import on

from dosewright.actions.check_card import OwnCheck, check_card
from dosewright.actions.confirm_reading import confirm_reading
from dosewright.actions.finish_filling import finish_filling
from dosewright.actions.hand_over_card import hand_over_card
from dosewright.actions.outcome import Outcome
from dosewright.actions.place_medicine import Placement, place_medicine
from dosewright.actions.plan_set import plan_set
from dosewright.actions.print_set import print_set
from dosewright.actions.receive_medicines import receive_medicines
from dosewright.actions.receive_orders import receive_orders
from dosewright.actions.receive_stock import receive_stock
from dosewright.actions.release_card import release_card
from dosewright.actions.seal_card import seal_card
from dosewright.actions.set_up_pharmacy import set_up_pharmacy
from dosewright.actions.shipped_rules import load_shipped_rules
from dosewright.core.checking.turn import Turn
from dosewright.core.custody.confirming import Confirmation
from dosewright.core.custody.event import Role
from dosewright.core.custody.near_miss import NearMissKind
from dosewright.core.custody.planning import PlanAsk
from dosewright.core.custody.stage import Stage
from dosewright.core.paper.say import say
from dosewright.core.supply.movement import Batch
from dosewright.core.supply.placement import Cell
from dosewright.core.supply.scanning import Proof
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE, Timetable
from dosewright.core.units.ids import CardNumber, Gtin, HomeId, Lot, MedicineCode, OrderId, PersonId
from dosewright.store.cards import StoredCard, load_card, load_set
from dosewright.store.ledger import append_entry
from dosewright.store.near_misses import StoredNearMiss, save_near_miss, save_turn
from dosewright.store.people import load_person, save_home, save_person
from dosewright.store.pharmacy import StoredPharmacy

MONDAY = date(2026, 3, 2)
PERSON = PersonId("p1")
BISOPROLOL, METFORMIN = MedicineCode("bisoprolol-5"), MedicineCode("metformin-500")
GTINS = {BISOPROLOL: Gtin("06291041500213"), METFORMIN: Gtin("05012345678900")}
LOTS = {BISOPROLOL: Lot("LOT42A"), METFORMIN: Lot("K2207")}
EXPIRY = date(2027, 6, 30)

MEDICINES = b"""code,name,strength,form,shape,length_mm,width_mm,thickness_mm,colour,mark,maker,gtin,pack_size,flags,cautions
bisoprolol-5,bisoprolol,5 mg,tablet,biconvex,8,8,3,white,B 5,Aldermoor,06291041500213,28,,
metformin-500,metformin,500 mg,tablet,oval,17,8,6,white,M 5,Aldermoor,05012345678900,28,,
ramipril-5,ramipril,5 mg,capsule,capsule,14,5,5,red and white,R 5,Aldermoor,,28,,
"""
HEADER = "person,name,born,home,room,order,medicine,directions,start,stop,prescriber,rx_no\n"
ORDERS = {
    "RX1": "p1,Wilhelmina Okonedo-Hart,1939-02-04,,,RX1,bisoprolol-5,Take 1 tablet in the morning,2026-03-02,,Dr A. Example,1001\n",
    "RX2": "p1,Wilhelmina Okonedo-Hart,1939-02-04,,,RX2,metformin-500,Take half a tablet in the evening,2026-03-02,,Dr A. Example,1002\n",
}

NEEDED = ORDERS["RX2"].replace("Take half a tablet in the evening", "Take 1 tablet up to 3 times a day when needed")


def must(outcome: Outcome) -> Outcome:
    """The action was done; a test that builds on it must not go on otherwise."""
    assert outcome.done, outcome.findings
    return outcome


def codes(outcome: Outcome) -> set[str]:
    """Codes of everything found; each finding has a sentence, and the sentence has all it speaks of."""
    return {finding.code for finding in outcome.findings if say(finding)}


def refused(outcome: Outcome) -> set[str]:
    """Codes of what kept the action from being done."""
    assert not outcome.done
    return codes(outcome)


def opened(profile: str = "uk") -> None:
    """The pharmacy with its catalogue, and a hundred units of each medicine but the last."""
    set_up(STANDARD_TIMETABLE, profile)
    must(receive_medicines("medicines.csv", on(Role.MANAGER), MEDICINES))
    for medicine in (BISOPROLOL, METFORMIN):
        must(stocked(medicine))


def set_up(timetable: Timetable, profile: str = "uk", *, as_needed_in_card: bool = False, counted_percent: int = 100) -> Outcome:
    """The pharmacy with the rules that ship and these dosing times."""
    texts = load_shipped_rules(profile)
    texts = replace(
        texts, profile=texts.profile.replace("counted_percent = { value = 100", f"counted_percent = {{ value = {counted_percent}")
    )
    if as_needed_in_card:
        allowed = texts.profile.replace("as_needed_in_card = { value = false", "as_needed_in_card = { value = true")
        texts = replace(texts, profile=allowed)
    pharmacy = StoredPharmacy("Tern Street Pharmacy", "33 Tern Street, Ternmouth", "01632 960 471", "9990471", "GB", "salt", texts.sha256)
    return must(set_up_pharmacy("Tern Street Pharmacy", on(Role.MANAGER), pharmacy, texts, timetable))


def opened_for_as_needed() -> None:
    """The same under a profile that lets as-needed medicines into cards of their own."""
    set_up(STANDARD_TIMETABLE, as_needed_in_card=True)
    must(receive_medicines("medicines.csv", on(Role.MANAGER), MEDICINES))
    for medicine in (BISOPROLOL, METFORMIN):
        must(stocked(medicine))


def as_needed_planned() -> tuple[int, CardNumber]:
    """A card of what is due and one of what is taken when needed, printed: the set, and the second card."""
    opened_for_as_needed()
    ordered(ORDERS["RX1"], NEEDED)
    set_id = planned()
    printed(set_id)
    return set_id, load_set(set_id).cards[1].number


def as_needed_filled() -> CardNumber:
    """Both cards full; the one of what is taken when needed."""
    set_id, needed = as_needed_planned()
    for medicine in (BISOPROLOL, METFORMIN):
        must(place_medicine(set_id, on(minutes=5), placement(medicine)))
    for card in load_set(set_id).cards:
        must(finish_filling(card.number, on(minutes=6)))
    return needed


def stocked(medicine: MedicineCode, lot: str = "", expiry: date = EXPIRY, amount: int = 100) -> Outcome:
    """Units of a lot come in, scanned."""
    batch = Batch(expiry, Lot(lot) if lot else LOTS[medicine], medicine)
    return receive_stock(medicine, on(), batch, Fraction(amount), Proof(GTINS[medicine], medicine))


def ordered(*lines: str, said: Confirmation | None = None) -> tuple[OrderId, ...]:
    """Orders come in and are confirmed by the pharmacist."""
    outcome = must(receive_orders("orders.csv", on(), (HEADER + "".join(lines or ORDERS.values())).encode()))
    orders = tuple(OrderId(made) for made in outcome.made[1:])
    for order in orders:
        must(confirm_reading(order, on(Role.PHARMACIST), said or Confirmation()))
    return orders


def planned(first: date = MONDAY, days: int = 7) -> int:
    """A set; its id."""
    return int(must(plan_set(PERSON, on(), PlanAsk(first, days))).made[0])


def printed(set_id: int, reason: str = "") -> CardNumber:
    """The set's paper is made, once more where there is a reason; its first card."""
    must(print_set(set_id, on(), reason=reason))
    return load_set(set_id).cards[0].number


def placement(medicine: MedicineCode, lot: str = "", expiry: date = EXPIRY, cells: Mapping[Cell, Fraction] | None = None) -> Placement:
    """What somebody laid, scanned."""
    known = Lot(lot) if lot else LOTS[medicine]
    return Placement(medicine, known, expiry, Proof(GTINS[medicine], medicine), cells)


def ready_to_fill() -> tuple[int, CardNumber]:
    """Opened, ordered, planned, printed: the set and its one card."""
    opened()
    ordered()
    set_id = planned()
    return set_id, printed(set_id)


def room_for_fewer_times() -> int:
    """Three dosing times a day where two would do, on a card that is planned; the set."""
    opened()
    twice = ORDERS["RX1"].replace("in the morning", "twice a day")
    ordered(twice, ORDERS["RX2"].replace("in the evening", "at bedtime"))
    return planned()


def two_cards_where_one_could_do() -> int:
    """Two dosing times a day for four weeks: two cards, and with one dosing time it would be one; the set."""
    opened()
    ordered()
    return planned(days=28)


def filled(set_and_card: tuple[int, CardNumber] | None = None) -> CardNumber:
    """A full card, filled by "technician one"."""
    set_id, card = set_and_card or ready_to_fill()
    for medicine in (BISOPROLOL, METFORMIN):
        must(place_medicine(set_id, on(minutes=5), placement(medicine)))
    must(finish_filling(card, on(minutes=6)))
    return card


def ready_for_a_choice() -> tuple[int, CardNumber]:
    """The same card under a profile that lets a checker count half of the cavities that nothing singles out: set and card."""
    set_up(STANDARD_TIMETABLE, counted_percent=50)
    must(receive_medicines("medicines.csv", on(Role.MANAGER), MEDICINES))
    for medicine in (BISOPROLOL, METFORMIN):
        must(stocked(medicine))
    ordered()
    set_id = planned()
    return set_id, printed(set_id)


def filled_for_a_choice() -> CardNumber:
    """That card, full: its seven evenings hold halves, its seven mornings whole tablets."""
    return filled(ready_for_a_choice())


def counts(card: CardNumber) -> dict[tuple[int, int], Fraction]:
    """What a careful checker counts in a card filled right."""
    return {(cavity.row, cavity.column): cavity.asked for cavity in load_card(card).filled.cavities}


def checked() -> CardNumber:
    """A card accepted by "checker one"."""
    card = filled()
    must(check_card(card, on(Role.CHECKER, minutes=20), OwnCheck(counts(card))))
    return card


def sealed() -> CardNumber:
    """A closed card."""
    card = checked()
    must(seal_card(card, on(minutes=21)))
    return card


def released() -> CardNumber:
    """A card that may leave."""
    card = sealed()
    must(release_card(card, on(Role.PHARMACIST, minutes=22)))
    return card


def released_for_a_home() -> CardNumber:
    """A card that may leave, of somebody who lives at The Lindens."""
    card = released()
    save_home(HomeId("lindens"), "The Lindens", address="28 Linden Avenue, Ternmouth TM4 8ZZ")
    save_person(replace(load_person(PERSON), home=HomeId("lindens"), room="12"))
    return card


def handed_over() -> CardNumber:
    """A card that has left."""
    card = released()
    must(hand_over_card(card, on(minutes=23), "Wilhelmina Okonedo-Hart"))
    return card


def now(card: CardNumber) -> StoredCard:
    """The card as its events say it is."""
    return load_card(card)


@transaction.atomic
def half_a_year_of_checks() -> CardNumber:
    """A checked card, and the outcomes of 26 weeks of checks before it, written straight into the ledger: for the charts only."""
    start = MOMENT - timedelta(weeks=26)
    for week in range(26):
        back = 9 if week == 11 else (week * 7) % 4
        for at in range(60 + week % 5):
            deed = "sent back" if (at % 20 == 0 and at // 20 < back) or (week == 11 and 0 < at < 7) else "checked"
            when = replace(on(Role.CHECKER), at=start + timedelta(weeks=week, hours=at))
            entry = append_entry(when, deed, ("card", "000000000000000"), {})
            if deed == "sent back":
                kind = NearMissKind.MISSING if at else NearMissKind.BADLY_SPLIT
                save_near_miss(StoredNearMiss(when.at, CardNumber(""), Stage.FILLED, kind, "", "half a tablet was a crumb"), entry)
    save_turn((start + timedelta(weeks=11)).date(), "the new splitter came", Turn.LEFT_OUT, on(Role.MANAGER))
    save_turn((start + timedelta(weeks=18)).date(), "metformin from another supplier", Turn.ANEW, on(Role.MANAGER))
    return checked()


MORE_MEDICINES = b"""code,name,strength,form,shape,length_mm,width_mm,thickness_mm,colour,mark,maker,gtin,pack_size,flags,cautions
bisoprolol-2.5,bisoprolol,2.5 mg,tablet,biconvex,6,6,3,yellow,B 2,Aldermoor,,28,,
paracetamol-500,paracetamol,500 mg,tablet,oval,17,7,5,white,P 5,Aldermoor,,100,,
"""
AT_HOME = "p1,Wilhelmina Okonedo-Hart,1939-02-04,,,"
IN_THE_LINDENS = "p2,Arthur Bellweather,1941-05-06,The Lindens,4,"


def order_line(person: str, order: str, medicine: str, directions: str, start: str = "2026-03-02") -> str:
    """A row of an orders file."""
    return f'{person}{order},{medicine},"{directions}",{start},,Dr A. Example,{order}\n'


def waiting(*lines: str) -> tuple[OrderId, ...]:
    """Orders that came in and wait for the pharmacist."""
    outcome = must(receive_orders("waiting.csv", on(), (HEADER + "".join(lines)).encode()))
    return tuple(OrderId(made) for made in outcome.made[1:])


def asked() -> None:
    """Two people with orders that wait: one that replaces another, another strength of it, words with a question, more than is allowed."""
    opened()
    must(receive_medicines("more.csv", on(Role.MANAGER), MORE_MEDICINES))
    ordered(order_line(AT_HOME, "RX1", BISOPROLOL, "Take 1 tablet in the morning and 1 tablet at bedtime"))
    waiting(
        order_line(AT_HOME, "RX7", BISOPROLOL, "Take 1 tablet in the morning", "2026-03-10"),
        order_line(AT_HOME, "RX8", METFORMIN, "Take 1 tablet with dinner"),
        order_line(IN_THE_LINDENS, "RX10", METFORMIN, "Take 1 tablet with dinner"),
        order_line(IN_THE_LINDENS, "RX11", "paracetamol-500", "Take 3 tablets three times a day"),
    )


def three_of_a_home() -> None:
    """Three people of The Lindens, each with a tablet in the morning and a half in the evening, confirmed and not planned."""
    opened()
    save_home(HomeId("lindens"), "The Lindens", address="28 Linden Avenue, Ternmouth TM4 8ZZ")
    for number, name in enumerate(("Wilhelmina", "Ansel", "Marguerite"), start=1):
        for order in ("RX1", "RX2"):
            text = ORDERS[order].replace("p1,Wilhelmina", f"h{number},{name}").replace(f",{order},", f",{order}-{number},")
            ordered(text)
        save_person(replace(load_person(PersonId(f"h{number}")), home=HomeId("lindens"), room=str(number)))

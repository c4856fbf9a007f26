"""Round list, records for a month, manifest, recall and check sheet: what they say, and that none that says anything else is printed."""

import re
from collections.abc import Callable
from dataclasses import replace
from datetime import date, time, timedelta
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from tests.core.paper.home_sample import (
    HOME,
    MADE,
    MANIFEST,
    MONDAY,
    NEIGHBOUR,
    NEIGHBOUR_MATERIAL,
    RECALL,
    as_needed,
    daily,
    month_of,
    ordered,
)
from tests.core.paper.paper_sample import MATERIAL, PERSON, PHARMACY
from tests.core.paper.paper_strategies import materials
from tests.core.paper.sheet_reading import codes_of, pages_of, stops_of, text_of, twice_as_much

from dosewright.core.paper import check_sheet, dose_truth, due, manifest, recall, record_block, record_rows, round_list
from dosewright.core.paper.as_needed import lacking_limits, limit_words
from dosewright.core.paper.finish import Offered, basis_of
from dosewright.core.paper.material import Material, Supplier
from dosewright.core.paper.medicine_words import placed_words
from dosewright.core.paper.offer_sheets import (
    offer_check,
    offer_manifest,
    offer_month,
    offer_notices,
    offer_recall,
    offer_round,
)
from dosewright.core.paper.page import Shade
from dosewright.core.paper.round_list import RoundList
from dosewright.core.paper.say import say
from dosewright.core.regimen.dosage import Amount, Dosage, Range, Repeat, TimeUnit, Timing
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.finding import Severity
from dosewright.core.units.ids import CardNumber, OrderId, SlotName
from dosewright.core.units.quantity import Quantity, Unit

BY = Supplier(PHARMACY, MATERIAL.fonts, "GB")
ROUND = RoundList("The Lindens", MONDAY, MADE, HOME)
SLOW = settings(deadline=None, max_examples=3, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])


def manifested(which: manifest.Manifest = MANIFEST) -> Offered:
    return offer_manifest(which, BY)


def recalled(which: recall.Recall = RECALL) -> Offered:
    return offer_recall(which, BY)


def noticed(which: recall.Recall = RECALL) -> Offered:
    return offer_notices(which, BY)


EVERY: dict[str, Callable[[], Offered]] = {
    "round": lambda: offer_round(ROUND),
    "month": lambda: offer_month([month_of(NEIGHBOUR_MATERIAL)], "March 2026", MADE),
    "manifest": manifested,
    "recall": recalled,
    "notices": noticed,
    "check": lambda: offer_check(MATERIAL, MADE),
}


@pytest.mark.parametrize("name", EVERY)
def test_each_sheet_has_fingerprint_page_of_pages_when_it_was_made_and_the_caution(name: str) -> None:
    offered = EVERY[name]()
    assert [say(finding) for finding in offered.findings] == []
    assert offered.pages == len(pages_of(offered)) > 0
    for text in pages_of(offered):
        assert re.search(r"plan [0-9a-f]{4} [0-9a-f]{4} [0-9a-f]{4} [0-9a-f]{4}\.", text)
        assert re.search(r"Made \d+ \w+ 2026, \d\d:\d\d\.", text)
        assert re.search(r"page \d+ of \d+", text)
        assert "Does not replace professional judgement" in text


@pytest.mark.parametrize("name", EVERY)
def test_each_sheet_has_the_same_bytes_each_time(name: str) -> None:
    """R18."""
    assert EVERY[name]() == EVERY[name]()


# The round list.


def test_a_round_begins_a_sheet_for_each_dosing_time_and_goes_from_room_to_room() -> None:
    morning, noon, evening, bedtime, needed = pages_of(offer_round(ROUND))
    assert "When needed" in needed
    assert morning.index("Room 3") < morning.index("Room 12")
    assert "Card 204175531099218 1 tablet bisoprolol 2.5 mg" in morning
    assert "1 capsule omeprazole 20 mg gastro-resistant" in morning
    assert "2 tablets paracetamol 500 mg" in noon
    assert "3 tablets warfarin 1 mg" in evening
    assert "1 and a half tablets quetiapine 50 mg modified-release" in bedtime


def test_whoever_has_nothing_due_is_named_so_that_nobody_is_missed_in_silence() -> None:
    assert "Nothing due at 12:00: Benedikt Strand." in pages_of(offer_round(ROUND))[1]


def test_only_the_dosing_times_that_were_asked_for_are_listed() -> None:
    only, needed = pages_of(offer_round(replace(ROUND, slots=(SlotName("noon"),))))
    assert "12:00 noon" in only
    assert "When needed" in needed  # whatever the time of day


def test_a_round_says_what_may_be_given_when_needed_and_how_much_at_most() -> None:
    morning, *_, needed = pages_of(offer_round(ROUND))
    assert "When needed, see the last sheet: salbutamol 100 micrograms inhaler" in morning
    assert "salbutamol 100 micrograms inhaler, from its own pack." in needed
    assert "At most 8 puffs in 24 hours. At least 4 hours between doses." in needed


def test_a_round_that_nobody_could_be_set_on_is_refused_with_the_text_that_is_too_long() -> None:
    """A name of one word wider than its place: it stopped with an error, not with a finding."""
    long = "a" * 70
    medicines = {code: replace(one, name=long) for code, one in MATERIAL.request.medicines.items()}
    offered = offer_round(
        RoundList("The Lindens", MONDAY, MADE, (replace(MATERIAL, request=replace(MATERIAL.request, medicines=medicines)),))
    )
    assert (offered.pdf, codes_of(offered)) == (b"", {"paper.text-does-not-fit"})


def test_a_dose_alongside_says_that_it_is_not_in_the_card() -> None:
    both = ordered(daily("1", "MORN", "biso"), daily("2", "EVE", "warf", "o-n3"))
    said = text_of(offer_round(replace(ROUND, people=(both,))))
    assert "From its own pack 2 tablets warfarin 1 mg" in said


def test_somebody_whose_card_contradicts_the_orders_is_not_on_the_round_and_is_named_on_it() -> None:
    doubled = ordered(daily("2", "MORN", "biso"))
    offered = offer_round(replace(ROUND, people=(MATERIAL, doubled)))
    assert offered.left_out == (NEIGHBOUR.id,)
    assert stops_of(offered) == {"paper.card-differs-from-orders"}
    assert "Not on this list, ask the pharmacy before giving anything: Benedikt Strand." in text_of(offered)
    assert "1 tablet bisoprolol" not in text_of(offered)


ROUND_BREAKS = {
    "a dose of twice as much": ("placed_words", twice_as_much(placed_words)),
    "another medicine": ("named_short", lambda medicine, country: "digoxin 62.5 micrograms"),
    "a dose is forgotten": ("due_of", lambda *args: tuple(one for one in due.due_of(*args) if one.order.id != "o-metf")),
    "a dose is there twice": ("due_of", lambda *args: (*due.due_of(*args), *due.due_of(*args)[:1])),
    "another dosing time": ("due_of", lambda *args: tuple(replace(one, slot=SlotName("noon")) for one in due.due_of(*args))),
    "another card": ("due_of", lambda *args: tuple(replace(one, card=CardNumber("999")) for one in due.due_of(*args))),
}


@pytest.mark.parametrize("how", ROUND_BREAKS)
def test_a_round_list_that_says_anything_else_is_not_printed(how: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(round_list, *ROUND_BREAKS[how])
    offered = offer_round(ROUND)
    assert stops_of(offered) & {"paper.sheet-differs", "paper.sheet-lacks", "paper.sheet-has-more"}
    assert offered.pdf == b""


# Records for any month.


def test_a_record_of_a_month_goes_on_by_the_orders_where_no_card_is_planned_yet() -> None:
    """Boxes equal the card's cavities where there is a card, and the orders' doses on the other days."""
    from dosewright.core.paper.record import draw_record  # noqa: PLC0415

    material = month_of(NEIGHBOUR_MATERIAL)
    pages, _ = draw_record(material.plan.people[0], material, MADE)
    open_days = {
        zone.about[-1]
        for page in pages
        for zone in page.zones
        for place in page.places
        if place.rect == zone.rect and place.shade is Shade.NONE
    }
    assert open_days == {(date(2026, 3, 1) + timedelta(days=n)).isoformat() for n in range(31)}


MONTHS = [(date(2026, 2, 1), 28), (date(2028, 2, 1), 29), (date(2026, 4, 1), 30), (date(2026, 12, 1), 31)]


@pytest.mark.parametrize(("first", "days"), MONTHS)
def test_any_month_has_a_box_for_each_of_its_days(first: date, days: int) -> None:
    only = ordered(daily("1", "EVE", "warf", "o-n3"), daily("1", "MORN", "biso"))
    offered = offer_month([month_of(only, first, days)], "one", MADE)
    assert stops_of(offered) == set()
    assert offered.pages == 1


def test_codes_with_their_meaning_signatures_and_second_signatures_are_on_the_record() -> None:
    said = text_of(EVERY["month"]())
    for words in ("R refused, S asleep, H in hospital", "Who signs here:", "a second person compares each with the prescription"):
        assert words in said


def test_an_as_needed_order_says_its_maximum_and_interval_or_has_a_place_for_them_and_a_note() -> None:
    """NICE SC1; the record's as-needed lines have a maximum in 24 hours and a minimum interval."""
    assert "At most 8 puffs in 24 hours. At least 4 hours between doses." in text_of(EVERY["month"]())
    unsaid = ordered(daily("1", "MORN", "biso"), as_needed("", ""))
    offered = offer_month([month_of(unsaid)], "March 2026", MADE)
    assert codes_of(offered) == {"paper.as-needed-limit-not-stated"}
    assert "in 24 hours: not stated, the prescriber says." in text_of(offered)
    assert offered.pdf


def one(quantity: Quantity | None = None, **more: Any) -> Dosage:
    amount = Amount(range=Range(Quantity(Fraction(1), Unit("tablet")), Quantity(Fraction(2), Unit("tablet"))))
    return Dosage(as_needed=True, amounts=(Amount(quantity=quantity) if quantity else amount,), **more)


LIMITS = [  # structure → words; worked by hand
    pytest.param(as_needed().dosages, "At most 8 puffs in 24 hours. At least 4 hours between doses.", id="both stated"),
    pytest.param(
        (one(timing=Timing(repeat=Repeat(frequency=1, frequency_max=4, period=Fraction(1), period_unit=TimeUnit.DAY))),),
        "At most 8 tablets in 24 hours.",
        id="1 or 2 up to four times a day: eight",
    ),
    pytest.param(
        (one(timing=Timing(repeat=Repeat(frequency=1, period=Fraction(4), period_max=Fraction(6), period_unit=TimeUnit.HOUR))),),
        "At least 4 hours between doses.",
        id="every 4 to 6 hours: the shorter",
    ),
    pytest.param(
        (one(timing=Timing(repeat=Repeat(frequency=1, period=Fraction(90), period_unit=TimeUnit.MINUTE))),),
        "At least 1.5 hours between doses.",
        id="minutes",
    ),
]


@pytest.mark.parametrize(("dosages", "words"), LIMITS)
def test_limits_are_worked_out_from_the_structure(dosages: tuple[Dosage, ...], words: str) -> None:
    assert words in limit_words(dosages)


def test_limits_that_differ_between_dosages_count_as_not_stated() -> None:
    assert lacking_limits((*as_needed("8", "4").dosages, *as_needed("6", "6").dosages)) == (
        "the most in 24 hours",
        "the least time between doses",
    )


RECORD_BREAKS = {
    "a dose of twice as much": (record_block, "placed_words", twice_as_much(placed_words)),
    "a day that is due is hatched": (record_block, "_shade", lambda day, row: Shade.HATCHED),
    "a day that is not due is open": (record_block, "_shade", lambda day, row: Shade.NONE),
    "another clock time": (record_block, "clock", lambda at: "09:00"),
    "a row is forgotten": (record_rows, "due_of", lambda *args: due.due_of(*args)[3:]),
}


@pytest.mark.parametrize("how", RECORD_BREAKS)
def test_a_record_that_says_anything_else_is_not_printed(how: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(*RECORD_BREAKS[how])
    weekly = replace(NEIGHBOUR_MATERIAL, request=replace(NEIGHBOUR_MATERIAL.request, first=date(2026, 2, 20), days=17))
    late = tuple(replace(order, since=Moment(MONDAY)) if order.id == "o-n1" else order for order in weekly.request.orders)
    offered = offer_month([replace(weekly, request=replace(weekly.request, orders=late))], "one", MADE)
    assert stops_of(offered) & {"paper.sheet-differs", "paper.sheet-lacks", "paper.sheet-has-more", "paper.box-differs"}
    assert offered.pdf == b""


def test_a_day_that_is_not_due_is_never_open(monkeypatch: pytest.MonkeyPatch) -> None:
    """Looked at in the finished PDF as a picture: every second day, with the renderer broken so that all boxes are open."""
    every_other = daily("1", "EVE", "warf", "o-n3")
    twice = replace(
        every_other.dosages[0], timing=Timing(repeat=Repeat(frequency=1, period=Fraction(2), period_unit=TimeUnit.DAY, when=("EVE",)))
    )
    material = month_of(ordered(daily("1", "MORN", "biso"), replace(every_other, dosages=(twice,))))
    assert stops_of(offer_month([material], "one", MADE)) == set()
    monkeypatch.setattr(record_block, "_shade", lambda day, row: Shade.NONE)
    assert stops_of(offer_month([material], "one", MADE)) == {"paper.box-differs"}


def test_a_record_is_not_made_where_the_card_holds_otherwise_than_the_orders_say() -> None:
    doubled = ordered(daily("2", "MORN", "biso"))
    offered = offer_month([month_of(doubled), month_of(NEIGHBOUR_MATERIAL)], "March 2026", MADE)
    assert stops_of(offered) == {"paper.card-differs-from-orders"}
    assert offered.left_out == (NEIGHBOUR.id,)
    assert sum(finding.severity is Severity.STOP for finding in offered.findings) == 7
    assert offered.pdf


def test_a_card_that_waits_is_given_as_it_lies_and_what_is_new_begins_after_it() -> None:
    """The dose is two from now on, and warfarin is new: a pharmacist has decided that both begin with the next card."""
    changed = month_of(ordered(daily("2", "MORN", "biso"), daily("3", "EVE", "warf", "o-n9")))
    (card,) = changed.plan.people[0].scheduled
    waits = replace(changed, waiting=frozenset({card.number}))
    on_its_days = offer_round(replace(ROUND, people=(month_of(waits, MONDAY, 1),)))
    assert (stops_of(on_its_days), "paper.card-waits" in codes_of(on_its_days)) == (set(), True)
    assert "1 tablet bisoprolol" in text_of(on_its_days)
    assert "warfarin" not in text_of(on_its_days)
    assert "as it lies to Sunday 8 March 2026: a pharmacist has decided that the change waits until then." in text_of(on_its_days)
    assert "as it lies" not in text_of(offer_round(replace(ROUND, people=(MATERIAL,))))
    month = offer_month([waits], "March 2026", MADE)
    assert stops_of(month) == set()
    assert f"Card {card.number} goes on as it is to" in text_of(month)
    blocks = record_rows.record_blocks(waits.plan.people[0], waits)
    days = {(block.order.id, row.quantity.count): row.days for block in blocks for row in block.rows}
    for new in ((OrderId("o-n1"), Fraction(2)), (OrderId("o-n9"), Fraction(3))):
        assert card.last + timedelta(days=1) in days[new]
        assert not any(card.first <= day <= card.last for day in days[new])


def test_from_a_card_that_is_called_back_nothing_is_given_and_the_list_says_by_which_sheet() -> None:
    """Its doses for today are those of the orders, and would be given twice: once from it, once by the sheet."""
    other = ordered(daily("1", "MORN", "biso"))
    (card,) = other.plan.people[0].scheduled
    back = replace(other, called_back={card.number: ROUND.day})
    offered = offer_round(replace(ROUND, people=(MATERIAL, back)))
    assert offered.left_out == (NEIGHBOUR.id,)
    assert stops_of(offered) == {"paper.card-called-back"}
    assert "Nothing from the card; give by the sheet “Until the card is right”: Benedikt Strand." in text_of(offered)
    assert "ask the pharmacy before giving anything" not in text_of(offered)
    assert str(card.number) not in text_of(offered)
    # until that day it is given from
    still = replace(other, called_back={card.number: ROUND.day + timedelta(days=1)})
    assert stops_of(offer_round(replace(ROUND, people=(MATERIAL, still)))) == set()


def test_directions_without_a_schedule_never_look_like_days_on_which_nothing_is_due() -> None:
    """The sample's orders are words only: its cards say which days of the week are due, and nothing says the days after."""
    assert stops_of(offer_month([month_of(MATERIAL)], "March 2026", MADE)) == {"paper.days-not-known"}


# The manifest.


def test_a_manifest_lists_cards_by_number_with_their_people_counts_and_what_is_not_coming() -> None:
    said = text_of(manifested())
    assert "TS-20417 Mon 2 Mar to Sun 8 Mar" in said
    assert "2 items not in a card" in said
    assert "2 cards and 2 other items for 2 people." in said
    assert "Not in this delivery: 310775531094410." in said
    assert "Received by (name in capitals)" in said


def test_a_manifest_names_no_medicine() -> None:
    said = text_of(manifested()).lower()
    assert [medicine.name for medicine in MATERIAL.request.medicines.values() if medicine.name in said] == []


MANIFEST_BREAKS = {
    "a card is left out": lambda parcel, most: iter((replace(parcel, cards=()),)),
    "a card is there twice": lambda parcel, most: iter((parcel, parcel)),
    "an item is left out": lambda parcel, most: iter((replace(parcel, alongside=0),)),
    "one item more": lambda parcel, most: iter((replace(parcel, alongside=parcel.alongside + 1),)),
    "another card's number": lambda parcel, most: iter((replace(parcel, cards=tuple(replace(c, number="1") for c in parcel.cards)),)),
}


@pytest.mark.parametrize("how", MANIFEST_BREAKS)
def test_a_manifest_that_says_anything_else_is_not_printed(how: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(manifest, "_parts", MANIFEST_BREAKS[how])
    assert stops_of(manifested()) & {"paper.sheet-differs", "paper.sheet-lacks", "paper.sheet-has-more"}
    assert manifested().pdf == b""


def test_a_parcel_longer_than_a_sheet_goes_on_on_the_next_with_the_name_again() -> None:
    cards = tuple(replace(MANIFEST.parcels[0].cards[0], number=f"2041755310{n:05d}") for n in range(60))  # type: ignore[arg-type]
    offered = manifested(replace(MANIFEST, parcels=(replace(MANIFEST.parcels[0], cards=cards),)))
    assert stops_of(offered) == set()
    listing = [page for page in pages_of(offered) if "20417553" in page]
    assert len(listing) > 1
    assert all("Wilhelmina" in page for page in listing)


# Recall.


def test_the_pharmacy_sees_every_card_with_what_is_to_come_and_who_was_exposed() -> None:
    """Half a tablet each morning from 2 to 8 March, recalled on the 5th at noon: three halves to come, four taken."""
    said = text_of(recalled())
    assert "To come: 5 and a half tablets, cards: 3, people: 3." in said
    assert "To come: 1 and a half tablets in 3 cavities. Exposed: 2 tablets in 4 cavities." in said
    assert "To come: 1 tablet in 1 cavity." in said


def test_a_card_whose_doses_are_all_past_counts_nothing_to_come_and_is_listed_as_exposed() -> None:
    """CV-9.2."""
    assert "Agnes Adeyemi, 4 Quay Lane card 310775531094410 in use. To come: nothing. Exposed: 1 tablet in 1 cavity." in text_of(recalled())


def test_of_a_line_filled_from_two_lots_only_the_recalled_units_still_to_come_count() -> None:
    """CV-9.1: 30 units of lot A over two a day; recalled on day 10, with 18 taken, 12 are to come, in the cavities of days 10 to 15."""
    doses = tuple(
        recall.RecalledDose(day + 1, column, MONDAY + timedelta(days=day), at, SlotName("x"), Fraction(1))
        for day in range(15)
        for column, at in ((1, time(8)), (2, time(18)))
    )
    card = replace(RECALL.cards[0], doses=doses)
    day_ten = Moment(MONDAY + timedelta(days=9))
    assert sum(dose.amount for dose in card.coming(day_ten)) == 12
    assert {(dose.day - MONDAY).days + 1 for dose in card.coming(day_ten)} == set(range(10, 16))
    assert sum(dose.amount for dose in card.past(day_ten)) == 18


def test_a_notice_names_its_own_people_only_and_asks_nobody_to_open_a_card() -> None:
    home, single = sorted(pages_of(noticed()), key=lambda page: "The Lindens" not in page)
    assert "Wilhelmina Okonedo-Hart" in home
    assert "Benedikt Strand" in home
    assert "Agnes" not in home
    assert "Lindens" not in single
    assert "Leave them closed. Do not open them" in home
    assert "Fri 6 Mar, 08:00 morning: half a tablet" in home
    assert "Tomasz Brandt" not in home + single  # that card has not left


RECALL_BREAKS = {
    "another amount": ("total_words", lambda medicine, count: "9 tablets"),
    "a dose to come is forgotten": ("_in_order", lambda doses: sorted(doses, key=lambda d: d.day)[:-1]),
    "another day": ("short_day", lambda day: "Mon 1 Jan"),
}


@pytest.mark.parametrize("how", RECALL_BREAKS)
def test_a_recall_that_says_anything_else_is_not_printed(how: str, monkeypatch: pytest.MonkeyPatch) -> None:
    truth = recall.recall_truth(RECALL, notices=True)
    monkeypatch.setattr("dosewright.core.paper.offer_sheets.recall_truth", lambda which, notices: truth)
    assert stops_of(noticed()) == set()
    monkeypatch.setattr(recall, *RECALL_BREAKS[how])
    assert stops_of(noticed()) & {"paper.sheet-differs", "paper.sheet-lacks", "paper.sheet-has-more"}
    assert noticed().pdf == b""


# The check sheet.


def test_the_checker_reads_orders_and_looks_first_and_finds_no_count_of_the_fillers_and_no_total() -> None:
    orders, more, card = pages_of(offer_check(MATERIAL, MADE))
    assert "bisoprolol 2.5 mg tablet Looks: Yellow, round, marked B. Take half a tablet in the morning." in orders
    assert "08:00 morning: half a tablet, every day" in orders
    assert "18:00 evening: 3 tablets, on Mon 2 Mar, Wed 4 Mar, Fri 6 Mar, Sun 8 Mar" in orders + more
    for page in (orders, more, card):
        assert not re.search(r"\b(56|28|14|21|3 and a half) (tablets|pieces)|Placed by|Fetch", page)
    assert "I did not fill this card." in card
    assert "Could be mistaken for: paracetamol 500 mg tablet" in orders


def test_there_is_a_place_for_the_own_count_of_every_cavity_also_of_those_that_are_empty() -> None:
    pages, _ = check_sheet.draw_check(MATERIAL.plan.people[0], MATERIAL, MADE)
    assert sum(place.rect.height > 15 for place in pages[-1].places) == 28


CHECK_BREAKS = {
    "a dose of twice as much": ("placed_words", twice_as_much(placed_words)),
    "a dose is forgotten": ("due_of", lambda *args: tuple(d for d in due.due_of(*args) if d.order.id != "o-warf")),
    "on other days": ("_which", lambda *args: "every day"),
    "other directions": ("directions_of", lambda *args: "Take 9 tablets."),
}


@pytest.mark.parametrize("how", CHECK_BREAKS)
def test_a_check_sheet_that_says_anything_else_is_not_printed(how: str, monkeypatch: pytest.MonkeyPatch) -> None:
    truth = check_sheet.check_truth(MATERIAL.plan.people[0], MATERIAL)
    monkeypatch.setattr("dosewright.core.paper.offer_sheets.check_truth", lambda *args: truth)
    assert stops_of(offer_check(MATERIAL, MADE)) == set()
    monkeypatch.setattr(check_sheet, *CHECK_BREAKS[how])
    assert stops_of(offer_check(MATERIAL, MADE)) & {"paper.sheet-differs", "paper.sheet-lacks", "paper.sheet-has-more"}
    assert offer_check(MATERIAL, MADE).pdf == b""


# For anybody.


@SLOW
@given(materials(people=2, most=4))
def test_for_any_people_and_medicines_round_record_and_check_are_printed_whole(material: Material) -> None:
    each = [replace(material, plan=replace(material.plan, people=(person,))) for person in material.plan.people]
    round_of_all = RoundList("The Lindens", MONDAY, MADE, tuple(each))
    offers = [offer_check(material, MADE), offer_month(each, "cycle", MADE), offer_round(round_of_all)]
    for offered in offers:
        assert [say(finding) for finding in offered.findings if finding.severity is not Severity.NOTE] == []
        assert offered.left_out == ()
    assert offers[1].pdf


def test_the_fingerprint_of_several_plans_is_theirs_in_any_order_and_one_plans_own() -> None:
    assert basis_of(["b", "a"]) == basis_of(["a", "b", "a"]) != basis_of(["a"]) == "a"


def test_the_recount_shares_no_function_with_what_finds_the_doses() -> None:
    assert not {"due_of", "record_blocks"} & set(vars(dose_truth))
    assert PERSON.name not in text_of(offer_month([month_of(NEIGHBOUR_MATERIAL)], "March 2026", MADE))

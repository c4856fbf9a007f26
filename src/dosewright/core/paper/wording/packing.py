"""Sentences for what core.packing finds: what cannot be packed, what keeps too short a time, and what the recount finds wrong."""

__all__ = ["SENTENCES", "WHY_ALONGSIDE"]

_WHO = "{name}, order {order}, {medicine}: "
_TIME = "{name}, {slot} {time}: "
_RECOUNT = "Recount: {name}: "
_CAVITY = _RECOUNT + "card {card}, row {row}, column {column}, {date} {slot}: "
_ORDER = _RECOUNT + "order {order}, {medicine}: "
_DOSE = _RECOUNT + "{date} {slot}, order {order}, {medicine}: "
_SAY = " Plan anew; if it says so again, report it."

SENTENCES: dict[str, str] = {
    "as-needed.directions": _WHO + "taken when needed; its directions say more than one dose and how often, which a card for as-needed "
    "medicines cannot say, so it goes alongside.",
    "as-needed.dose": _WHO + "taken when needed; one dose cannot be counted in whole units, halves or quarters, so it goes alongside.",
    "as-needed.dose-too-large": _WHO + "taken when needed; one dose does not fit one cavity, so it goes alongside.",
    "as-needed.no-card": _WHO + "taken when needed; this card format, or the days that it would have to keep, allow no card of its own, so "
    "it goes alongside.",
    "as-needed.no-most": _WHO + "taken when needed; the directions do not say how much at most in a day, so it goes alongside; have it "
    "ordered with a daily maximum to pack it in a card of its own.",
    "as-needed.not-all-cycle": _WHO + "taken when needed; the order begins or ends within these days, so it goes alongside.",
    "beyond-use": "{name}: no card is made, for the last dose on {last} would be after {limit}, the last day allowed by {binds}; "
    "plan at most {days_possible} days, pack later, or keep that product out.",
    "cavity.footprint": _WHO
    + "one unit cannot lie in a cavity of this card format; take a larger format, or confirm that it stays alongside.",
    "cavity.label": _WHO + "its name does not fit a cavity label of this format; take a larger format, or confirm that it stays alongside.",
    "cavity.volume": _WHO
    + "one unit fills more of a cavity than the format allows; take a deeper format, or confirm that it stays alongside.",
    "cycle.begun": "The cycle begins on {first}, before the day of packing, {prepared}: the first cavities are for days that are past.",
    "cycle.shortened": "Planned: {days} of the {asked} days asked for, to {last}; what lies in the cards does not keep longer.",
    "cycle.too-long": "{name}: no card is made: {days} days are more than the {longest} that {profile} supplies at one go; plan fewer.",
    "daily-maximum": "{name}, {date}: {medicine}: together up to {total} mg in a day, of which {as_needed} mg as needed, and at most "
    "{limit} mg is allowed ({reason}; {source}, {dated}, rule {rule}); have an order changed, or say why it stays.",
    "daily-maximum.not-counted": "{name}: {medicine}: how much is taken in a day cannot be counted from the orders; keep within {limit} mg "
    "({reason}; {source}, {dated}, rule {rule}).",
    "directions.decide": _WHO + "a pharmacist must settle the directions first; nothing of the order is packed until then.",
    "directions.refuse": _WHO + "no schedule can be made from the directions, so nothing of the order is packed; have it ordered anew.",
    "dose-split": "{name}, {slot}: {medicine} does not fit one cavity and lies in {cavities}; the labels say which of how many.",
    "duplicate.in-a-blend": _WHO + "{substance} is also in order {other_order}, {other}; have one of them stopped, or say why both stay.",
    "duplicate.same-product": _WHO + "ordered a second time, in order {other_order}; see that both are meant.",
    "duplicate.same-time": _WHO
    + "ordered a second time for the same dosing time, in order {other_order}; have one of them stopped, or say "
    "why both stay.",
    "duplicate.substance": _WHO + "{substance} is also in order {other_order}, {other}; see that both are meant.",
    "explain.apart": _TIME + "{columns} columns, for no two of these may share a cavity, or fit one together: {medicines}.",
    "explain.cards": "{name}: cards: {cards}, for {weeks} runs of {rows} days, {columns} columns in the fullest, {width} on a card.",
    "explain.keeps": "{name}: {more} more after the first, for {medicine} keeps until {limit}, and with the next run of days the card "
    "would have to keep until {last}.",
    "explain.label-lines": _TIME + "{columns} columns: the labels of one day take {need} lines, and one label has room for {limit}.",
    "explain.most-weeks": "{name}: {more} more after the first, for a card may hold {most} runs of days and no more.",
    "explain.no-room": "{name}: {more} more after the first, for the next run of days needs {columns} columns and the card before it has "
    "{left} left.",
    "explain.one-column": _TIME + "one column is enough (medicines: {medicines}).",
    "explain.pieces": _TIME + "{columns} columns: one day has {need} pieces, and one cavity takes {limit}.",
    "explain.saves-card": _TIME + "without {medicine} there, this many cards would do: {cards}.",
    "explain.saves-card-fill": "{name}: with cavities filled to {fuller} % instead of {fill} %, this many cards would do: {cards}.",
    "explain.saves-card-format": '{name}: on the format "{format}", this many cards would do: {cards}.',
    "explain.saves-card-moved": _TIME
    + "with {medicine} taken at {other_slot} {other_time} instead, if its order allows it, this many cards "
    "would do: {cards}.",
    "explain.saves-column": _TIME + "without {medicine} there, this many columns would do: {columns}.",
    "explain.search": _TIME
    + "{columns} columns: every way to lay its medicines in {fewer} was tried in {nodes} steps, and none keeps all limits.",
    "explain.spread-alike": _TIME
    + "laid out in {columns} columns, though {fewest} would do: no card more for it, and pairs of look-alikes "
    "in one cavity: {now} instead of {were}.",
    "explain.spread-crowded": _TIME
    + "laid out in {columns} columns, though {fewest} would do: no card more for it, and crowded columns: {now} "
    "instead of {were}.",
    "explain.spread-places": _TIME
    + "laid out in {columns} columns, though {fewest} would do: no card more for it, and every medicine keeps its "
    "column from week to week.",
    "explain.unproved": _TIME + "{columns} columns; whether {bound} could do is not proved.",
    "explain.volume": _TIME + "{columns} columns: the medicines of one day take {need} mm³, and one cavity may be filled with {limit} mm³.",
    "explain.strip-full": "{name}: {more} more after the first, for a strip of the roll has {width} pouches.",
    "explain.strip-keeps": "{name}: {more} more after the first, for {medicine} keeps until {limit}, and with the next pouch the strip "
    "would have to keep until {last}.",
    "explain.week-wide": "{name}: {more} more, for a run of days needs {columns} columns and one card has {width}.",
    "food-apart": "{name}, {date} {slot}: {medicine} is taken before food or on an empty stomach ({says}), {other} with or after food "
    "({other_says}), and both are due at {time}; nothing was moved.",
    "order.no-doses": _WHO + "in force, but no dose falls in this cycle; it is in no card.",
    "order.of-nobody": "Order {order}: the person {person} is not among those planned for, so nothing of it is packed; add the person.",
    "proof.open": "{name}: {cards} cards, {columns} columns in the fullest week. Whether {cards_lower_bound} cards or {lower_bound} columns"
    " would do is not proved; the search ended after {nodes} steps. The cards are right; there may be fewer.",
    "verify.after-beyond-use": _CAVITY + "dated after the card's last day, {expected}." + _SAY,
    "verify.after-expiry": _CAVITY + "{medicine} may be taken until {expected} only." + _SAY,
    "verify.alongside-wrong": _ORDER
    + "on the alongside list without being such an order in force, or twice, or as another product."
    + _SAY,
    "verify.as-needed-count": _RECOUNT
    + "order {order}, taken when needed: {found} doses in cards of its own, and {expected} expected."
    + _SAY,
    "verify.as-needed-mixed": _RECOUNT + "card {card}: as-needed medicines lie beside doses that are due." + _SAY,
    "verify.as-needed-parts": _RECOUNT + "order {order}, taken when needed: its columns are numbered {found}." + _SAY,
    "verify.as-needed-says": _RECOUNT + "card {card}, column {column}: dose, daily maximum, time between doses or product are not those "
    "of order {order}." + _SAY,
    "verify.as-needed-too-short": _RECOUNT + "card {card}: to be kept until {expected}, and keeps until {found} only." + _SAY,
    "verify.card-days-wrong": _RECOUNT
    + "card {card}: {found} stands there as its first or last day, and by its columns that is {expected}."
    + _SAY,
    "verify.card-number-differs": _RECOUNT + "card {card} stands where by this person's set card {expected} would be." + _SAY,
    "verify.card-number-wrong": "Recount: card number {card} has a wrong check digit or stands on {times} cards." + _SAY,
    "verify.cavity-empty": _CAVITY + "listed, and holds nothing." + _SAY,
    "verify.cavity-twice": _CAVITY + "listed more than once." + _SAY,
    "verify.column-parts-wrong": _RECOUNT + "from {date}, {slot}: the columns say {found}, and there are {expected}." + _SAY,
    "verify.columns-wrong": _RECOUNT + "card {card}: its columns are not numbered once each within {expected}; {found} are listed." + _SAY,
    "verify.dose-differs": _DOSE + "expected {expected}, found {found}." + _SAY,
    "verify.dose-missing": _DOSE + "expected {expected}, found {found}." + _SAY,
    "verify.dose-not-ordered": _DOSE + "expected {expected}, found {found}." + _SAY,
    "verify.fill-wrong": _CAVITY + "said to be {found} per cent full, and what lies in it fills {expected} per cent." + _SAY,
    "verify.forbidden-pair": _CAVITY + "{medicine} and {other} may not share a cavity (rule {rule})." + _SAY,
    "verify.in-both-places": _ORDER + "in the card and on the alongside list ({why})." + _SAY,
    "verify.keeps-too-long": _RECOUNT + "card {card} says that it keeps until {found}; what is in it keeps until {expected}." + _SAY,
    "verify.left-out-without-reason": _ORDER + "left out of the cards ({why}), and that does not hold for it." + _SAY,
    "verify.name-differs": "Recount: the set of {expected} bears the name {found}." + _SAY,
    "verify.named-nowhere": _ORDER + "neither in a card nor on the alongside list." + _SAY,
    "verify.not-its-column": _CAVITY + "day or dosing time is not its column's." + _SAY,
    "verify.not-to-be-packed": _ORDER + "in a card, and it must not be ({why})." + _SAY,
    "verify.nothing-of-it": _CAVITY + "order {order} lists none of {medicine}." + _SAY,
    "verify.order-not-in-force": _CAVITY + "order {order} is not in force in this cycle." + _SAY,
    "verify.order-twice": _RECOUNT + "{date} {slot}, order {order} stands twice in one cavity." + _SAY,
    "verify.order-unknown": _CAVITY + "{medicine} is there for order {order}, which this person does not have." + _SAY,
    "verify.outside-the-card": _CAVITY + "there is no such cavity on the card." + _SAY,
    "verify.outside-the-cycle": _CAVITY + "the day is not one of the card's, or not of the cycle." + _SAY,
    "verify.over-count": _CAVITY + "{found} pieces, and a cavity takes {expected}." + _SAY,
    "verify.over-full": _CAVITY + "{found} mm³, and {expected} mm³ may be filled." + _SAY,
    "verify.over-label": _CAVITY + "{found} label lines, and there is room for {expected}." + _SAY,
    "verify.parts-wrong": _RECOUNT + "{date} {slot}: the cavities say {found}, and there are {expected}." + _SAY,
    "verify.person-missing": "Recount: {name} is not in the plan." + _SAY,
    "verify.person-twice": "Recount: {name} is in the plan more than once." + _SAY,
    "verify.person-unknown": "Recount: the plan is for {person}, of whom nothing was asked." + _SAY,
    "verify.proof-wrong": _RECOUNT + "{found} stands in its proof for {what}, and the set itself shows that it cannot be." + _SAY,
    "verify.setting-differs": "Recount: {what} is {found} in the plan and {expected} by what it is made from; give the plan's own options, "
    "or plan anew.",
    "verify.wrong-medicine": _CAVITY + "order {order} is for {expected}, and {medicine} is there." + _SAY,
    "verify.wrong-unit": _CAVITY + "{medicine} for order {order} is not counted in that product's unit." + _SAY,
}

# The alongside list's codes in a few words, for paper and screens; a rule of the pharmacy's own file has its reason there.
WHY_ALONGSIDE: dict[str, str] = {
    "amount.inexact": "the amount cannot be made of whole or half units",
    "amount.no-unit": "the amount has no unit",
    "amount.not-breakable": "units of it may not be divided",
    "amount.too-many": "the amount cannot be meant",
    "amount.unit-mismatch": "the amount cannot be counted in this product",
    "as-needed": "taken when needed",
    "beyond-use": "the cycle is longer than the card would keep",
    "cavity.footprint": "too large for a cavity",
    "cavity.label": "its name does not fit a cavity label",
    "cavity.volume": "too large for a cavity",
    "controlled": "controlled medicine",
    "cycle.too-long": "the cycle is longer than may be supplied",
    "directions.decide": "waiting for a pharmacist's decision",
    "directions.refuse": "the directions cannot be scheduled",
    "form.buccal": "taken in the mouth",
    "form.chewable": "chewed",
    "form.dispersible": "dispersed in water first",
    "form.effervescent": "takes up moisture",
    "form.film": "takes up moisture",
    "form.inhaled": "inhaled",
    "form.injection": "injected",
    "form.liquid": "liquid",
    "form.orodispersible": "takes up moisture",
    "form.patch": "patch",
    "form.powder": "powder or granules",
    "form.rectal-vaginal": "not taken by mouth",
    "form.sublingual": "taken under the tongue",
    "form.topical": "not taken by mouth",
    "form.unknown": "its form is not known to the rules",
    "hazardous": "hazardous to handle",
    "medicine.unknown": "not in the medicines file",
    "route": "not taken by mouth",
    "suitability.decided": "kept out by a pharmacist",
}

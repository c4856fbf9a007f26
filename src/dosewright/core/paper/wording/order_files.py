"""Sentences for what is found in orders, whatever file they came in, and in the fields of CSV files."""

__all__ = ["SENTENCES"]

_FIELD = "{file}, line {line}, {field}: "
_AT = "{file}, {resource}, {path}: "

SENTENCES: dict[str, str] = {
    "field.day-out-of-range": _FIELD + "“{value}” cannot be right; a day from {earliest} to {latest} is wanted.",
    "field.forbidden-character": _FIELD + "{character} stands here, which cannot be shown and may disguise the text; take it out.",
    "field.formula": _FIELD + "“{value}” begins like a spreadsheet formula (=, +, - or @); begin it with a letter or a digit.",
    "field.missing": _FIELD + "nothing stands here, and it is needed.",
    "field.not-a-day": _FIELD + "“{value}” is not a day; write year, month and day, as 2026-03-02 (with a time: 2026-03-02T12:00).",
    "field.not-an-amount": _FIELD + "“{value}” is not an amount; write digits with a point, as 7.5, above 0 and at most {largest}.",
    "field.out-of-range": _FIELD + "“{value}” cannot be right; an amount above 0 and at most {largest} is wanted.",
    "field.too-long": _FIELD + "the text has {length} characters; at most {longest} may stand here.",
    "field.unsafe-strength": _FIELD + "“{value}” can be misread ({rules}); write it as 5 mg, 0.5 mg or 100 units.",
    "medicine.gtin-check-digit": _FIELD + "the check digit of {value} is wrong; if the other digits are right it is {right}.",
    "medicine.gtin-twice": "{file}, {field}: {value} stands with several medicines ({medicine}); a scan could not tell them apart.",
    "medicine.not-a-gtin": _FIELD + "“{value}” is not a trade item number; 8, 12, 13 or 14 digits are wanted.",
    "medicine.side-missing": _FIELD + "length, width and thickness belong together; give all three, or none.",
    "medicine.twice": _FIELD + "the code {value} stands in {times} rows, and none of them is used; give each medicine a code of its own.",
    "medicine.unknown-flag": _FIELD + "{unknown} is not a known flag; known are {known}.",
    "medicine.unknown-form": _FIELD + "“{value}” is not a known form; it must end in one of these words: {known}.",
    "medicine.unknown-shape": _FIELD + "“{value}” is not a known shape; known are {known}.",
    "medicine.wider-than-long": _FIELD + "the width {width} mm is above the length {length} mm; the longest side is the length.",
    "order.directions-open": "The directions “{text}” can mean several things, or leave something open; a pharmacist must settle them.",
    "order.directions-unreadable": "Nothing can be scheduled from the directions “{text}”; ask the prescriber, or enter them anew.",
    "order.do-not-perform": _AT + "the order says that this medicine is not to be given; it is not used, and a pharmacist must look at it.",
    "order.draft": _AT + "the order is a draft and is not used; the prescriber must make it active.",
    "order.no-directions": _AT + "no directions are given; nothing can be scheduled.",
    "order.no-longer-valid": _AT + "the prescription may not be supplied after {value}, and this is for {day}; a new one is needed.",
    "order.no-medicines-file": "No medicines file is given, so no code is known and nothing can be packed; name it with --medicines.",
    "order.not-an-order": _AT + "this is a {intent}, not an order, and is not used; an order must be sent.",
    "order.not-in-force": _AT + "the order is {status}; it is not used.",
    "order.not-yet-valid": _AT + "the prescription may not be supplied before {value}, and this is for {day}.",
    "order.other-name": _AT + "the order names “{text}”, and the person it points to is {name}; make sure whose order it is.",
    "order.prior-not-here": _AT + "the earlier order “{reference}” is not in this file, so nothing is replaced.",
    "order.remark": _AT + "a remark stands with the order, and nothing is scheduled from it: “{text}”.",
    "order.replaced-by-unsettled": "{file}: order {later} replaces {earlier}, and its directions are not settled; neither is scheduled.",
    "order.replaces-itself": "{file}: orders {earlier} and {later} each replace the other; neither is scheduled.",
    "order.replaces-other-person": "{file}: order {later} replaces {earlier}, which is another person's; neither is scheduled.",
    "order.replaces-without-start": "{file}: order {later} replaces {earlier} from no known moment; neither is scheduled. State its start.",
    "order.reported": _AT + "the order was reported by someone and is not the prescriber's own record; it is not used.",
    "order.same-medicine-twice": "{file}: orders {order} and {other} both order {medicine} at one time; is one meant to replace the other?",
    "order.sequence-of-words": _AT + "the words say several phases and stand in one phase; state each phase, or leave the sequence out.",
    "order.start-not-stated": "Order {order} runs by a rhythm or a course, and no start is stated; {date} is taken. State the start.",
    "order.stops-before-start": _FIELD + "“{value}” is before the start, {start}; correct one of them.",
    "order.twice": _FIELD + "the order “{value}” stands in the rows {rows}, and it is not clear which follows which; none is used. "
    "Rows of one order need one person, one medicine and a start of their own each.",
    "order.unknown-intent": _AT + "the intent “{intent}” is not known; an order has the intent order.",
    "order.unknown-medicine": _FIELD + "“{value}” is not a code of the medicines file; correct the code, or add the medicine.",
    "order.unknown-status": _AT + "the status “{status}” is unknown; only an active order is used.",
    "paper.held": "For {name} no sheet is drawn: an order of theirs, or one that may be theirs, is neither in a card nor named beside it. "
    "Mend what is found about {person} first.",
    "person.born-later": _FIELD + "“{value}” is after {day}; correct the date of birth.",
    "person.differs": _FIELD + "the rows {rows} say different things of one person; none of their orders is used until they agree.",
    "person.wrong-elsewhere": _FIELD + "the row {rows} of this person has a wrong field; none of their orders is used until it is mended.",
}

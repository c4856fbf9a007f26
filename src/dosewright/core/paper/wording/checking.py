"""Sentences for what core.checking finds."""

__all__ = ["SENTENCES"]

SENTENCES: dict[str, str] = {
    "checking.after-beyond-use": (
        "Card {card}, row {row}, column {column}: {day} is after the card's beyond-use date, {limit}. Plan a shorter card."
    ),
    "checking.after-expiry": (
        "Card {card}, row {row}, column {column}: lot {lot} of {medicine} expires {limit}, before {day}. Take it out and place a later lot."
    ),
    "checking.expiry-before-beyond-use": (
        "Card {card}, row {row}, column {column}: lot {lot} of {medicine} expires {limit}, before the beyond-use date on the card's label. "
        "Place a later lot, or plan the card again with this one."
    ),
    "checking.cell-differs": (
        "Card {card}, row {row}, column {column}, order {order}: {found} of {medicine} is there, {expected} is asked. Put it right."
    ),
    "checking.not-in-plan": "Card {card}, row {row}, column {column}: {medicine} does not belong there. Take it out.",
    "checking.no-such-cavity": (
        "Card {card} has nothing planned in row {row}, column {column}: {medicine} does not belong there. Take it out."
    ),
    "checking.not-counted": "Card {card}, row {row}, column {column} has not been counted. Count it.",
    "checking.count-differs": (
        "Card {card}, row {row}, column {column}: you counted {counted}, the orders put {expected} there. Count again, or send it back."
    ),
    "checking.should-be-empty": (
        "Card {card}, row {row}, column {column}: you counted {counted}, it should be empty. Count again, or send it back."
    ),
    "checking.same-hands": "You filled this card, so somebody else must check it.",
    "checking.alone-needs-reason": "You filled this card. To check it alone, write the reason why nobody else can.",
    "checking.alone-needs-pause": "You filled this card. Leave it for {minutes} minutes after your last touch, then check it.",
    "checking.alone": "Filled and checked by one person alone: {reason}",
    "checking.lot-recalled": (
        "Card {card} holds units of lot {lot} of {medicine}, placed {times} times, and that lot is recalled. "
        "Send the card back, take them out to waste and place another lot; a card that is released already is taken out of use."
    ),
    "checking.card-past": "Card {card} is past its beyond-use date, {limit}. It must not leave.",
}

"""Sentences for what is found about a change on its way from the order to cards that are right."""

__all__ = ["SENTENCES"]

SENTENCES: dict[str, str] = {
    "change.bottle-is-no-waste": "{gtin} is the code of a bottle. What comes out of a card goes to waste and never into a bottle: scan the "
    "waste container.",
    "change.card-not-right": "Card {card} is not right yet: {waits}. The change is done when it is.",
    "change.disturbed-not-counted": "Row {row}, column {column}, {date} {slot}: this cavity was opened. Count it medicine by medicine.",
    "change.disturbed-differs": "Row {row}, column {column}, {date} {slot}: you counted {counted} of {medicine}, the orders put "
    "{expected} there.",
    "change.gone-before-time": "Row {row}, column {column}, {date} {slot}: it is empty before its time, and the record says nothing of it. "
    "Find out why.",
    "change.gone-not-recorded": "Row {row}, column {column}, {date} {slot}: it is empty, and the record does not say that it was given.",
    "change.labels-are-right": "Card {card} bears the labels that it should bear. There is nothing to void.",
    "change.missing-already": "Card {card} is listed as not found already.",
    "change.no-destination": "Scan the code on the waste container, or write why it cannot be scanned.",
    "change.no-labels": "The new labels of change {change} are not printed since it was decided. Print them first.",
    "change.not-given": "Row {row}, column {column}, {date} {slot}: it is still there and was not recorded as given: the dose was missed.",
    "change.not-missing": "Card {card} is not listed as not found.",
    "change.nothing-suspended": "No order of this person is suspended. There is nothing to resume.",
    "change.nothing-to-end": "No order of this person is in force then. There is nothing to end.",
    "change.nothing-to-take-out": "Card {card}: there is nothing of {medicine} to take out.",
    "change.only-a-pharmacist": "What was found in card {card} does not agree with the record. A pharmacist takes it back, with a reason.",
    "change.part-left": "Row {row}, column {column}, {date} {slot}: part of it is left ({left} of {held}). Find out why.",
    "change.rates-unreadable": "These figures cannot be read: {why} Nothing was changed.",
    "change.recorded-still-there": "Row {row}, column {column}, {date} {slot}: the record says it was given, and it is still there.",
    "change.same-home": "{name} lives there already. Choose another home, or another room.",
    "change.shown-differs": "Orders, cards or the time have moved on since this was shown. Nothing was decided: look at it as it is now.",
    "change.taken-early": "Row {row}, column {column}, {date} {slot}: it was given before its time, as the record says.",
    "change.unreadable": "Card {card} ({stage}): its record cannot be read, so nobody can say what it holds. Look for it and keep it from "
    "being used.",
    "change.work-begun": "Work on a card has begun for change {change}. Enter what is to count now as another change.",
    "change.wrong-standing": "Change {change} is {standing}. This cannot be done with it now.",
}

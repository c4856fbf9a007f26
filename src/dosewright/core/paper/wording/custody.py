"""Sentences for what core.custody finds."""

__all__ = ["SENTENCES"]

SENTENCES: dict[str, str] = {
    "custody.wrong-stage": "Card {card} is {stage}: it cannot be {deed} now. Do first what comes before, or look at the card's history.",
    "custody.out-of-date": "The orders behind card {card} have changed: it cannot be {deed} until a pharmacist has decided about it.",
    "custody.no-right": "A {role} may not {what} here. Ask somebody who may.",
    "custody.other-home": "{name} may see and do only what belongs to their own home.",
    "custody.not-there": "There is no {kind} {id}. Scan or type it again.",
    "custody.no-reason": "A reason is needed. Write in a few words why.",
    "custody.unknown-choice": "{choice} is not one of the choices here. Choose: {choices}.",
    "custody.not-out-of-date": "Card {card} is not out of date: there is nothing to decide about it.",
    "custody.already-settled": "Order {order} has been settled already: {standing}. To change it, stop it and enter a new one.",
    "custody.clock-back": "Entry {entry} bears an earlier time than the one before it: the clock was set back.",
    "custody.ledger-tail": "The ledger's end is not where its own record says: entry {entry} is expected last, entry {found} is.",
    "custody.ledger-cut-off": "The exported head names entry {entry}, but the ledger ends at entry {found}: its tail was cut off.",
    "custody.ledger-head-differs": "Entry {entry} is not the one that the exported head names: the ledger was rewritten.",
    "custody.ledger-gap": "Entry {entry} stands where entry {expected} should: an entry was taken out, put in or moved.",
    "custody.ledger-link": "Entry {entry} does not follow from the one before it: an entry was changed, taken out, put in or moved.",
    "custody.ledger-changed": "Entry {entry} does not match its own hash: it was changed.",
}

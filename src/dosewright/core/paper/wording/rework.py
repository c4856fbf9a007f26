"""Sentences for what core.rework finds."""

__all__ = ["SENTENCES"]

_CARD = "{name}, card {card}: "
_RECOUNT = "Recount after the change: {name}: "
_SAY = " Nothing may be done from this; lay the change out anew, and if it says so again, report it."

SENTENCES: dict[str, str] = {
    "rework.as-needed-left": _CARD
    + "{medicine} is taken when needed, and its order is not what it was. This card is left as it is; call it "
    "back or withdraw it, and plan anew.",
    "rework.card-missing": _CARD
    + "nobody knows where it is, so nothing can be put right in it. Find it, or fill afresh what it holds and destroy it when it is found.",
    "rework.times-changed": "Card {card} was planned by other dosing times. A pharmacist must decide about it.",
    "rework.record-changed": "Card {card} rests on what was changed. A pharmacist must decide about it.",
    "rework.card-touched": "Card {card} no longer holds what the orders ask from {date} on. A pharmacist must decide about it.",
    "rework.days-without-card": "{name}: {days} days, the first {date}, have doses and no card. Choose a way for all cards together, or "
    "fill afresh.",
    "rework.differed-before": "{name}: even by the earlier orders the cards should hold {expected} of {medicine} on {date} at {time}, and "
    "they hold {found}. Find out why before anything is done.",
    "rework.header-waits": _CARD
    + "its cavities are right, but its header does not say what is in force now ({medicines}). It is out; whoever uses it must be told.",
    "rework.keeps-too-short": _CARD + "with what is added it may be used until {limit}, and it lasts until {last}; fill afresh instead.",
    "rework.left": _CARD + "the change touches it, and no choice that is allowed puts it right. It is left; a pharmacist must decide.",
    "rework.missing-replaced": _CARD
    + "nobody knows where it is. A new card takes its place; it may still be in use, and must be destroyed when it is found.",
    "rework.no-such-choice": "{name}, card {card}: {choice} is not among what can be done about it. Choose from what is laid out.",
    "rework.not-chosen-once": "{name}, card {card}: chosen {times} times. Choose one thing for each card that the change touches.",
    "rework.no-card": "{name}, order {order}: {medicine} on {date} at {time} goes into no card, and no new card can be made for it. "
    "A pharmacist must say how it is supplied.",
    "rework.no-room": _CARD + "no cavity takes {medicine} on {date} at {time}; fill afresh, or add a card where it is a new medicine.",
    "rework.other-card": _CARD + "it is out and does not say that there is another card beside it; whoever uses it must be told.",
    "rework.other-format": _CARD
    + "it is of the format {format}, and {now} is filled now: something may be taken out of it, and nothing laid in. Fill afresh instead.",
    "rework.person-absent": "{name} has cards and is not among the new orders. Nothing is judged about these cards; "
    "list the person without any order if all orders have ended.",
    "rework.person-held": "{name}: an order of this file is broken or cannot be told whose it is, so nothing is laid out for this person. "
    "Mend the file first.",
    "rework.place-assumed": "{name}, card {card}: nobody said where it is; it is taken to be sealed, in the pharmacy. Look for it.",
    "rework.recall": _CARD + "it is out and must be back before the dose on {date} at {time}; until it is right, the interim sheet holds.",
    "rework.recount-dose": _RECOUNT + "{date} {time}, {medicine}: expected {expected}, found {found}." + _SAY,
    "rework.recount-order": _RECOUNT
    + "card {card}, row {row}, column {column}, {date} {slot}: {medicine} lies there for order {order}, which does not ask for it then."
    + _SAY,
    "rework.recount-touched": _RECOUNT + "card {card}, row {row}, column {column} is before the change and no longer as it was." + _SAY,
    "rework.reissue": _CARD
    + "it has been out of the pharmacy. Whether the same person may be given its units again is for the pharmacist to decide, "
    "by the rules of the place; else fill afresh.",
    "rework.take-back": _CARD + "it is out; take it back when the new card is given, and leave none of it behind.",
    "rework.taken-early": _CARD + "{cavities} cavities due after the change are empty already, the first on {date} {slot}. Find out why.",
    "rework.units-differ": "Recount after the change: {medicine}, lot {lot}: {expected} units came from cards and bottles, "
    "and {found} are in cards and waste." + _SAY,
    "rework.unknown-medicine": "{name}: the cards hold {code}, which is not in the medicines file; without it nothing is laid out.",
    "rework.unsettled": "{name}, order {order}, {medicine}: what it asks is an open question, so nobody can say what the cards must hold. "
    "Settle it first; nothing is laid out for this person until then.",
    "rework.wait": _CARD
    + "if it stays as it is, {doses} doses from {first} to {last} follow the old orders ({medicines}). That may be only if a pharmacist "
    "says so, with a reason.",
}

"""Sentences for what core.medicines knows of a product: whether it may lie in a card, how it is counted, what it must be kept from."""

__all__ = ["SENTENCES"]

_WHO = "{name}, order {order}, {medicine}: "
_CITED = " ({source}, {dated})"

SENTENCES: dict[str, str] = {
    "alongside.controlled": _WHO + "supplied alongside: the profile keeps controlled medicines out of cards.",
    "alongside.hazardous": _WHO
    + "supplied alongside: it is flagged as hazardous to handle, and the profile keeps such medicines out of cards.",
    "alongside.route": _WHO
    + "supplied alongside: the order says '{words}', and a card holds only what is taken by mouth; if that is wrong, correct it.",
    "amount.inexact": _WHO
    + "{amount} {unit} is no whole number of halves of this product, so nothing of the order is packed; order a strength that divides it.",
    "amount.no-unit": _WHO
    + "the directions say {amount} without a unit, so nothing of the order is packed; say how many units, or how many mg.",
    "amount.not-breakable": _WHO
    + "{amount} {unit} would need a part of a unit, and this product may not be divided; order another strength or form.",
    "amount.too-many": _WHO + "{amount} {unit} at one dosing time cannot be meant, so nothing of the order is packed; correct the amount.",
    "amount.unit-mismatch": _WHO
    + "{amount} {unit} cannot be counted in this product, so nothing of the order is packed; correct the order or its medicine.",
    "form.unknown": _WHO
    + "no rule knows the form “{form}”, so it stays out of the card; correct the form, or add it to the rules with its source.",
    "look-alike": "{name}, {slot}: {medicine} and {other} look alike and share a cavity; the checker must tell them apart by other means.",
    "medicine.not-measured": _WHO
    + "its size is not known; it is packed as if as large as a size 00 capsule. Measure it, or confirm that it is no larger.",
    "weekly-more-often": _WHO
    + "this product is meant for once a week (rule {rule}, {source}, {dated}), and ordered for {first} and {second}. Ask the prescriber.",
    "medicine.unknown": "{name}, order {order}: the medicine {code} is not in the medicines file, so nothing of it is packed; add it.",
    "spacing": "{name}, {date}: {medicine} at {time} and {other} at {other_time}: {reason}"
    + _CITED
    + ". Change a time, or record why not.",
    "suitability.alongside": _WHO + "supplied alongside, by rule {rule}: {reason}" + _CITED + ".",
    "suitability.answered": _WHO + "by a recorded answer to rule {rule} it goes to “{choice}”: {reason}",
    "suitability.confirm": _WHO + "packed, to be confirmed by rule {rule}: {reason}" + _CITED + ".",
}

"""Sentences for proposals of fewer dosing times: what was proved, what a move relies on, why an order stays."""

__all__ = ["SENTENCES"]

_CITED = " ({source}, {dated})"
_RULE = " ({reason}; {source}, {dated}, rule {rule})"
_STAYS = "{medicine} stays: "
_TOO_CLOSE = "{medicine} at {time} is too close to {other} at {other_time}"

SENTENCES: dict[str, str] = {
    "times.apart": _TOO_CLOSE + _RULE + ".",
    "times.beyond-window": "A move by {moved}; given late or early, it could stray by {stray} anyhow"
    + _CITED
    + ". The rest is what the words of the order allow.",
    "times.change-over": "{name}: on the days of the change {medicine} on {date} at {time} is too close to {other} on {other_date} at "
    "{other_time}" + _RULE + "; choose another first day, or say how those doses are given.",
    "times.fewest": "{name}: {times} dosing times instead of {today}; no choice with fewer than {bound} keeps every order and rule.",
    "times.fewest-already": "{name}: today's {today} dosing times are the fewest; no choice with fewer than {bound} keeps every order "
    "and rule.",
    "times.first-gap": "The last dose at the old time is on {date} at {time}, the first at the new on {next_date} at {next_time}: {gap} "
    "between them, once; otherwise at least {usual}.",
    "times.food": "{medicine} for an empty stomach at {time} would lie beside {other} with food.",
    "times.free-interval": "The directions say how many hours apart, and not when; gaps from {least} to {most} keep to that, for such "
    "medicines may stray by {stray}" + _CITED + ".",
    "times.free-often": "The directions say {times} times a day, and not when; no gap is shorter than {least} or longer than {most}, "
    "as today.",
    "times.free-once": "The directions name no time of day.",
    "times.mends": _TOO_CLOSE + " today; the new times keep the rule" + _RULE + ".",
    "times.not-scheduled": "{name}, order {order}, {medicine}: when it is taken is not known yet, so no proposal reckons with it; settle "
    "its directions first.",
    "times.stands": _TOO_CLOSE + ", and no choice of dosing times mends that" + _RULE + "; have an order changed, or say why it stays.",
    "times.stays-asked": _STAYS + "as asked.",
    "times.stays-listed": _STAYS + "its directions list moments or leave the rhythm open.",
    "times.stays-named": _STAYS + "its directions name the time.",
    "times.stays-nowhere": _STAYS + "no other dosing time keeps its gaps, its meals and its window.",
    "times.stays-own-time": _STAYS + "it has a time of its own" + _RULE + ".",
    "times.stays-phases": _STAYS + "its phases are taken at different times.",
    "times.stays-same-substance": _STAYS + "order {other_order} holds the same substance, and together they could be too much at once.",
    "times.stays-unknown": _STAYS + "the product is not in the medicines file.",
    "times.stays-words": _STAYS + 'nobody has said what "{words}" means for its time; ask.',
    "times.unproved": "{name}: {times} dosing times; whether {bound} could do is not proved.",
    "times.window-critical": "Time-critical: it may stray by {stray}, and no more" + _CITED + ".",
    "times.within-window": "A move by {moved}; given late or early, it could stray by {stray} anyhow" + _CITED + ".",
}

"""Sentences for what core.supply finds."""

__all__ = ["SENTENCES"]

SENTENCES: dict[str, str] = {
    "supply.code-disagreed": "Two people read different medicines from the bottle with the code {gtin}. Look at it together, "
    "say that it was said wrong, and begin anew.",
    "supply.code-known": "Code {gtin} belongs to {holder} already. Look at both bottles.",
    "supply.code-nobody-waits": "Nobody has said anything of code {gtin}. Scan the bottle, and say which medicine it is.",
    "supply.code-same-person": "You have said it yourself. Somebody else scans the bottle with the code {gtin} and says what they read.",
    "supply.nothing-wanting": "There is enough of {medicine} in stock for this set: nothing is owed. Fetch it and go on.",
    "supply.no-scan": "{medicine}: scan the bottle, or write why it cannot be scanned.",
    "supply.unknown-code": "Product code {gtin} is not in the catalogue. Check the bottle, then teach the code, two of you.",
    "supply.wrong-product": "This is {scanned}, not {medicine} (code {gtin}). Put it away and fetch {medicine}.",
    "supply.no-lot": "{medicine}: the lot is missing. Read it from the bottle.",
    "supply.lot-too-long": "{medicine}: a lot has at most {longest} characters. Read it from the bottle again.",
    "supply.lot-differs": "{medicine}: the code says lot {scanned}, you typed {typed}. Read the bottle again.",
    "supply.expiry-differs": "{medicine}: the code says it expires {scanned}, you typed {typed}. Read the bottle again.",
    "supply.unknown-lot": "Lot {lot} of {medicine} has not been received. Receive it first, or read the lot again.",
    "supply.lot-recalled": "Lot {lot} of {medicine} is recalled ({reason}). Set the bottle apart and take another lot.",
    "supply.lot-expiry-clash": "Lot {lot} of {medicine} was received with expiry {known}, now it is {given}. Read the bottle again.",
    "supply.not-enough": "Lot {lot} of {medicine}: {needed} are needed, {stock} are in stock. Place what there is, then open another lot.",
    "supply.nothing-to-place": (
        "Nothing of {medicine} is left to place in these cards. Somebody may have placed it already: look at the fill map."
    ),
    "supply.cell-full": (
        "Card {card}, row {row}, column {column}: {amount} of {medicine} does not fit what is still to be placed there, {still}. "
        "Somebody may have placed it already."
    ),
    "supply.not-placed": "Card {card}, row {row}, column {column}: lot {lot} of {medicine} is not there, so it cannot be taken out.",
    "supply.to-waste-only": "Card {card} has been sealed once: what is taken out of it goes to waste, not back to stock.",
    "supply.part-to-waste": "Part of a unit does not go back into the bottle. Take it out of card {card} to waste.",
    "supply.no-amount": "{medicine}: the amount must be a whole number of units above zero.",
    "supply.expired": "Lot {lot} of {medicine} expired {expiry}. It cannot be received.",
    "interop.national-code-wrong": "{kind} {number} cannot be right. Wanted: {shape}. Read the pack again.",
    "interop.gs1-bad-number": "{number} is not a product code: its check digit is wrong. Scan again, or type it again.",
    "interop.gs1-unknown-field": "The code has a field that is not known here, at {rest}. Scan again, or type what the bottle says.",
    "interop.gs1-bad-field": "The code's field {field} is wrong: {value}. Scan again, or type what the bottle says.",
    "interop.gs1-bad-date": "The code's expiry {value} is not a date. Scan again, or type what the bottle says.",
    "interop.gs1-twice": "The code says field {field} twice. Scan again, or type what the bottle says.",
    "interop.gs1-nothing": "The scan is empty. Scan again.",
    "interop.gs1-separator-missing": (
        "The code's field {field} reads {value}, but its end may be the next field. Compare with the bottle and type what is printed there."
    ),
    "supply.less-than-nothing": "Lot {lot} of {medicine}: the account shows {amount} {place}. Units were recorded that never came in.",
    "supply.account-differs": "Lot {lot} of {medicine}: {moved} {place} by the movements, {counted} by count. Units are lost or found.",
}

"""Sentences for what core.paper finds."""

__all__ = ["SENTENCES"]

_FAULT = "Nothing may be printed; report this fault."

SENTENCES: dict[str, str] = {
    "paper.needs-shaping": (
        'Sheets of person {person}: "{text}" has words that cannot be printed right ({characters}): they mix two directions, hide '
        "control characters, or say something about a medicine in a script other than Latin. Write them without that."
    ),
    "paper.figure-differs": 'Page {page} of the finished PDF draws a border, or the letters of "{text}", otherwise than was meant. '
    + _FAULT,
    "paper.text-not-as-black": 'Page {page} of the finished PDF shows "{text}" lighter or darker than black letters are, or covered. '
    + _FAULT,
    "paper.ink-nobody-asked-for": "Page {page} of the finished PDF has ink where nothing was drawn. " + _FAULT,
    "paper.line-missing": "Page {page} of the finished PDF lacks a line, a box, a hatching or a dial that was drawn. " + _FAULT,
    "paper.code-elsewhere": 'Page {page} of the finished PDF: the code of "{text}" has another size or place than was drawn. ' + _FAULT,
    "paper.code-of-another": "Labels of card {card} of person {person} carry the code of {text}. " + _FAULT,
    "paper.text-over-figure": 'Page {page} of the finished PDF prints "{text}" over a border. ' + _FAULT,
    "paper.moved-otherwise": ('Page {page} of the finished PDF: "{text}" is not where the printer\'s correction puts it. ' + _FAULT),
    "printer.beyond-belief": (
        "{field}: {found} mm was measured where about {meant} mm is right. Measure again on a sheet printed at full size, "
        "without fitting to the page."
    ),
    "paper.alike": (
        "Cards of person {person} could be taken for those of {others}: the header has a border of its own and the name in large print. "
        "Look at both names before you hand a card over."
    ),
    "paper.alike-without-border": (
        "Cards of person {person} could be taken for those of {others}, and every border is in use among them. "
        "Tell them apart by name and second identifier."
    ),
    "paper.alike-without-second-identifier": (
        "Cards of person {person} could be taken for those of {others}, and nothing but the name is known to tell them apart. "
        "Enter the date of birth, the room or the address."
    ),
    "paper.no-glyph": (
        'Sheets of person {person}: "{text}" has a character that no font here can draw: {characters}. '
        "Correct the text, or write it without that character."
    ),
    "paper.unsafe-text": (
        'Sheets of person {person}: "{text}" breaks the safe-text rules {rules}. '
        "Write the amount or the words in full where the text comes from."
    ),
    "paper.text-does-not-fit": (
        'Sheets of person {person}: "{text}" does not fit its place at the smallest size allowed. Shorten the text where it comes from.'
    ),
    "paper.cavity-text-does-not-fit": (
        "Card {card} of person {person}, {date} {slot} (row {row}, column {column}): "
        "the medicines do not fit the cavity's label at {size} points. "
        "Use a card format with larger labels, or pack fewer medicines in one cavity."
    ),
    "paper.page-count-differs": "The finished PDF has {found} pages where {expected} were drawn. " + _FAULT,
    "paper.page-size-differs": "Page {page} of the finished PDF has another size than was drawn. " + _FAULT,
    "paper.text-nobody-asked-for": 'Page {page} of the finished PDF shows "{text}", which was not drawn. ' + _FAULT,
    "paper.text-differs": 'Page {page} of the finished PDF shows "{found}" where "{text}" was drawn. ' + _FAULT,
    "paper.size-differs": 'Page {page} of the finished PDF shows "{text}" in another size than was drawn. ' + _FAULT,
    "paper.letter-differs": 'Page {page} of the finished PDF draws letters of "{text}" otherwise than the font does. ' + _FAULT,
    "paper.outside-its-box": 'Page {page} of the finished PDF shows "{text}" outside the place meant for it. ' + _FAULT,
    "paper.texts-overlap": 'Page {page} of the finished PDF prints "{text}" and "{found}" over one another. ' + _FAULT,
    "paper.code-differs": 'Page {page} of the finished PDF: the code of "{text}" reads as "{found}" at {dpi} dots per inch. ' + _FAULT,
    "paper.field-missing": (
        "Card {card} of person {person}: {field} {order} {medicine} has no value, and the profile requires it on the label. "
        "Enter it in the orders, the medicines file or the pharmacy's details."
    ),
    "paper.field-not-printed": (
        "Card {card} of person {person}: {field} {order} {medicine}, which the profile requires, is not on the drawn label. " + _FAULT
    ),
    "paper.field-unknown": (
        "Card {card} of person {person}: the profile requires {field}, which is no field of a label here. Correct the profile file."
    ),
    "paper.stamp-needed": (
        "No pharmacy is named: stamp each card's last header in its box with name, address and telephone before supply, "
        "or enter the pharmacy's details."
    ),
    "paper.lots-to-come": (
        "This place requires lot and expiry in each cavity. They are known once the cards are filled: "
        "print the labels with lots then, before release."
    ),
    "paper.no-cautions": "{medicine} has no caution in the medicines file. Confirm that its label needs none.",
    "paper.card-without-sheet": "Card {card} of person {person} has no sheet in the finished PDF. " + _FAULT,
    "paper.label-lacks": (
        'Card {card} of person {person}, {date} {slot} (row {row}, column {column}): the finished label does not say "{text}". ' + _FAULT
    ),
    "paper.label-has-more": (
        'Card {card} of person {person}, {date} {slot} (row {row}, column {column}): the finished label says "{text}", '
        "which the plan does not put there. " + _FAULT
    ),
    "paper.sheet-differs": 'A finished sheet says "{found}" where the orders say "{expected}" ({what}). ' + _FAULT,
    "paper.sheet-has-more": 'A finished sheet says "{found}" ({what}), which nothing in the orders or the plan says there. ' + _FAULT,
    "paper.sheet-lacks": 'A finished sheet does not say "{text}" ({what}). ' + _FAULT,
    "paper.box-differs": "A finished record marks a day as due that is not, or leaves one out ({what}). " + _FAULT,
    "paper.doses-gone-not-known": (
        "Card {card} is for when it is needed: there are labels for all {many} doses that keep, and its header says that many. "
        "Lay in as many, or void the labels of those that are gone."
    ),
    "paper.card-called-back": (
        "Card {card} of person {person}: nothing is given from it from {since} on, because it is called back or replaced. "
        "The sheet that holds until the card is right says what to give; the person is named on the list, and has no row."
    ),
    "paper.card-differs-from-orders": (
        "Card {card} of person {person}, {date} {time} {slot}: order {order} asks for {expected}, and the card holds {found}. "
        "Settle the card first; a sheet would contradict one of the two."
    ),
    "paper.card-waits": (
        "Card {card} of person {person} goes on as it is to {last}: a pharmacist has decided that the change waits. "
        "The sheet says what lies in the card; what is new begins with the next one."
    ),
    "paper.days-not-known": (
        "Order {order} of person {person}, {medicine}: no dosing times can be worked out for days without a card, from {date} on. "
        "Have its directions confirmed, or plan those days first."
    ),
    "paper.not-in-that-language": (
        'Sheets of person {person}: "{text}" cannot be said in that language ({lang}) without changing it. '
        "Choose English, or have it said by a person."
    ),
    "paper.left-untranslated": (
        'Sheets of person {person}: "{text}" stands on the sheet as it was given: there is no entry for it in that language ({lang}). '
        "Explain it when you hand the sheet over, or choose English."
    ),
    "paper.as-needed-limit-not-stated": (
        "Order {order} of person {person}, {medicine}, given when needed: the directions do not state {lacking}. "
        "The record has a place to write it; have the prescriber say it before the first dose."
    ),
    "paper.header-does-not-fit": (
        "Card {card} of person {person}: the name, identifiers or pharmacy do not fit the header at the smallest size. "
        "Use a card format with a larger header."
    ),
    "paper.name-does-not-fit": (
        'Labels of person {person}: the name "{text}" does not fit its place at the smallest size, and no name is cut or broken inside a '
        "word. Use a card format with larger labels, or correct the name where it comes from."
    ),
    "paper.header-field-does-not-fit": (
        'Card {card} of person {person}: "{text}" does not fit its place on the header at the smallest size. '
        "Write it shorter where it comes from, or use a card format with a larger header."
    ),
    "paper.header-word-does-not-fit": (
        'Card {card} of person {person}: "{text}" stays on one line and is wider than a column of the header at the smallest size. '
        "Write it shorter or as more words where it comes from, or use a card format with a larger header."
    ),
    "paper.header-needs-continuation": (
        "The medicines do not fit one header at the profile's smallest size, and the profile allows no second one. "
        "Use a card format with a larger header, or spread the medicines over more cards."
    ),
    "paper.header-entry-does-not-fit": (
        'Card {card} of person {person}: "{text}" with its directions and cautions is longer than a whole header at the smallest size. '
        "Shorten them in the medicines file, or use a card format with a larger header."
    ),
}

"""Sentences for what core.custody finds."""

__all__ = ["DEEDS", "SENTENCES"]

# What a card cannot be, where the deed's own word does not follow "it cannot be"
DEEDS: dict[str, str] = {
    "placed": "filled",
    "taken out": "emptied",
    "came back": "taken back",
    "not found": "listed as not found",
    "found again": "listed as found",
}

SENTENCES: dict[str, str] = {
    "rules.about-nothing": "Rule {rule} is about nothing. Write a generic name, or choose a product.",
    "rules.cards-hold": "Cards now under way that hold {medicine}: {many}. They keep the rules that they were planned by; look at each, "
    "and withdraw those that must not stay as they are.",
    "rules.cards-hold-both": "Cards now under way that hold {medicine} and {other}: {many} ({cards}). They keep the rules that they were "
    "planned by; look at each, and withdraw those that must not stay as they are.",
    "rules.codes-differ": "Rule {rule}: {found} contradict each other: ok stands alone, or with T and days.",
    "rules.field-empty": "Rule {rule}: {field} is empty. Each rule has its reason, its source with a date, and why it was changed.",
    "rules.name-not-held": "Rule {rule}: no product here has {found} in its generic name. If that is not meant, mend the spelling.",
    "rules.no-distance": "Rule {rule} keeps nothing apart: both lengths of time are zero. Write one of them, or put the rule out of force.",
    "rules.no-minutes-here": "Rule {rule} is about one cavity and has no minutes. Leave them out, or write a rule about time.",
    "rules.no-word": "Rule {rule}: {found} is no word of a generic name. Write whole words, such as calcium carbonate.",
    "rules.not-by-product": "Rule {rule} is about a form or a flag: no generic name or product belongs to it.",
    "rules.not-yours": "Rule {rule} stands as it ships: there is nothing of this pharmacy's to take back.",
    "rules.nothing-to-decide": "Order {order}, {medicine}: there is nothing to decide ({rule}). What is excluded stays out of cards, "
    "and what no rule holds back goes in.",
    "rules.other-kind": "Rule {rule} is a rule of another kind, and stays one. Change it as what it is, or add a new rule.",
    "rules.own-out-of-force": "Rule {rule} does not ship, so there is nothing to put out of force. Take it back instead.",
    "rules.pair-about-nothing": "Rule {rule} is about nothing. Write at least one generic name of the medicine that it is about.",
    "rules.too-far": "Rule {rule}: the times apart must be from 0 to {longest} minutes; {longest} already means never on one day.",
    "rules.unknown-code": "Rule {rule}: {found} is no code. Write one or more of {codes}.",
    "rules.unknown-product": "Rule {rule}: no product has the code {medicine}. Bring the medicines in first, or mend the code.",
    "custody.wrong-stage": "Card {card} is {stage}: it cannot be {deed} now. Do first what comes before, or look at the card's history.",
    "custody.old-labels": "Card {card} still bears its old labels: it cannot be {deed} before they are void and the new ones are on.",
    "custody.card-not-found": "Card {card} is listed as not found: it cannot be {deed}. Say that it is found first.",
    "custody.out-of-date": "The orders behind card {card} have changed: it cannot be {deed} until a pharmacist has decided about it.",
    "custody.no-right": "A {role} may not {what} here. Ask somebody who may.",
    "custody.other-home": "{name} may see and do only what belongs to their own home.",
    "custody.not-there": "There is no {kind} {id}. Scan or type it again.",
    "custody.no-reason": "A reason is needed. Write in a few words why.",
    "custody.moved-on": "Something happened to card {card} after you began to count. Read the orders again, and count again.",
    "custody.not-recalled": "Lot {lot} of {medicine} is not recalled: there is nothing to lift.",
    "custody.nobody-named": "A name is needed. Write who takes it.",
    "custody.unknown-choice": "{choice} is not one of the choices here. Choose: {choices}.",
    "custody.not-out-of-date": "Card {card} is not out of date: there is nothing to decide about it.",
    "custody.key-used": "This idempotency key came with another request before. Send each new request with a new key.",
    "custody.no-key": "A request that changes something needs the header Idempotency-Key: 8 to 80 letters, digits, dashes, new for each.",
    "custody.no-such-address": "There is nothing at this address. The addresses are listed in openapi.json.",
    "custody.request-too-large": "The request is larger than {most} MiB. Split it by home or by person.",
    "custody.request-wrong": "{field}: {why}.",
    "custody.token-beyond-maker": "A program makes no token that reaches beyond its own: {what}. Leave that out, or make it at the bench.",
    "custody.token-for-nobody": "Nobody signs in by this name. Choose the account in whose name the program acts.",
    "custody.token-home": "{home} is no home that is known here, or not the home of the account. Choose the account's own home or none.",
    "custody.token-more-than-role": "A {role} may not do this: {what}. Take it out, or choose another account.",
    "custody.token-no-rights": "Choose at least one thing that the program may do.",
    "custody.token-not-given": "This token was not given the right to {what}. Ask the pharmacy for one that was.",
    "custody.token-over": "This token counts no more: {why}. Ask the pharmacy for a new one.",
    "custody.token-signs-for-another": "Only {name} may let a program do this in their name: {what}. Let them make the token.",
    "custody.token-unknown": "No known token came with the request. Send the header Authorization: Bearer, then the token.",
    "custody.token-until": "The last day must lie from {first} to {last}.",
    "custody.too-often": "Too many requests. Wait {seconds} seconds and send it again.",
    "custody.whole-pharmacy": "{name} may see and do only what belongs to one home, and this concerns the whole pharmacy.",
    "custody.wrong-password": "The password does not fit. A release needs the pharmacist's own, each time.",
    "custody.account-taken": "Somebody signs in by this name already. Choose another.",
    "custody.name-has-account": (
        "Somebody of this printed name has an account already, open or closed. Nobody has two: who filled by one could check by the other. "
        "If they are two people, write how you know that they are."
    ),
    "custody.carer-needs-home": "A carer belongs to a home that is known here. Name it.",
    "custody.part-broke": "This part of the work ({kind}) broke off inside the program. Nothing of it was kept: do it alone, report it.",
    "custody.nobody-to-hand-to": "Nobody who works at the bench signs in by {username}. Choose somebody from the list.",
    "custody.pin-guessed": "This PIN is easily guessed. Choose digits that are not all the same and do not count up or down.",
    "custody.pin-not-digits": "A PIN is {least} to {most} digits, 0 to 9, and nothing else.",
    "custody.home-is-a-carer-s": "A {role} works for all homes. Leave the home empty, or make them a carer.",
    "custody.weak-password": "The password will not do: {why}",
    "custody.already-settled": "Order {order} has been settled already: {standing}. To change it, stop it and enter a new one.",
    "custody.restated-not-read": "Order {order}: the directions written anew have no single reading. Write them so that they have.",
    "custody.reading-refused": (
        "Order {order}: nothing can be scheduled from these directions. Write them anew after asking the prescriber, or reject it."
    ),
    "custody.reading-not-chosen": "Order {order}: the directions have several readings. Choose the one that is meant.",
    "custody.words-and-structure": "Order {order}: its words and its structure do not say the same. Choose which is meant, and say why.",
    "custody.wording-gone": "The remembered wording was revoked, or these words are read otherwise now. Choose which reading is meant.",
    "custody.wording-known": "These words are remembered already. Revoke what is remembered first.",
    "custody.wording-not-confirmed": "Only what was chosen among the readings of a confirmed order can be remembered.",
    "custody.wording-of-safety": "These words leave a question of safety open: it is asked each time, and never remembered.",
    "custody.wording-revoked": "This wording was revoked before. Nothing was changed.",
    "custody.replacing-needs-start": "Order {order} takes another's place: say from which day and dosing time.",
    "custody.same-medicine": "Order {order}: {medicine} is ordered already ({orders}). Say whether this replaces it or counts beside it.",
    "custody.same-substance": (
        "Order {order}: another product of the same substance is ordered already ({orders}). "
        "Say whether this replaces it or counts beside it."
    ),
    "custody.needs-start": "Order {order} has a rhythm or a length of its own: say from which day it runs.",
    "custody.not-schedulable": "Order {order} cannot be put on days and dosing times as it stands. Set a start or a day to count from.",
    "custody.not-confirmed": "Order {order} is not confirmed, so it cannot be stopped. Reject it instead.",
    "custody.end-before-start": "Order {order} cannot end before it begins.",
    "custody.days-already-planned": "Card {card} already covers some of these days, until {last}. Withdraw it, or plan the days after it.",
    "custody.days-out-of-range": "{days} days cannot be planned at one go. Choose from 1 to {longest}.",
    "custody.nothing-to-plan": "No confirmed order has a dose on these days. Confirm what was read first.",
    "custody.order-waits": "Order {order} waits for a pharmacist. Nothing is planned while an order of these days is unconfirmed.",
    "custody.order-not-used": (
        "Order {order} of {file} could not be used. Nothing is planned until a pharmacist has settled it, "
        "or it comes in again without fault."
    ),
    "custody.sheet-changed-meanwhile": "What the sheet shows was changed at another station meanwhile. Nothing was kept: make it again.",
    "custody.nothing-to-print": "There is nothing to print about {what}: no order, no card and no dose for those days.",
    "custody.orders-wait": "Orders of {name} that wait for a pharmacist: {many}; they are not on this sheet.",
    "custody.changed-meanwhile": "Set {set} was changed at another station while its paper was drawn. Nothing was kept: print it again.",
    "custody.copy-without-reason": "This was printed before. Say why copy {copy} is needed: it stands on every sheet of it.",
    "custody.copy-reason-too-long": "The reason has {found} characters. It stands on every sheet: say it in {most} or fewer.",
    "custody.no-label-named": "Tick at least one label of a sheet that was printed for this set.",
    "custody.label-not-there": "{many} of these labels of card {card} were never printed on this sheet, or are voided already. Look again.",
    "custody.label-needed": (
        "{many} of these labels are the only ones of their places on card {card}. Print a further copy first, then void these."
    ),
    "custody.times-changed": "Orders or dosing times have changed since this was shown. Nothing was taken up: look at it as it is now.",
    "custody.times-day-begun": "{date} has begun already. Choose a later first day, so that nobody takes a dose twice or not at all.",
    "custody.times-lose-doses": "At the new times some day would have more or less of a medicine. Nothing was taken up: report it.",
    "custody.times-nothing-to-take-up": "Nothing would move. Today's dosing times stay.",
    "custody.wrong-file": "{file} cannot be read: {why}",
    "custody.seen-before": "Order {order} came before, word for word. Nothing was changed.",
    "custody.person-differs": "{name} is on record with another home, room or address. The record was kept; compare and correct it.",
    "custody.other-person": (
        "Person {person} is {known} here, but {said} in the file: name or birth date differ. Their orders were not taken. Ask the sender."
    ),
    "custody.other-product": (
        "Medicine {medicine} is {known} here, but {said} in the file. The row was not taken: give the other product a code of its own."
    ),
    "custody.pack-code-taken": (
        "Medicine {medicine}: its pack's code {gtin} belongs to {holder} here. The row was not taken: look at both packs."
    ),
    "custody.near-miss-unsaid": "Say in a few words what it was: none of the other kinds fits.",
    "custody.day-to-come": "{date} is still to come. Say what changed on a day that has been.",
    "custody.nothing-changed": "Nothing differs from what is on record. Change what is wrong, or leave it as it is.",
    "custody.person-twice": (
        "{name}, born the same day, is on record already as {other}. Records are never merged: say that they are two people, "
        "or stop this record's orders and bring them in under the other."
    ),
    "custody.setting-wrong": "This cannot stand: {why}",
    "custody.setting-not-one": (
        "The value must be one value, as its line shows it: a number, true or false, a text in quotes. Nothing beside it may change."
    ),
    "custody.timetable-wrong": "These dosing times cannot stand: {why}",
    "custody.timetable-not-here": "There are no dosing times of its own to take away: it follows others already.",
    "custody.clock-back": "Entry {entry} bears an earlier time than the one before it: the clock was set back.",
    "custody.ledger-tail": "The ledger's end is not where its own record says: entry {entry} is expected last, entry {found} is.",
    "custody.ledger-cut-off": "The exported head names entry {entry}, but the ledger ends at entry {found}: its tail was cut off.",
    "custody.ledger-head-differs": "Entry {entry} is not the one that the exported head names: the ledger was rewritten.",
    "custody.ledger-gap": "Entry {entry} stands where entry {expected} should: an entry was taken out, put in or moved.",
    "custody.ledger-link": "Entry {entry} does not follow from the one before it: an entry was changed, taken out, put in or moved.",
    "custody.ledger-changed": "Entry {entry} does not match its own hash: it was changed.",
}

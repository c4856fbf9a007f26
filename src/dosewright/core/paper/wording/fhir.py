"""Sentences for what stops the reading of a FHIR structure. `path` is the element."""

__all__ = ["SENTENCES"]

SENTENCES: dict[str, str] = {
    "fhir.below-zero": "{path}: an amount below zero cannot be given.",
    "fhir.both-choices": "{path}: {element} is stated in two ways that exclude each other. Keep one.",
    "fhir.codes-differ": "{path}: the codings say different things: {codes}. Keep one.",
    "fhir.comparator": "{path}: an amount with a comparator is no exact amount. State the amount.",
    "fhir.date-without-a-day": "{path}: {value} names no day. State the day of the dose.",
    "fhir.empty": "{path}: {element} is empty. Leave it out or fill it in.",
    "fhir.modifier-extension": "{path}: a modifier extension ({url}) may change the meaning. Enter the order by hand.",
    "fhir.no-unit-of-time": '{path}: "{unit}" and "{value}" do not name one unit of time. State s, min, h, d, wk, mo or a.',
    "fhir.not-an-object": "{path}: there is no element with something in it here.",
    "fhir.ratio-incomplete": "{path}: a maximum needs an amount and a length of time.",
    "fhir.unit-differs": '{path}: the unit "{unit}" and the code "{value}" name different things. Correct one of them.',
    "fhir.unknown-code": '{path}: {element} has the code "{value}", which FHIR R4 does not have there.',
    "fhir.unknown-element": "{path}: FHIR R4 has no element {element} here. Correct it, or enter the order by hand.",
    "fhir.unknown-extension": "{path}: the extension {url} is not understood and may change the meaning. Enter the order by hand.",
    "fhir.value-missing": "{path}: the value is missing.",
    "fhir.wrong-value": "{path}: {element} is {value}; it must be {wanted}.",
}

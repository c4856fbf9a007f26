"""Sentences for what is found in a bundle and its resources; {path} is the place as FHIRPath writes it."""

__all__ = ["SENTENCES"]

_AT = "{file}, {resource}, {path}: "

SENTENCES: dict[str, str] = {
    "bundle.entry-not-stated": _AT
    + "the entry asks for {method}, which states no order; only entries with POST, PUT or no request are used.",
    "bundle.kind": _AT + "a bundle of type {kind} does not state the orders in force; send a collection, a searchset or a transaction.",
    "bundle.more-pages": _AT + "this is one page of several, so orders may be missing; send all pages in one bundle.",
    "bundle.nested": _AT + "a bundle inside the bundle is not read; send its entries in the bundle itself.",
    "bundle.not-read": _AT + "resources of these types are not read: {kinds}.",
    "resource.contained-in-contained": _AT + "a contained resource must not contain another; reference it instead.",
    "resource.cyclic-reference": _AT + "this medication is made of itself, by way of its ingredients; correct the references.",
    "resource.dangling-reference": _AT + "“{reference}” is not in this file; add the resource, or correct the reference.",
    "resource.duplicate-id": _AT + "{id} stands in this file more than once, and none of them is used; send each resource once.",
    "resource.empty": _AT + "nothing stands here; FHIR leaves an empty element out.",
    "resource.entry-broken": _AT + "the entry around this resource breaks FHIR R4, so the resource is not used; correct the entry.",
    "resource.forbidden-character": _AT + "the text holds {character}, which cannot be shown and may disguise the text; take it out.",
    "resource.implicit-rules": _AT + "the resource follows rules that are not known here, so it is not used; send it without them.",
    "resource.missing-element": _AT + "{element} is missing; FHIR R4 requires it.",
    "resource.medication-not-active": _AT + "the medication is {status}; only an active one is used.",
    "resource.modifier-extension": _AT
    + "this extension may change the meaning and is not known here; say it in the standard's own elements.",
    "resource.no-code": _AT + "no code names the medicine, and words alone are not enough; send a code of the medicines file.",
    "resource.no-id": _AT + "the resource has neither an id nor a fullUrl; give it one, so that it can be named.",
    "resource.no-such-day": _AT + "{value} is not in the calendar; correct the day.",
    "resource.one-of": _AT + "FHIR R4 wants one of these, and not two: {element}.",
    "resource.reference-of-other-type": _AT + "“{reference}” is a resource of another type; correct the reference.",
    "resource.reference-to-broken": _AT + "“{reference}” cannot be used, for what is found there; mend that first.",
    "resource.reference-to-duplicate": _AT + "“{reference}” means more than one resource in this file; send each resource once.",
    "resource.several-medicines": _AT + "the codes name different medicines of the medicines file ({codes}); leave the one that is meant.",
    "resource.strength-differs": _AT
    + "“{text}” is not the strength of {medicine}, which the code names; correct the code or the strength.",
    "resource.strength-unreadable": _AT + "this strength cannot be compared: give a value and a known unit, without a comparator.",
    "resource.text-contradicts-code": _AT
    + "“{text}” contradicts the code, which names {medicine} (the {what} differs); correct one of them.",
    "resource.text-too-long": _AT + "the text has {length} characters; at most {longest} are read.",
    "resource.unknown-element": _AT + "FHIR R4 has no element {element} here; take it out, or correct its name.",
    "resource.unknown-medicine": _AT + "no medicine of the medicines file has the code {codes}; add the medicine, or correct the code.",
    "resource.wrong-form": _AT + "“{value}” is not written as FHIR R4 wants it here.",
    "resource.wrong-type": _AT + "“{value}” stands here, where FHIR R4 wants a value of type {expected}.",
    "resource.wrong-value": _AT + "“{value}” stands here, where FHIR R4 allows {expected}.",
    "patient.born-partial": _AT + "{value} is no whole date of birth; it is left out, and does not help to tell people apart.",
    "patient.died": _AT + "this person is recorded as having died; no order of theirs is used.",
    "patient.no-name": _AT + "no current name (official, usual or without a use) is given; give the name that is to be printed.",
    "patient.not-active": _AT + "this record is not in use; send the orders under the person's active record.",
    "patient.replaced": _AT + "this record was replaced by another; send the orders under that one.",
}

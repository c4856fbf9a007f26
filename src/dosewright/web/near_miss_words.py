"""Near misses in the bench's plain words: kinds, where they are noticed, what made them easy, what they could have done."""

from collections.abc import Mapping

from dosewright.core.checking.turn import Turn
from dosewright.core.custody.near_miss import Cause, Harm, NearMissKind, NoticedAt, Origin

__all__ = ["CAUSES", "HARMS", "KINDS", "NOTICED", "ORIGINS", "TURNS"]

KINDS: Mapping[NearMissKind, str] = {
    NearMissKind.MISSING: "A unit is missing",
    NearMissKind.EXTRA: "A unit too many",
    NearMissKind.WRONG_MEDICINE: "Another medicine",
    NearMissKind.WRONG_STRENGTH: "Another strength",
    NearMissKind.WRONG_PLACE: "Another day or time",
    NearMissKind.WRONG_DIRECTIONS: "Other directions",
    NearMissKind.BADLY_SPLIT: "Badly split",
    NearMissKind.DAMAGED: "Damaged or dirty",
    NearMissKind.WRONG_LABEL: "Wrong label or sheet",
    NearMissKind.STOPPED_MEDICINE: "A stopped medicine",
    NearMissKind.PAST_LAST_DAY: "Past its last day",
    NearMissKind.OTHER: "Something else",
}
NOTICED: Mapping[NoticedAt, str] = {
    NoticedAt.ORDER: "while reading an order",
    NoticedAt.FETCHING: "while fetching stock",
    NoticedAt.FILLING: "while filling",
    NoticedAt.CHECK: "at the check",
    NoticedAt.RELEASE: "at sealing or release",
    NoticedAt.DELIVERY: "at the door",
}
CAUSES: Mapping[Cause, str] = {
    Cause.NOT_KNOWN: "not known",
    Cause.ALIKE: "names, packs or units that look alike",
    Cause.INTERRUPTED: "an interruption",
    Cause.UNCLEAR: "an order, label or sheet that is hard to read",
    Cause.CHANGED: "a change in the middle of the work",
    Cause.BUSY: "too much at once",
    Cause.PLACE: "something in the wrong place",
}
HARMS: Mapping[Harm, str] = {
    Harm.NOT_KNOWN: "not known",
    Harm.NONE: "nothing worth speaking of",
    Harm.SOME: "some harm",
    Harm.SERIOUS: "serious harm",
}
ORIGINS: Mapping[Origin, str] = {
    Origin.PERSON: "noted by hand",
    Origin.CHECK: "sent back by a check",
    Origin.SCAN: "kept out by a scan",
    Origin.RELEASE: "kept back at release",
}
TURNS: Mapping[Turn, str] = {
    Turn.SAID: "It stands beside the points, no more",
    Turn.LEFT_OUT: "Its cause is known: this week or month is left out of the limits",
    Turn.ANEW: "The work is another one from then on: new limits from here",
}

"""By which way a medicine enters the body, as an order says it: only what is taken by mouth may lie in a card.

Comes in: the dosages of an order. Goes out: the words of the first way that is not by mouth, or "". A way that is not known here counts as
another way: an order is kept out of a card rather than put in. Source of the rule: the shipped suitability rules for buccal and
sublingual forms ("by another route and at another time"). Codes: SNOMED CT 26643006 and 260548002 as in the HL7 FHIR R4 examples; `PO` of
HL7 v3 RouteOfAdministration and 20053000 of the EDQM standard terms are from memory.
"""

import unicodedata
from collections.abc import Sequence

from dosewright.core.regimen.dosage import Coding, Dosage

__all__ = ["OTHER_WAY_UNITS", "OTHER_WAY_VERBS", "by_mouth", "is_swallowed", "other_way", "under_the_tongue"]


def _words_of(table: str) -> frozenset[str]:
    """Words between bars and at the ends of lines."""
    return frozenset(word.strip() for word in table.replace("\n", "|").split("|"))


_ORAL_CODES = frozenset({"26643006", "260548002", "20053000", "PO"})
_ORAL = _words_of(
    """by mouth|orally|oral|po|by oral route|oral route|oral use|via mouth|per oral|per os|peroral|for oral use|oral administration
    par la bouche|par bouche|par voie orale|voie orale|orale|usage oral
    por vía oral|por via oral|vía oral|via oral|por la boca|por boca|vo|uso oral
    durch den mund|zum einnehmen|orale anwendung"""
)
_SPEAKS_OF_MOUTH = frozenset({"oral", "orally", "orale", "mouth", "bouche", "boca", "mund"})
_NEAR = (
    "under the tongue", "under your tongue", "sublingual", "sous la langue", "bajo la lengua", "debajo de la lengua", "unter die zunge",
    "unter der zunge",
)  # fmt: skip
_UNDER_THE_TONGUE = frozenset({*_NEAR, "sublingually", "sl", "en sublinguale"})
# What is counted in these is not swallowed, whether a way is said or not.
OTHER_WAY_UNITS = frozenset({"patch", "drop", "puff", "spray", "application", "suppository", "pessary"})
# A verb that says the way by itself: "insert 1 tablet", "inhale 1 capsule".
OTHER_WAY_VERBS = _words_of(
    """apply|inject|insert|instil|instill|inhale|spray|appliquer|coller|à coller|injecter|inhaler|instiller|aplicar|pegar|inyectar|inhalar
    instilar|auftragen|kleben|aufkleben|inhalieren|spritzen"""
)


def by_mouth(route: Coding | None) -> bool:
    """Whether a route says "by mouth", or nothing."""
    if route is None or not (route.code or route.text):
        return True
    parts = [_plain_way(part) for part in route.text.split(";") if part.strip()]
    if route.code in _ORAL_CODES:  # its words must say so too, in whatever language its display is
        return all(part in _ORAL or not _SPEAKS_OF_MOUTH.isdisjoint(part.split()) for part in parts)
    return bool(parts) and all(part in _ORAL for part in parts)


def under_the_tongue(route: Coding | None) -> bool:
    """Whether a route's words say "under the tongue"."""
    return route is not None and _plain_way(route.text) in _UNDER_THE_TONGUE


def _plain_way(words: str) -> str:
    """ "P.O." and "Oral route (qualifier value)" as "po" and "oral route"."""
    text = unicodedata.normalize("NFC", words).casefold().replace("(qualifier value)", "").replace(".", "")
    return " ".join(text.split())


def other_way(dosages: Sequence[Dosage]) -> str:
    """The words of the first way, place or instruction of the dosages that is not by mouth; "" where all are taken by mouth."""
    for dosage in dosages:
        if not by_mouth(dosage.route):
            return _words(dosage.route)
        if dosage.site is not None:
            return _words(dosage.site)
        for said in (*(one.text for one in dosage.additional), dosage.patient_instruction):
            if any(near in _plain_way(said) for near in _NEAR):
                return said
    return ""


def is_swallowed(dosages: Sequence[Dosage]) -> bool:
    """Whether some amount may be swallowed: of drops and patches the way need not be asked, no card has them."""
    amounts = [amount.quantity or (amount.range.high if amount.range else None) for dosage in dosages for amount in dosage.amounts]
    return any(amount is None or amount.unit not in OTHER_WAY_UNITS for amount in amounts)


def _words(said: Coding | None) -> str:
    return (said.text or said.code) if said else ""

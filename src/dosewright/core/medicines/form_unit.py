"""The word in which a form is counted: a tablet form in tablets, a liquid in mL. Comes in: a form. Goes out: a unit, or None.

The deciding word is the last one before "for", "in" or "with": "powder for oral solution" is a powder. Source: EDQM standard terms for
pharmaceutical dose forms; the counting words are common practice, no source.
"""

import re

from dosewright.core.units.quantity import Unit

__all__ = ["KNOWN_FORM_WORDS", "unit_of_form"]

_UNITS: dict[str, str] = {
    "application": "cream foam gel lotion ointment paste shampoo",
    "capsule": "capsule",
    "drop": "drops",
    "enema": "enema",
    "film": "film",
    "gum": "gum",
    "lozenge": "lozenge pastille",
    "lyophilisate": "lyophilisate wafer",
    "mL": "elixir emulsion injection liquid linctus mixture mouthwash solution suspension syrup",
    "patch": "patch",
    "pessary": "pessary",
    "puff": "inhaler",
    "sachet": "granules powder sachet",
    "spray": "spray",
    "suppository": "suppository",
    "tablet": "caplet tablet",
}
_BY_WORD = {word: Unit(unit) for unit, words in _UNITS.items() for word in words.split()}
KNOWN_FORM_WORDS = tuple(sorted(_BY_WORD))


def unit_of_form(form: str) -> Unit | None:
    """The singular counting word of a form, None where the form is not known: "gastro-resistant tablet" → "tablet"."""
    head = re.split(r" (?:for|in|with) ", form)[0].split()
    return _BY_WORD.get(head[-1]) if head else None

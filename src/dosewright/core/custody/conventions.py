"""Which questions of the reader are about a convention, so that a pharmacy's answer may be remembered for the same words. Everything else
is a question of safety and is asked each time: what is not in this table is never remembered.

One row a question, with the reason why it may stand here. All are about the name of a time of day; none about how much, how often, on which
days or for how long, and `wordings` holds that against the meanings themselves. Ours, no source: to be confirmed by the pharmacy.
"""

from collections.abc import Mapping
from types import MappingProxyType

__all__ = ["CONVENTIONS"]

CONVENTIONS: Mapping[str, str] = MappingProxyType(
    {
        "read.word": "a meal's name, such as dinner or tea, is one meal in one house and another in the next; the amount is written",
        "read.which-meals": "which meals “with meals” means is the kitchen's custom; the amount at each is written",
        "read.afternoon": "a home has its own dosing time for what comes after noon; the amount is written",
        "read.night": "a home gives its night medicines at one of two dosing times; the amount is written",
        "read.hour": "a clock time without morning or evening is the round that the home has at that hour; the amount is written",
    }
)

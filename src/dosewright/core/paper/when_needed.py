"""What paper says where a column has no day and no dosing time: only when needed, the most in 24 hours, how long apart. Words out."""

from dosewright.core.packing.plan_values import WhenNeeded
from dosewright.core.paper.material import Material
from dosewright.core.paper.medicine_words import total_words

__all__ = ["ONLY_WHEN_NEEDED", "limit_words"]

ONLY_WHEN_NEEDED = "Only when needed"
_HOUR = 60


def limit_words(said: WhenNeeded, material: Material) -> str:
    """ "at most 8 tablets in 24 hours, at least 4 hours apart"."""
    most = f"at most {total_words(material.medicine(said.medicine), said.most.count)} in 24 hours"
    return f"{most}, at least {_span(said.apart)} apart" if said.apart else most


def _span(minutes: int) -> str:
    if minutes % _HOUR:
        return f"{minutes} minutes"
    return f"{minutes // _HOUR} {'hour' if minutes == _HOUR else 'hours'}"

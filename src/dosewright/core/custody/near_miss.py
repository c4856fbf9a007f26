"""What kinds of error are caught before release. Source: error classes of published audits of multi-dose packs, in plain words."""

from enum import StrEnum

__all__ = ["NearMissKind"]


class NearMissKind(StrEnum):
    """One word a class; `OTHER` needs its reason to say what."""

    MISSING = "missing"  # a unit that should be there is not
    EXTRA = "extra"
    WRONG_MEDICINE = "wrong medicine"
    WRONG_STRENGTH = "wrong strength"
    WRONG_PLACE = "wrong day or time"
    BADLY_SPLIT = "badly split"
    DAMAGED = "damaged"
    WRONG_LABEL = "wrong label"
    STOPPED_MEDICINE = "stopped medicine"
    OTHER = "other"

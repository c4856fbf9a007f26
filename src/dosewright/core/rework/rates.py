"""What it costs to put a card right, as numbers: minutes for each step, expected errors, lead times, and what each weighs in a ranking.

Read from a TOML file that the pharmacy edits; the file has the source of every line.
"""

from dataclasses import dataclass
from fractions import Fraction

__all__ = ["Errors", "Hours", "Minutes", "Rates", "Weights"]


@dataclass(frozen=True, slots=True)
class Minutes:
    """At the bench. `check_seal_label` and `new_header` count once a card, `fetch_medicine` once a medicine, `carry` each way."""

    discard_card: Fraction
    check_seal_label: Fraction
    place_piece: Fraction
    take_piece: Fraction
    open_cavity: Fraction
    fetch_medicine: Fraction
    new_header: Fraction
    carry: Fraction


@dataclass(frozen=True, slots=True)
class Errors:
    """Expected wrong handling of one piece, and the share of errors that the check lets pass."""

    per_piece: Fraction
    missed_by_check: Fraction


@dataclass(frozen=True, slots=True)
class Hours:
    """By the clock, day and night: getting a card back, bringing one out."""

    collect: Fraction
    deliver: Fraction


@dataclass(frozen=True, slots=True)
class Weights:
    """As many minutes at the bench as each is worth."""

    unit_wasted: Fraction
    cavity_disturbed: Fraction
    dose_at_risk: Fraction
    error: Fraction


@dataclass(frozen=True, slots=True)
class Rates:
    """The pharmacy's figures."""

    minutes: Minutes
    errors: Errors
    hours: Hours
    weights: Weights

"""What kinds of error are caught before release, where, and which refusals of the bench's own are near misses as well.

Source: error classes of published audits of multi-dose packs (STANDARDS.md 3.2), fields of near-miss logs (9.3), in plain words.
"""

from collections.abc import Collection, Iterable, Iterator, Mapping
from enum import StrEnum
from fractions import Fraction

from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import MedicineCode

__all__ = ["Cause", "Harm", "NearMissKind", "NoticedAt", "Origin", "caught_by_scan", "caught_on_release", "check_near_miss"]


class NearMissKind(StrEnum):
    """One word a class; `OTHER` needs its reason to say what."""

    MISSING = "missing"  # a unit that should be there is not
    EXTRA = "extra"
    WRONG_MEDICINE = "wrong medicine"
    WRONG_STRENGTH = "wrong strength"
    WRONG_PLACE = "wrong day or time"
    WRONG_DIRECTIONS = "wrong directions"
    BADLY_SPLIT = "badly split"
    DAMAGED = "damaged"
    WRONG_LABEL = "wrong label"
    STOPPED_MEDICINE = "stopped medicine"
    PAST_LAST_DAY = "past its last day"
    OTHER = "other"


class NoticedAt(StrEnum):
    """Where in the work it was noticed."""

    ORDER = "order"
    FETCHING = "fetching"
    FILLING = "filling"
    CHECK = "check"
    RELEASE = "release"
    DELIVERY = "delivery"


class Origin(StrEnum):
    """How it came to be noted. Only what a check sent back counts among the checks of the p-chart."""

    PERSON = "person"
    CHECK = "check"
    SCAN = "scan"
    RELEASE = "release"


class Cause(StrEnum):
    """What made it easy to happen: about the work, never about somebody."""

    NOT_KNOWN = ""
    ALIKE = "alike"
    INTERRUPTED = "interrupted"
    UNCLEAR = "unclear"
    CHANGED = "changed"
    BUSY = "busy"
    PLACE = "place"


class Harm(StrEnum):
    """What it could have done, had nobody noticed."""

    NOT_KNOWN = ""
    NONE = "none"
    SOME = "some"
    SERIOUS = "serious"


def check_near_miss(kind: NearMissKind, note: str) -> tuple[Finding, ...]:
    """A stop for "something else" that nobody says in words. Nothing else must be written: whoever notes it has no time."""
    if kind is NearMissKind.OTHER and not note.strip():
        return (Finding("custody.near-miss-unsaid", Severity.STOP),)
    return ()


def caught_by_scan(
    findings: Iterable[Finding], on_card: Collection[MedicineCode], names: Mapping[MedicineCode, str]
) -> tuple[NearMissKind, str] | None:
    """The near miss in a bottle that was refused, with what was in the hand; None where the refusal is none.

    It is one only where the scan names a product that no cavity of the card asks for: that bottle was fetched for the card and would have
    gone into it. A bottle of the same card taken before its turn, a lot that is short or a code that nobody has taught is everyday work.
    `names`: each product's generic name; the same name is another strength or maker of it.
    """
    for finding in findings:
        held = MedicineCode(str(finding.facts.get("scanned", "")))
        if finding.code == "supply.wrong-product" and held not in on_card:
            wanted = MedicineCode(str(finding.where["medicine"]))
            same = names.get(held) is not None and names.get(held) == names.get(wanted)
            return NearMissKind.WRONG_STRENGTH if same else NearMissKind.WRONG_MEDICINE, f"{held} in the hand for {wanted}"
    return None


def caught_on_release(findings: Iterable[Finding]) -> tuple[NearMissKind, ...]:
    """The kinds of error that kept a card from leaving after it had passed its check: contents or days that are wrong. Each once.

    A card that is not at that stage, or whose orders changed since, is no error of anybody's work and is not noted.
    """
    return tuple(dict.fromkeys(_on_release(findings)))


_CONTENTS = {"checking.not-in-plan": NearMissKind.WRONG_MEDICINE, "checking.no-such-cavity": NearMissKind.WRONG_PLACE} | dict.fromkeys(
    ("checking.after-beyond-use", "checking.after-expiry", "checking.expiry-before-beyond-use", "checking.card-past"),
    NearMissKind.PAST_LAST_DAY,
)


def _on_release(findings: Iterable[Finding]) -> Iterator[NearMissKind]:
    for finding in findings:
        if finding.severity is not Severity.STOP:
            continue
        if finding.code == "checking.cell-differs":
            yield NearMissKind.MISSING if _less(finding.facts) else NearMissKind.EXTRA
        elif finding.code in _CONTENTS:
            yield _CONTENTS[finding.code]


def _less(facts: Mapping[str, Fact]) -> bool:
    found, expected = facts["found"], facts["expected"]
    return isinstance(found, Fraction) and isinstance(expected, Fraction) and found < expected

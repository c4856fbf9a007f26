"""What goes into reading a line of directions, and what comes out: the setting it was written in, its meanings, its questions."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from dosewright.core.regimen.dosage import Dosage
from dosewright.core.units.finding import Fact, Finding

__all__ = ["Choice", "Place", "Question", "Reading", "ReadingStatus", "Setting"]

Place = tuple[int, int]  # first letter and the one after the last, counted in the text as received


class ReadingStatus(StrEnum):
    """`read`: one meaning. `decide`: several, or something is missing. `refuse`: nothing can be scheduled from it."""

    READ = "read"
    DECIDE = "decide"
    REFUSE = "refuse"


@dataclass(frozen=True, slots=True)
class Setting:
    """Where a line was written. `country` is an ISO 3166 code, "" where not known; `form` and `strength` are the ordered product's."""

    lang: str = "en"
    country: str = ""
    form: str = ""
    strength: str = ""


@dataclass(frozen=True, slots=True)
class Choice:
    """One thing the words may mean, whole: every dosage of the order."""

    dosages: tuple[Dosage, ...]
    facts: Mapping[str, Fact] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Question:
    """What a person must settle: a code, the facts, the letters it is about, and what it may mean where that can be said."""

    code: str
    facts: Mapping[str, Fact]
    span: Place
    choices: tuple[Choice, ...] = ()


@dataclass(frozen=True, slots=True)
class Reading:
    """The outcome for one line. `dosages` is empty unless `status` is `read`; `assumed` are defaults supplied, `notes` worth knowing."""

    status: ReadingStatus
    dosages: tuple[Dosage, ...] = ()
    assumed: tuple[Finding, ...] = ()
    questions: tuple[Question, ...] = ()
    notes: tuple[Finding, ...] = ()

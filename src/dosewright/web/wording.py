"""The bench's own words: where something was found, how grave it is, whose work it is.

The sentence of a finding comes from `core.paper.say`; a code without one is shown as itself rather than hidden.
"""

from collections.abc import Collection
from datetime import date

from dosewright.core.custody.event import Role
from dosewright.core.paper.say import say
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.web.dates import day_in_full

__all__ = ["say_alongside", "say_finding", "say_place", "say_roles", "say_severity"]

_SEVERITY = {Severity.STOP: "Stop", Severity.DECIDE: "Decide", Severity.NOTE: "Note"}
_PLACES = ("file", "line", "resource", "path", "field", "date", "slot")  # people, medicines and cards are in the sentence itself
_BARE = ("resource", "path", "file", "slot")  # shown without their own name in front
_ROLES = {
    Role.TECHNICIAN: "a technician",
    Role.CHECKER: "a checker",
    Role.PHARMACIST: "a pharmacist",
    Role.MANAGER: "the manager",
    Role.DRIVER: "a driver",
    Role.CARER: "a carer",
    Role.INSPECTOR: "an inspector",
}


def say_finding(finding: Finding) -> str:
    """The sentence; where the wording is missing, the code and its facts, so that nothing found is ever silent."""
    try:
        return say(finding)
    except KeyError:
        facts = ", ".join(f"{name} {value}" for name, value in finding.facts.items())
        return f"{finding.code}: {facts}" if facts else finding.code


def say_place(finding: Finding) -> str:
    """ "orders.json · MedicationRequest/12 · dosageInstruction[0].timing": the places that are known, widest first."""
    known = ((name, finding.where[name]) for name in _PLACES if finding.where.get(name) not in (None, ""))
    return " · ".join(_place(name, value) for name, value in known)


def _place(name: str, value: Fact) -> str:
    if isinstance(value, date):
        return day_in_full(value)
    return f"{value}" if name in _BARE else f"{name} {value}"


def say_roles(roles: Collection[Role]) -> str:
    """ "a technician or a pharmacist": in the order of the roles themselves."""
    words = [words for role, words in _ROLES.items() if role in roles]
    return " or ".join(filter(None, (", ".join(words[:-1]), *words[-1:])))


def say_severity(finding: Finding) -> str:
    """One word for how grave it is."""
    return _SEVERITY[finding.severity]


_ALONGSIDE = {
    "as-needed": "taken when needed, so in no card",
    "hazardous": "hazardous to handle",
    "controlled": "a controlled medicine",
    "route": "not taken by mouth",
    "suitability.decided": "decided by a pharmacist",
    "form.unknown": "its form is not known here",
}


def say_alongside(why: str) -> str:
    """Why something is not in a card: "a liquid"; a code without words of its own is shown with blanks for its marks."""
    return _ALONGSIDE.get(why) or why.split(".", 1)[-1].replace("-", " ").replace("_", " ")

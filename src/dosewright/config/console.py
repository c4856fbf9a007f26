"""Whoever types commands at the machine itself: there before any account is, and named as such in the ledger."""

import sys

from dosewright.actions.outcome import Outcome
from dosewright.cli.files import Unreadable
from dosewright.core.custody.event import Actor, Occasion, Role
from dosewright.core.paper.say import say
from dosewright.core.units.ids import StationId
from dosewright.devices.clock import SystemClock

__all__ = ["at_the_machine", "report"]


def at_the_machine() -> Occasion:
    """Now, at the machine, with a manager's rights: whoever may run commands there could write to the store anyway."""
    return Occasion(Actor("console", "at the machine", Role.MANAGER), SystemClock().now(), StationId("console"))


def report(outcome: Outcome, done: str) -> int:
    """Say what was done, or why not. The exit code. Raises Unreadable with all reasons where nothing was done."""
    if not outcome.done:
        raise Unreadable(" ".join(say(finding) for finding in outcome.findings))
    for finding in outcome.findings:
        print(f"{finding.severity}: {say(finding)}", file=sys.stderr)
    print(done)
    return 0

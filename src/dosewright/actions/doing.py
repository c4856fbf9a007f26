"""What every action has in common: one transaction, the right to do it, a form's second submit known for one, and refusals on record.

An action's own function asks core and saves; whatever it saved before it was refused is undone here, and the refusal is written instead.
Only a file that is of no use is kept beside its refusal (`not_used`).
"""

from collections.abc import Callable
from functools import wraps
from typing import Concatenate, ParamSpec, TypeVar

from django.db import transaction

from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.rights import Ability, check_right
from dosewright.core.units.finding import Finding, Severity
from dosewright.store.attempts import claim_attempt, save_outcome
from dosewright.store.ledger import append_entry
from dosewright.store.missing import Missing
from dosewright.store.turns import write_turn
from dosewright.store.value_json import format_value, parse_value

__all__ = ["doing"]

_DONE = format_value(done(()))  # what nearly every deed leads to
_LONGEST = 300  # characters of a subject's name in the ledger: a file may be called anything

P = ParamSpec("P")
S = TypeVar("S")
Work = Callable[Concatenate[S, Occasion, P], Outcome]


def doing(ability: Ability, kind: str) -> Callable[[Work[S, P]], Work[S, P]]:
    """Make a function an action that takes this ability. Its first argument is the id of a `kind`, its second the occasion.

    The action bears its `ability`, so that tests can walk them all.
    """

    def make(work: Work[S, P]) -> Work[S, P]:
        @wraps(work)
        def act(subject: S, on: Occasion, /, *args: P.args, **kwargs: P.kwargs) -> Outcome:
            with write_turn():
                before = claim_attempt(on, ability.value, str(subject), _DONE)
                if before is not None:
                    return parse_value(Outcome, before)
                outcome = _attempt(ability, on, lambda: work(subject, on, *args, **kwargs))
                if not outcome.done:
                    _record_refusal(ability, (kind, str(subject)[:_LONGEST]), on, outcome)
                if (said := format_value(outcome)) != _DONE:
                    save_outcome(on, ability.value, str(subject), said)
                return outcome

        act.ability = ability  # type: ignore[attr-defined]
        return act

    return make


def _attempt(ability: Ability, on: Occasion, work: Callable[[], Outcome]) -> Outcome:
    if findings := check_right(on.by, ability):
        return not_done(findings)
    with transaction.atomic():
        try:
            outcome = work()
        except Missing as missing:
            outcome = not_done((Finding("custody.not-there", Severity.STOP, facts={"kind": missing.kind, "id": missing.name}),))
        if not outcome.done and not outcome.made:
            transaction.set_rollback(True)
    return outcome


def _record_refusal(ability: Ability, subject: tuple[str, str], on: Occasion, outcome: Outcome) -> None:
    codes = tuple(sorted({finding.code for finding in outcome.findings}))
    append_entry(on, "refused", subject, {"what": ability.value, "codes": codes})

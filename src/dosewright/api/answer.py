"""What every answer that is not a thing asked for looks like: whether it was done, what came of it, and findings in one shape.

Comes in: an action's outcome, or one finding. Goes out: JSON and a status that a program can go by; the findings are the same either way.
"""

from typing import Any

from django.http import HttpResponse, JsonResponse
from ninja import Schema

from dosewright.actions.outcome import Outcome, not_done
from dosewright.core.custody.answering import finding_key
from dosewright.core.interop.findings_json import finding_in_json
from dosewright.core.units.finding import Fact, Finding, Severity

__all__ = ["REFUSALS", "Answer", "FindingOut", "Refused", "answer", "finding_out", "refusal", "stop"]

_STATUS = {
    "custody.no-right": 403,
    "custody.other-home": 403,
    "custody.wrong-password": 403,
    "custody.not-there": 404,
    "custody.key-used": 409,
}
REFUSALS = (400, 401, 403, 404, 409, 413, 422, 429)  # every status of an answer that was not done


class FindingOut(Schema):
    """One thing found: the code is in docs/findings.md, the sentence says what would mend it; a reason is given for its `key`."""

    code: str
    severity: str
    where: dict[str, Any]
    facts: dict[str, Any]
    message: str
    key: str


class Answer(Schema):
    """`made`: ids of what came of it, as the action says."""

    done: bool
    made: list[str]
    findings: list[FindingOut]


class Refused(Exception):
    """The request is not let in; `status` is HTTP's."""

    def __init__(self, status: int, findings: tuple[Finding, ...]) -> None:
        super().__init__(status)
        self.status = status
        self.findings = findings


def answer(outcome: Outcome, **more: str) -> HttpResponse:
    """200 where it was done, and then with what the answer gives besides; else 403, 404 or 422 by what stands against it."""
    return _json(outcome, 200, **more) if outcome.done else _json(outcome, _status(outcome.findings))


def refusal(status: int, findings: tuple[Finding, ...]) -> HttpResponse:
    """Not done, and why."""
    return _json(not_done(findings), status)


def stop(code: str, **facts: Fact) -> tuple[Finding, ...]:
    """One finding that stops the request."""
    return (Finding(code, Severity.STOP, facts=facts),)


def finding_out(finding: Finding) -> dict[str, Any]:
    """The finding as JSON."""
    return {**finding_in_json(finding), "key": finding_key(finding)}


def _status(findings: tuple[Finding, ...]) -> int:
    return next((_STATUS[finding.code] for finding in findings if finding.code in _STATUS), 422)


def _json(outcome: Outcome, status: int, **more: str) -> HttpResponse:
    body = {"done": outcome.done, "made": list(outcome.made), "findings": [finding_out(one) for one in outcome.findings], **more}
    return JsonResponse(body, status=status, json_dumps_params={"ensure_ascii": False})

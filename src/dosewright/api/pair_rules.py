"""Which medicines may not share a cavity, and which must be apart in time: every rule with its source, a new one, one changed or put out of
force. What the pharmacy has of its own is taken back as any rule."""

from typing import Annotated, Literal

from annotated_types import MaxLen
from django.http import HttpResponse
from ninja import Field, Router, Schema

from dosewright.actions.change_pair import add_pair, change_pair
from dosewright.api.answer import Refused, answer, stop
from dosewright.api.door import Scope
from dosewright.api.fields import Code, Reason
from dosewright.api.offer import does, gives, offer
from dosewright.api.request import ApiRequest
from dosewright.core.custody.rights import Ability
from dosewright.core.medicines.neighbours import PairRule
from dosewright.core.medicines.own_pairs import FARTHEST, OwnPair, PairKind
from dosewright.core.medicines.spacing import SpacingRule
from dosewright.store.pharmacy import RulesInForce, load_pharmacy, load_rules

__all__ = ["PairIn", "PairOut", "add", "change", "pair_rules", "router"]

router = Router(tags=["rules"])
_ALL = Scope.PHARMACY
_Names = Annotated[list[Code], MaxLen(60)]
_Kind = Literal["apart", "spacing"]


class PairOut(Schema):
    """A rule as it stands. `kind`: apart (never in one cavity) or spacing (a dose of `one` at least so many minutes before, or so many
    after, each dose of `other`). An empty `other` is any other medicine. `own`: this pharmacy's wording; it counts where `in_force`."""

    id: str
    kind: str
    own: bool
    in_force: bool
    one: list[str]
    other: list[str]
    before_minutes: int
    after_minutes: int
    reason: str
    source: str
    dated: str
    evidence: str


class PairIn(Schema):
    """The pharmacy's own wording: whole words of generic names, minutes for spacing alone, why, the source with its date, and why it is
    changed. A rule that ships is put out of force by `in_force: false`."""

    kind: _Kind
    one: _Names
    other: _Names = Field(default_factory=list)
    before_minutes: int = Field(0, ge=0, le=FARTHEST)
    after_minutes: int = Field(0, ge=0, le=FARTHEST)
    in_force: bool = True
    reason: Reason
    source: Reason
    dated: Reason
    why: Reason


@offer(router, gives("pair-rules", "/pair-rules", Ability.LOOK, scope=_ALL), out=list[PairOut])
def pair_rules(request: ApiRequest) -> list[dict[str, object]]:
    """Every rule about two medicines once, those that are out of force too."""
    rules = load_rules(load_pharmacy().rules)
    own = {one.id: one for one in rules.own_pairs}
    shipped = [one for one in rules.shipped_pairs.rules if one.id not in own]
    return [*(_out(one, rules) for one in shipped), *(_out(one.rule(), rules) for one in rules.own_pairs)]


def _out(rule: PairRule | SpacingRule, rules: RulesInForce) -> dict[str, object]:
    said = {name: getattr(rule, name) for name in ("id", "one", "other", "reason", "source", "dated", "evidence")}
    minutes = {"before_minutes": rule.before, "after_minutes": rule.after} if isinstance(rule, SpacingRule) else {}
    own = next((one for one in rules.own_pairs if one.id == rule.id), None)
    kind = PairKind.SPACING if minutes else PairKind.APART
    stands = {"kind": kind.value, "own": own is not None, "in_force": own is None or own.in_force}
    return {"before_minutes": 0, "after_minutes": 0, **said, **minutes, **stands}


@offer(router, does("change-pair-rule", "/pair-rules/{rule}", Ability.CHANGE_RULE, scope=_ALL))
def change(request: ApiRequest, rule: str, body: PairIn) -> HttpResponse:
    """A rule about two medicines that is there stands so from now on, in the next plans, or is out of force."""
    return answer(change_pair(rule, request.auth.on, _wanted(rule, body)))


@offer(router, does("new-pair-rule", "/pair-rules", Ability.CHANGE_RULE, scope=_ALL))
def add(request: ApiRequest, body: PairIn) -> HttpResponse:
    """A rule of the pharmacy's own about two medicines, in the next plans; `made` is its name, made of the first of each."""
    if not body.one:
        raise Refused(422, stop("custody.request-wrong", field="one", why="a rule is about at least one generic name"))
    return answer(add_pair("-".join((*body.one[:1], *body.other[:1])), request.auth.on, _wanted("", body)))


def _wanted(rule: str, body: PairIn) -> OwnPair:
    return OwnPair(
        id=rule,
        kind=PairKind(body.kind),
        one=tuple(body.one),
        other=tuple(body.other),
        before=body.before_minutes,
        after=body.after_minutes,
        in_force=body.in_force,
        reason=body.reason,
        source=body.source,
        dated=body.dated,
        why=body.why,
    )

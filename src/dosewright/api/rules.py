"""What may lie in a card: every suitability rule with its source, a new one, one changed, the shipped one taken back."""

from typing import Annotated

from annotated_types import MaxLen
from django.http import HttpResponse
from ninja import Field, Router, Schema

from dosewright.actions.change_rule import add_rule, change_rule, drop_rule
from dosewright.api.answer import Refused, answer, stop
from dosewright.api.card_shapes import ReasonIn
from dosewright.api.door import Scope
from dosewright.api.fields import Code, Reason
from dosewright.api.offer import does, gives, offer
from dosewright.api.request import ApiRequest
from dosewright.core.custody.rights import Ability
from dosewright.core.medicines.own_rules import OwnRule, all_rules
from dosewright.core.units.ids import MedicineCode
from dosewright.store.missing import Missing
from dosewright.store.pharmacy import load_pharmacy, load_rules

__all__ = ["RuleIn", "RuleOut", "add", "change", "router", "rules", "take_back"]

router = Router(tags=["rules"])
_ALL = Scope.PHARMACY
_Few = Annotated[list[Code], MaxLen(40)]


class RuleOut(Schema):
    """A rule as it counts now. `own`: this pharmacy's wording of it. `standing`: fits, confirm, separate, unless_proved or excluded."""

    id: str
    own: bool
    standing: str
    limit_days: int | None
    hazardous: bool
    weekly: bool
    asks: bool
    names: list[str]
    forms: list[str]
    medicines: list[str]
    reason: str
    source: str
    dated: str
    evidence: str


class RuleIn(Schema):
    """The pharmacy's own wording of a rule: its codes (X, XD, T30, S, H, W, ok), why, the source with its date, and why it is changed."""

    codes: _Few
    reason: Reason
    source: Reason
    dated: Reason
    why: Reason
    names: _Few = Field(default_factory=list)
    forms: _Few = Field(default_factory=list)
    medicines: _Few = Field(default_factory=list)
    weekly: bool = False
    asks: bool = True


@offer(router, gives("rules", "/rules", Ability.LOOK, scope=_ALL), out=list[RuleOut])
def rules(request: ApiRequest) -> list[dict[str, object]]:
    """Every rule once: by form, by flag, by product."""
    in_force = load_rules(load_pharmacy().rules)
    own, said = {rule.id for rule in in_force.own}, [name for name in RuleOut.model_fields if name not in {"own", "standing"}]
    return [
        {**{name: getattr(rule, name) for name in said}, "own": rule.id in own, "standing": rule.standing.name.lower()}
        for rule in all_rules(in_force.suitability)
    ]


@offer(router, does("change-rule", "/rules/{rule}", Ability.CHANGE_RULE, scope=_ALL))
def change(request: ApiRequest, rule: str, body: RuleIn) -> HttpResponse:
    """A rule that is there stands so from now on, in the next plans."""
    if rule not in {one.id for one in all_rules(load_rules(load_pharmacy().rules).suitability)}:
        raise Missing("rule", rule)
    return answer(change_rule(rule, request.auth.on, _wanted(rule, body)))


@offer(router, does("new-rule", "/rules", Ability.CHANGE_RULE, scope=_ALL))
def add(request: ApiRequest, body: RuleIn) -> HttpResponse:
    """A rule of the pharmacy's own about generic names or products, in the next plans; `made` is its name, made of the first of them."""
    about = next(iter((*body.medicines, *body.names)), "")
    if not about or body.forms:
        raise Refused(422, stop("custody.request-wrong", field="names", why="a new rule is about generic names or products, and no forms"))
    return answer(add_rule(about, request.auth.on, _wanted("", body)))


def _wanted(rule: str, body: RuleIn) -> OwnRule:
    return OwnRule(
        id=rule,
        codes=tuple(body.codes),
        names=tuple(body.names),
        forms=tuple(body.forms),
        medicines=tuple(map(MedicineCode, body.medicines)),
        reason=body.reason,
        source=body.source,
        dated=body.dated,
        weekly=body.weekly,
        asks=body.asks,
        why=body.why,
    )


@offer(router, does("take-back-rule", "/rules/{rule}/take-back", Ability.CHANGE_RULE, scope=_ALL))
def take_back(request: ApiRequest, rule: str, body: ReasonIn) -> HttpResponse:
    """The pharmacy's own wording goes; the shipped one, if there is one, counts again."""
    return answer(drop_rule(rule, request.auth.on, body.reason))

"""The card format and the profile line by line, one line changed at a time; and the figures by which ways to put cards right are ranked."""

from typing import Annotated

from django.http import HttpResponse
from ninja import Field, Router, Schema

from dosewright.actions.change_rates import change_rates
from dosewright.actions.change_setting import change_setting, setting_lines
from dosewright.api.answer import answer
from dosewright.api.door import Scope
from dosewright.api.fields import LongText, Reason
from dosewright.api.offer import does, gives, offer
from dosewright.api.request import ApiRequest
from dosewright.core.custody.rights import Ability
from dosewright.devices.shipped import read_shipped
from dosewright.store.changes import load_rates_text
from dosewright.store.pharmacy import load_pharmacy, load_rule_texts

__all__ = ["LineOut", "RatesIn", "RatesOut", "SettingIn", "change", "change_figures", "figures", "router", "settings"]

router = Router(tags=["rules"])
_ALL = Scope.PHARMACY


class LineOut(Schema):
    """One line of the file: the table that it stands in, its key, the value as it is written, what is said of it."""

    number: int
    section: str
    key: str
    value: str
    comment: str


class SettingIn(Schema):
    """Which line, the value as the line is to show it (a number, true or false, a text in quotes), and why."""

    line: Annotated[int, Field(ge=1, le=10_000)]
    value: LongText
    reason: Reason


class RatesOut(Schema):
    """TOML text; `own`: the pharmacy's, else what ships."""

    own: bool
    text: str


class RatesIn(Schema):
    """TOML text; "" goes back to what ships."""

    text: LongText


@offer(router, gives("settings", "/settings/{which}", Ability.LOOK, scope=_ALL), out=list[LineOut])
def settings(request: ApiRequest, which: str) -> list[dict[str, object]]:
    """Every line of the card format ("format") or the profile ("profile") that gives a value."""
    lines = setting_lines(which, load_rule_texts(load_pharmacy().rules))
    return [{name: getattr(line, name) for name in LineOut.model_fields} for line in lines]


@offer(router, does("change-setting", "/settings/{which}", Ability.CHANGE_FORMAT, scope=_ALL))
def change(request: ApiRequest, which: str, body: SettingIn) -> HttpResponse:
    """The line says so from now on; cards that are still here were planned by the old one and are out of date (R9)."""
    return answer(change_setting(which, request.auth.on, body.line, body.value, body.reason))


@offer(router, gives("rates", "/rates", Ability.CHANGE_RATES, scope=_ALL), out=RatesOut)
def figures(request: ApiRequest) -> dict[str, object]:
    """Minutes, error rates, lead times and weights, each with its source."""
    own = load_rates_text()
    return {"own": bool(own), "text": own or read_shipped("rework", "rates.toml")}


@offer(router, does("change-rates", "/rates", Ability.CHANGE_RATES, scope=_ALL))
def change_figures(request: ApiRequest, body: RatesIn) -> HttpResponse:
    """They count from the next look at any change on."""
    return answer(change_rates("pharmacy", request.auth.on, body.text.replace("\r\n", "\n")))

"""Tokens by which another program acts in somebody's name: what may be given away, and whether one still counts (R14).

A deed done by a token bears the name and the id of a person with an account, so that "the checker is not the filler" (R8) holds across
bench and programs. Nobody can give a program what the person may not do, and nobody lets a program sign in somebody else's name. A program
that makes a token gives it no more than it has itself, and in no other name than its own.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from dosewright.core.custody.event import Actor, Role
from dosewright.core.custody.rights import RIGHTS, Ability
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import HomeId

__all__ = [
    "GIVEN",
    "LONGEST",
    "Maker",
    "TokenAsk",
    "check_home_of_token",
    "check_in_force",
    "check_maker",
    "check_token_ask",
    "givable",
    "signs",
]

LONGEST = timedelta(days=366)  # from making to end; our own measure, no source
# What programs may be given: what the addresses for programs take, each of them, and nothing else.
GIVEN = frozenset(
    {
        Ability.LOOK,
        Ability.RECEIVE_MEDICINES,
        Ability.RECEIVE_ORDERS,
        Ability.CONFIRM_READING,
        Ability.REJECT_ORDER,
        Ability.STOP_ORDER,
        Ability.REMEMBER_WORDING,
        Ability.REVOKE_WORDING,
        Ability.CHANGE_TIMES,
        Ability.CHANGE_RULE,
        Ability.MAKE_SHEET,
        Ability.PLAN_SET,
        Ability.ANSWER_FINDING,
        Ability.PRINT_SET,
        Ability.RECEIVE_STOCK,
        Ability.PLACE_MEDICINE,
        Ability.TAKE_OUT_MEDICINE,
        Ability.FINISH_FILLING,
        Ability.CHECK_CARD,
        Ability.SEND_BACK_CARD,
        Ability.SEAL_CARD,
        Ability.RELEASE_CARD,
        Ability.HAND_OVER_CARD,
        Ability.RECEIVE_CARD,
        Ability.TAKE_RETURN,
        Ability.WASTE_UNITS,
        Ability.WITHDRAW_CARD,
        Ability.DECIDE_CARD,
        Ability.CLAIM_SET,
        Ability.NOTE_NEAR_MISS,
        Ability.TAKE_CHANGE,
        Ability.DECIDE_CHANGE,
        Ability.WITHDRAW_CHANGE,
        Ability.FINISH_CHANGE,
        Ability.REWORK_CARD,
        Ability.TAKE_BACK_CARD,
        Ability.LOOK_FOR_CARD,
        Ability.SET_UP,
        Ability.MAKE_TOKEN,
        Ability.TAKE_UP_TIMES,
        Ability.TEACH_CODE,
        Ability.VOID_LABELS,
        Ability.RECALL_LOT,
        Ability.MEASURE_PRINTER,
        Ability.CHANGE_RATES,
        Ability.CHANGE_FORMAT,
        Ability.CORRECT_PERSON,
        Ability.CORRECT_MEDICINE,
        Ability.SAY_WHAT_CHANGED,
    }
)
_SIGN = frozenset({Role.PHARMACIST, Role.CHECKER})


@dataclass(frozen=True, slots=True)
class TokenAsk:
    """What is asked for: what the program is called, in whose name it acts (None: there is no such account), what it may do, for which
    home alone (None: as the person may), until the end of which day."""

    name: str
    acts_for: Actor | None
    abilities: frozenset[Ability]
    home: HomeId | None
    until: date


@dataclass(frozen=True, slots=True)
class Maker:
    """The token by which a program makes another: whom it acts for, what it may do, for which home alone, until the end of which day."""

    acts_for: str
    abilities: frozenset[Ability]
    home: HomeId | None
    until: date


def givable(role: Role) -> tuple[Ability, ...]:
    """What a program may be given that acts for somebody of this role, in the table's order."""
    return tuple(ability for ability, roles in RIGHTS.items() if role in roles and ability in GIVEN)


def signs(ability: Ability) -> bool:
    """Whether the deed stands for a checker's or a pharmacist's own judgement: it is nobody else's to give away."""
    return RIGHTS[ability] <= _SIGN


def check_token_ask(ask: TokenAsk, by: Actor, today: date, *, home_known: bool) -> tuple[Finding, ...]:
    """Everything that keeps the token from being made."""
    return tuple(_check_ask(ask, by, today, home_known=home_known))


def _check_ask(ask: TokenAsk, by: Actor, today: date, *, home_known: bool) -> Iterator[Finding]:
    if not ask.name.strip():
        yield Finding("custody.nobody-named", Severity.STOP)
    if not today <= ask.until <= today + LONGEST:
        yield Finding("custody.token-until", Severity.STOP, facts={"first": today, "last": today + LONGEST})
    if ask.acts_for is None:
        yield Finding("custody.token-for-nobody", Severity.STOP)
        return
    if not ask.abilities:
        yield Finding("custody.token-no-rights", Severity.STOP)
    more = sorted(ask.abilities - set(givable(ask.acts_for.role)))
    if more:
        yield Finding("custody.token-more-than-role", Severity.STOP, facts={"role": ask.acts_for.role.value, "what": tuple(more)})
    another = sorted(ability for ability in ask.abilities if signs(ability)) if ask.acts_for.id != by.id else []
    if another:
        yield Finding("custody.token-signs-for-another", Severity.STOP, facts={"name": ask.acts_for.name, "what": tuple(another)})
    if ask.home is not None and (not home_known or ask.acts_for.home not in {None, ask.home}):
        yield Finding("custody.token-home", Severity.STOP, facts={"home": ask.home})


def check_maker(ask: TokenAsk, maker: Maker) -> tuple[Finding, ...]:
    """A stop that names everything in which the token asked for would reach beyond the one by which it is made."""
    beyond = tuple(_beyond(ask, maker))
    return (Finding("custody.token-beyond-maker", Severity.STOP, facts={"what": beyond}),) if beyond else ()


def _beyond(ask: TokenAsk, maker: Maker) -> Iterator[str]:
    yield from sorted(ask.abilities - maker.abilities)
    if maker.home is not None and ask.home != maker.home:
        yield "another home" if ask.home else "every home"
    if ask.until > maker.until:
        yield f"a day after {maker.until.isoformat()}"
    if ask.acts_for is not None and ask.acts_for.id != maker.acts_for:
        yield "somebody else's name"


def check_in_force(*, revoked: bool, until: date, today: date, account_open: bool) -> tuple[Finding, ...]:
    """A stop for a token that was revoked, whose last day is past, or whose person signs in no more."""
    why = "it was revoked" if revoked else "its last day is past" if until < today else "" if account_open else "its account is closed"
    return (Finding("custody.token-over", Severity.STOP, facts={"why": why}),) if why else ()


def check_home_of_token(by: Actor) -> tuple[Finding, ...]:
    """A stop where somebody of one home asks for what concerns the whole pharmacy."""
    return (Finding("custody.whole-pharmacy", Severity.STOP, facts={"name": by.name}),) if by.home is not None else ()

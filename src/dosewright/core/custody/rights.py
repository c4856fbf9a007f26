"""Who may do what: one table of roles for each thing a person can do (R14). A home's own people see and do only what is their home's."""

from enum import StrEnum

from dosewright.core.custody.event import Actor, Role
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import HomeId

__all__ = ["RIGHTS", "Ability", "check_home", "check_right"]


class Ability(StrEnum):
    """Everything that somebody can do here. The value is what the ledger writes for a refusal."""

    LOOK = "look"  # at the bench's lists, people, cards
    LOOK_AT_LEDGER = "look at the ledger"
    SET_UP = "set up"
    OWN_BADGE = "have a badge"  # and a PIN, to take a place at a shared bench
    LOOK_AT_HOME = "look at the home"  # at one's own home: its people and their cards
    INSPECT = "inspect"  # see what else there is, and change nothing
    RECEIVE_MEDICINES = "receive medicines"
    RECEIVE_ORDERS = "receive orders"
    CONFIRM_READING = "confirm a reading"
    REJECT_ORDER = "reject an order"
    REMEMBER_WORDING = "remember a wording"
    REVOKE_WORDING = "revoke a wording"
    STOP_ORDER = "stop an order"
    TAKE_UP_TIMES = "take up dosing times"
    PLAN_SET = "plan a set"
    CLAIM_SET = "claim a set"
    ANSWER_FINDING = "answer a finding"  # why a plan goes on in spite of it, or where a medicine goes
    PRINT_SET = "print a set"
    VOID_LABELS = "void labels"
    MAKE_SHEET = "make a sheet"  # on demand: the person's, a round, a month's records, a manifest
    RECALL_LOT = "make a recall notice"
    MEASURE_PRINTER = "measure a printer"
    CHANGE_RULE = "change a rule"  # what may lie in a card
    RECEIVE_STOCK = "receive stock"
    TEACH_CODE = "teach a code"
    PLACE_MEDICINE = "place a medicine"
    TAKE_OUT_MEDICINE = "take out a medicine"
    FINISH_FILLING = "finish filling"
    CHECK_CARD = "check a card"
    SEND_BACK_CARD = "send back a card"
    SEAL_CARD = "seal a card"
    RELEASE_CARD = "release a card"
    HAND_OVER_CARD = "hand over a card"
    RECEIVE_CARD = "receive a card"
    TAKE_RETURN = "take a return"
    WASTE_UNITS = "waste units"
    WITHDRAW_CARD = "withdraw a card"
    DECIDE_CARD = "decide about a card"
    MAKE_TOKEN = "make a token"  # noqa: S105  no password: a token is that by which another program acts in somebody's name; and revoke it
    TAKE_CHANGE = "take a change"  # of all of a person's orders: hospital, discharge, death, another home
    DECIDE_CHANGE = "decide about a change"
    WITHDRAW_CHANGE = "withdraw a change"
    FINISH_CHANGE = "finish a change"
    CHANGE_RATES = "change the figures for rework"
    REWORK_CARD = "put a card right"  # take out, put new labels on
    TAKE_BACK_CARD = "take back a card to put it right"
    LOOK_FOR_CARD = "say whether a card is found"
    NOTE_NEAR_MISS = "note a near miss"
    SAY_WHAT_CHANGED = "say what changed"  # beside the points of the charts
    CORRECT_PERSON = "correct a person's record"
    CORRECT_MEDICINE = "correct a medicine's record"
    CHANGE_TIMES = "change a timetable"
    CHANGE_FORMAT = "change a card format or profile"


_T, _C, _P, _M, _D, _H, _I = (
    Role.TECHNICIAN,
    Role.CHECKER,
    Role.PHARMACIST,
    Role.MANAGER,
    Role.DRIVER,
    Role.CARER,
    Role.INSPECTOR,
)
_BENCH = frozenset({_T, _C, _P})

RIGHTS: dict[Ability, frozenset[Role]] = {
    Ability.LOOK: frozenset({_T, _C, _P, _M, _I}),
    Ability.LOOK_AT_LEDGER: frozenset({_P, _M, _I}),
    Ability.SET_UP: frozenset({_P, _M}),
    Ability.OWN_BADGE: frozenset(Role) - {_I},
    Ability.LOOK_AT_HOME: frozenset({_H}),
    Ability.INSPECT: frozenset({_I}),
    Ability.RECEIVE_MEDICINES: frozenset({_T, _P, _M}),
    Ability.RECEIVE_ORDERS: _BENCH,
    Ability.CONFIRM_READING: frozenset({_P}),
    Ability.REJECT_ORDER: frozenset({_P}),
    Ability.REMEMBER_WORDING: frozenset({_P}),
    Ability.REVOKE_WORDING: frozenset({_P}),
    Ability.STOP_ORDER: frozenset({_P}),
    Ability.TAKE_UP_TIMES: frozenset({_P}),
    Ability.PLAN_SET: _BENCH,
    Ability.CLAIM_SET: _BENCH,
    Ability.ANSWER_FINDING: frozenset({_P}),
    Ability.PRINT_SET: _BENCH,
    Ability.VOID_LABELS: _BENCH,
    Ability.MAKE_SHEET: _BENCH,
    Ability.RECALL_LOT: frozenset({_P}),
    Ability.MEASURE_PRINTER: _BENCH | {_M},
    Ability.CHANGE_RULE: frozenset({_P}),
    Ability.RECEIVE_STOCK: _BENCH | {_M},
    Ability.TEACH_CODE: _BENCH,
    Ability.PLACE_MEDICINE: _BENCH,
    Ability.TAKE_OUT_MEDICINE: _BENCH,
    Ability.FINISH_FILLING: _BENCH,
    Ability.CHECK_CARD: frozenset({_C, _P}),
    Ability.SEND_BACK_CARD: frozenset({_C, _P}),
    Ability.SEAL_CARD: _BENCH,
    Ability.RELEASE_CARD: frozenset({_P}),
    Ability.HAND_OVER_CARD: _BENCH | {_D},
    Ability.RECEIVE_CARD: frozenset({_H, _D}),
    Ability.TAKE_RETURN: _BENCH | {_D},
    Ability.WASTE_UNITS: _BENCH,
    Ability.WITHDRAW_CARD: frozenset({_P}),
    Ability.DECIDE_CARD: frozenset({_P}),
    Ability.MAKE_TOKEN: frozenset({_P, _M}),
    Ability.TAKE_CHANGE: frozenset({_P}),
    Ability.DECIDE_CHANGE: frozenset({_P}),
    Ability.WITHDRAW_CHANGE: frozenset({_P}),
    Ability.FINISH_CHANGE: frozenset({_P}),
    Ability.CHANGE_RATES: frozenset({_P, _M}),
    Ability.REWORK_CARD: _BENCH,
    Ability.TAKE_BACK_CARD: _BENCH,
    Ability.LOOK_FOR_CARD: _BENCH | {_D},
    Ability.NOTE_NEAR_MISS: _BENCH | {_M, _D},
    Ability.SAY_WHAT_CHANGED: frozenset({_P, _M}),
    Ability.CORRECT_PERSON: frozenset({_P, _M}),
    Ability.CORRECT_MEDICINE: frozenset({_P}),
    Ability.CHANGE_TIMES: frozenset({_P}),
    Ability.CHANGE_FORMAT: frozenset({_P}),
}


def check_right(by: Actor, ability: Ability) -> tuple[Finding, ...]:
    """Nothing where the role may; else a stop that names what was tried (R14). Source: separation of duties, 21 CFR 11.10(d), (g)."""
    if by.role in RIGHTS[ability]:
        return ()
    return (Finding("custody.no-right", Severity.STOP, facts={"role": by.role.value, "what": ability.value}),)


def check_home(by: Actor, home: HomeId | None) -> tuple[Finding, ...]:
    """Nothing for the pharmacy's own people, or for somebody of that home; else a stop (R14)."""
    if by.home is None or by.home == home:
        return ()
    return (Finding("custody.other-home", Severity.STOP, facts={"name": by.name}),)

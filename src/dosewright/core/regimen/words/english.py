"""Plain English sentences, by the Universal Medication Schedule's four periods; USP <17> for "dose apart from timing" and digits."""

from collections.abc import Sequence
from datetime import date

from dosewright.core.regimen.dosage import TimeUnit
from dosewright.core.regimen.words.phrasebook import Phrasebook, list_words
from dosewright.core.units.amount_words import NUMBER_WORDS, NumberStyle, format_quantity
from dosewright.core.units.quantity import Quantity

__all__ = ["ENGLISH"]

_D, _H, _W, _M = TimeUnit.DAY, TimeUnit.HOUR, TimeUnit.WEEK, TimeUnit.MONTH
_MONTHS = ["January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"]
_ENDINGS = {1: "st", 2: "nd", 3: "rd"}
_NOUNS = frozenset(
    [
        "tablet",
        "caplet",
        "capsule",
        "pill",
        "lozenge",
        "pastille",
        "sachet",
        "patch",
        "drop",
        "puff",
        "spray",
        "suppository",
        "pessary",
        "spoonful",
        "teaspoonful",
        "tablespoonful",
        "ampoule",
        "vial",
        "application",
        "unit",
        "dose",
        "measure",
        "piece",
        "mg",
        "microgram",
        "g",
        "mL",
        "mmol",
    ]
) | {""}


def _amount(quantity: Quantity, style: NumberStyle) -> str | None:
    spoken_parts = quantity.count.denominator in (1, 2, 4) or quantity.unit in ("mg", "microgram", "g", "mL", "unit")
    return format_quantity(quantity, style) if quantity.unit in _NOUNS and spoken_parts else None


def _date(day: date) -> str:
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"


def _month_days(days: Sequence[int]) -> str:
    said = [f"{day}{_ENDINGS.get(day % 10 if day not in (11, 12, 13) else 0, 'th')}" for day in days]
    return f"on the {list_words(said, 'and')} of each month"


ENGLISH = Phrasebook(
    say_amount=_amount,
    verb="Take",
    verb_after="{first} {verb} {rest}",
    verb_other={"patch": "Apply", "drop": "Use", "puff": "Use", "spray": "Use", "application": "Use",
                "suppository": "Insert", "pessary": "Insert"},
    when={
        "MORN": "in the morning", "NOON": "at noon", "EVE": "in the evening", "HS": "at bedtime", "WAKE": "when you wake up",
        "CM": "with breakfast", "CD": "with lunch", "CV": "with the evening meal",
        "ACM": "before breakfast", "ACD": "before lunch", "ACV": "before the evening meal",
        "PCM": "after breakfast", "PCD": "after lunch", "PCV": "after the evening meal",
    },
    clock="at {a}",
    offset="{n} minutes",
    offset_hours={(_H, 1): "1 hour", (_H, None): "{n} hours"},
    times={(_D, 1): "once a day", (_D, 2): "twice a day", (_D, None): "{n} times a day",
           (_W, 1): "once a week", (_W, 2): "twice a week", (_W, None): "{n} times a week", (_M, 1): "once a month",
           (_M, None): "{n} times a month"},
    number_words=NUMBER_WORDS,
    up_to_times="up to {n} times a day",
    every={(_D, 1): "every day", (_D, 2): "every other day", (_D, None): "every {n} days", (_H, None): "every {n} hours",
           (_W, None): "every {n} weeks", (_M, None): "every {n} months"},
    every_range="every {a} to {b} hours",
    weekdays=("Mondays", "Tuesdays", "Wednesdays", "Thursdays", "Fridays", "Saturdays", "Sundays"),
    on_days="on {a}",
    say_month_days=_month_days,
    first_month_days="on the first {n} days of each month",
    cycle="on days {a} to {b} of every {n} days",
    lasting={(_D, 1): "for 1 day", (_D, None): "for {n} days", (_W, 1): "for 1 week", (_W, None): "for {n} weeks",
             (_M, 1): "for 1 month", (_M, None): "for {n} months"},
    since="from {a}",
    until="until {a}",
    since_until="from {a} to {b}",
    say_date=_date,
    wanted="when needed",
    wanted_for="when needed for {a}",
    own_openers=("to", "if", "when", "in"),
    under_the_tongue="Under the tongue",
    at_most={_H: "Do not take more than {a} in {n} hours", _D: "Do not take more than {a} in {n} days"},
    once="as a single dose",
    then="then",
    and_word="and",
    to_word="to",
)  # fmt: skip

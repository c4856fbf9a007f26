"""How values are written on screen: days, moments, amounts, dosing times, findings."""

from datetime import date, datetime, time
from fractions import Fraction

from django import template
from django.utils.html import format_html
from django.utils.safestring import SafeString, mark_safe

from dosewright.core.packing.card_number import format_card_number
from dosewright.core.units.amount_words import format_count, format_quantity
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import CardNumber
from dosewright.core.units.quantity import Quantity, Unit
from dosewright.web import dates
from dosewright.web.dial import draw_dial
from dosewright.web.request import local
from dosewright.web.wording import say_finding, say_place, say_severity

__all__ = ["register"]

register = template.Library()


@register.filter
def day(value: date) -> str:
    """ "Mon 2 Mar 2026": a date is always written out."""
    return dates.day_in_full(value)


@register.filter
def short_day(value: date) -> str:
    """ "Mon 2 Mar", where the year stands near by."""
    return dates.short_day(value)


@register.filter
def birth(value: date | None) -> str:
    """ "4 Feb 1939"."""
    return dates.day_of_year(value) if value else "not known"


@register.filter
def moment(value: datetime) -> str:
    """ "Mon 2 Mar 2026, 14:05" by the pharmacy's clock."""
    at = local(value)
    return f"{day(at.date())}, {at:%H:%M}"


@register.filter
def clock(value: time) -> str:
    """ "08:00"."""
    return f"{value:%H:%M}"


@register.filter
def amount(value: Fraction) -> str:
    """ "half", "1 and a half", "21"."""
    return format_count(value)


@register.filter
def amount_of(value: Fraction, unit: str) -> str:
    """ "21 tablets", "half a tablet"."""
    return format_quantity(Quantity(value, Unit(unit)))


@register.filter
def quantity(value: Quantity) -> str:
    """ "21 tablets", "half a tablet"."""
    return format_quantity(value)


@register.filter
def sentence(value: Finding) -> str:
    """The finding's sentence."""
    return say_finding(value)


@register.filter
def beside_card(value: Finding) -> str:
    """The sentence where it stands beside its card: without whose the card is, and which."""
    said = _about_card(value)
    return said[:1].upper() + said[1:]


@register.filter
def by_card(value: Finding) -> str:
    """The sentence where several cards of one person are spoken of: by the card's number alone."""
    said, card = _about_card(value), value.where.get("card")
    return f"Card {format_card_number(CardNumber(str(card)))}: {said}" if card and said != say_finding(value) else said


def _about_card(value: Finding) -> str:
    return say_finding(value).removeprefix(f"{value.facts.get('name')}, card {value.where.get('card')}: ")


@register.filter
def place(value: Finding) -> str:
    """Where it was found: file, resource, path, …"""
    return say_place(value)


@register.filter
def severity_word(value: Finding) -> str:
    """ "Stop", "Decide", "Note"."""
    return say_severity(value)


@register.filter
def card_number(value: str) -> str:
    """ "66770 49128 28209": three groups of five, as paper prints it."""
    return format_card_number(CardNumber(value))


@register.filter
def fingerprint(value: str) -> str:
    """The first eight letters in two groups, as paper prints it beside the whole: "7f3a·91c2"."""
    return f"{value[:4]}·{value[4:8]}"


@register.simple_tag
def dial(value: time, size: str = "") -> SafeString:
    """The face with one hand."""
    return mark_safe(draw_dial(value, size))  # noqa: S308  made of numbers only


@register.simple_tag
def dosing_time(value: time, word: str, size: str = "") -> SafeString:
    """Dial, clock time and word: the only sign of a dosing time."""
    return format_html('<span class="time">{}<span><b>{}</b> {}</span></span>', dial(value, size), clock(value), word)

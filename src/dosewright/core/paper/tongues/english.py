"""English. The words of the catalogue stand as they are."""

from dosewright.core.paper.dates import month_day, span_of_days
from dosewright.core.paper.marks import CAUTION
from dosewright.core.paper.tongues.tongue import Tongue

__all__ = ["ENGLISH"]

ENGLISH = Tongue(
    lang="en",
    title="Your medicines",
    span=span_of_days,
    born="born {a}",
    room="room {a}",
    day=month_day,
    on_weekdays="on {a}",
    on_dates="only on: {a}",
    weekdays=("Mondays", "Tuesdays", "Wednesdays", "Thursdays", "Fridays", "Saturdays", "Sundays"),
    and_word="and",
    slots={},
    when_heading="When to take them",
    own_pack="not in the card, from its own pack",
    each_heading="Each medicine",
    beside_heading="Not in the card",
    beside_line="These are yours too. They are not in the card; they come in their own packs.",
    purpose="For: {a}",
    looks="Looks: {a}",
    mark="marked {a}",
    how="How: {a}",
    look_new="New look. Your {a} {b} is now {c}.",
    look_before="Before, it was {a}.",
    same_medicine="It is the same medicine.",
    continued="{a}, continued",
    card_line="Your card: {a}",
    differs="If anything is not as it says here, ask before you take it.",
    ask="Ask us: {a}",
    nothing="Nothing is in the card.",
    page="page {n} of {of}",
    made="Made {a}.",
    caution=CAUTION,
    forms={},
    shapes={},
    colours={},
    cautions={},
)

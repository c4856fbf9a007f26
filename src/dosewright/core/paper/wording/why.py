"""Sentences for why a cavity holds what it holds."""

__all__ = ["SENTENCES"]

SENTENCES: dict[str, str] = {
    "why.counted": "Ordered as {ordered}; of {strength} that is {amount}.",
    "why.course": "Day {nth} of a course from {since} to {last}.",
    "why.day-of-cycle": "Day {nth} of a cycle of {length} days that runs from {since}.",
    "why.day-of-month": "Due on these days of the month: {days}.",
    "why.each-weekday": "Due each week on {days}.",
    "why.every-day": "Due every day.",
    "why.every-so-many-days": "Due every {step} days, counted from {since}.",
    "why.every-so-many-months": "Due every {step} months, counted from {since}.",
    "why.listed-day": "The order lists this day.",
    "why.nobody-ordered-it": "No order in force puts it here: order {order} has no such dose on {date} at {time}. Take the card out "
    "of use, and plan anew.",
    "why.part-of-dose": "Here: {here}, of {amount} due then; the dose does not fit one cavity, and is split over {parts}.",
    "why.until": "The order ends on {until} at {until_time}.",
    "why.when-needed": "Taken when needed: one dose a cavity, on no day and at no dosing time.",
    "why.weekday": "Due every {weeks} weeks on {days}, counted from {since}.",
}

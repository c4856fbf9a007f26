"""English directions of every kind put together from parts, each readable; shared by the properties. Source: practice, from memory."""

from hypothesis import strategies as st

_AMOUNTS = ("Take 1 tablet", "Take TWO capsules", "half a tablet", "1½ tablets", "ii tabs", "5 mL", "Take one and a half tablets", "2 tabs")
_RATES = (
    "daily", "twice a day", "bd", "three times a day", "qds", "every 8 hours", "every 12 hours", "q6h", "every other day", "every 3 days",
    "in the morning", "nocte", "at bedtime", "mane and nocte", "with breakfast and evening meal", "at 8am and 8pm", "at 0800 and 2000",
    "once a week on Mondays", "on Mondays, Wednesdays and Fridays", "Monday to Friday", "daily except Sundays", "3-weekly",
    "30 minutes before breakfast", "on the 1st of each month", "every 2 weeks", "after breakfast, lunch and tea", "before bed", "on waking",
)  # fmt: skip
_LENGTHS = (
    "",
    "",
    "for 70 days",
    "x 6 weeks",
    "8/52",
    "until 12 December 2026",
    "from 01/12/2026 to 12/12/2026",
    "starting 1 December 2026",
)
_TAILS = (
    "", "", "with food", "swallow whole, do not crush or chew", "with plenty of water", "for high blood pressure", "to prevent stroke",
    "Avoid alcohol", "(blood pressure)", "Take with or just after food, or a meal",
)  # fmt: skip
_WHOLE = (
    "Take 1 tablet in the morning and 2 tablets at night",
    "1 mane, 2 midday, 1 nocte",
    "Take 2 tablets at 8am, 1 tablet at 2pm and 1 tablet at 8pm",
    "1 tablet in the morning then 2 tablets at bedtime",
    "Take 4 tablets daily for 5 days, then 3 tablets daily for 5 days, then 2 tablets daily for 5 days, then stop",
    "40 mg od 7/7, 30 mg od 7/7, 20 mg od 7/7",
    "30 mg daily, reducing by 5 mg every 3 days to 10 mg daily",
    "1 daily for 2 weeks, increasing to 2 daily",
    "1 daily, increase to 2 daily after 3 weeks",
    "Week 1: 1 nocte, week 2: 2 nocte, week 3 onwards: 3 nocte",
    "Day 1: 2 tablets, days 2 to 5: 1 tablet daily",
    "Take 2 on day 1, then 1 daily from day 2",
    "1 tablet daily for 21 days, 7 days off, repeat",
    "1 tablet bd on days 1-14 of each 21-day cycle",
    "2 tablets Mon and Fri, 1 tablet all other days",
    "1 tab Mon-Fri, 2 tabs Sat & Sun",
    "1-0-1",
    "1+1+2 for 5 days",
    "1-2 tablets every 4-6 hours when required for pain, max 8 in 24 hours",
    "2 qds prn max 8/24",
    "One up to tds prn",
    "6 x 2.5 mg tablets once weekly on Tuesdays",
    "2 x 500 mg tds",
    "14 tablets. 1 twice daily for 7 days",
    "100 mg tds (300 mg daily)",
    "Take 1 tablet three times a day, 8 hours apart",
)
NEGATIONS = ("not", "no", "never", "without", "do not", "don't", "hold", "unless", "avoid", "instead of")
ADDED = ("if dizzy", "or 2", "as directed", "not before lunch", "except Sundays", "on Tuesdays", "for 3 days", "and 1 at noon", "prn")


@st.composite
def english_lines(draw: st.DrawFn) -> str:
    """One readable direction, half of them put together from an amount, how often, how long, and what stands beside."""
    if draw(st.booleans()):
        return draw(st.sampled_from(_WHOLE))
    parts = (draw(st.sampled_from(pool)) for pool in (_AMOUNTS, _RATES, _LENGTHS))
    line, tail = " ".join(part for part in parts if part), draw(st.sampled_from(_TAILS))
    return f"{line}{draw(st.sampled_from((' ', '. ', ', ')))}{tail}" if tail else line

"""The codes of FHIR R4 `Timing.repeat.when`: which exist, which are meals, which may carry an offset.

Source: HL7 FHIR R4 value set event-timing (4.0.1).
"""

__all__ = ["EVENT_CODES", "EVERY_MEAL", "NO_OFFSET", "OFFSET_FROM", "PART_OF_DAY"]

EVENT_CODES = frozenset(
    {"MORN", "MORN.early", "MORN.late", "NOON", "AFT", "AFT.early", "AFT.late", "EVE", "EVE.early", "EVE.late", "NIGHT", "PHS"}
    | {"HS", "WAKE", "C", "CM", "CD", "CV", "AC", "ACM", "ACD", "ACV", "PC", "PCM", "PCD", "PCV"}
)

# "Meal" without saying which one stands for breakfast, lunch and dinner.
EVERY_MEAL = {"C": ("CM", "CD", "CV"), "AC": ("ACM", "ACD", "ACV"), "PC": ("PCM", "PCD", "PCV")}

# tim-9: with the meal there is no before or after.
NO_OFFSET = frozenset({"C", "CM", "CD", "CV"})

# Codes that say on which side of the event the minutes of an offset lie.
OFFSET_FROM = frozenset({"AC", "ACM", "ACD", "ACV", "PC", "PCM", "PCD", "PCV", "HS", "WAKE"})

# The code of that part of the day, where a timetable does not list the finer code. The afternoon has no dosing time of its own, and
# "after sleep began" none at all. Source: common practice, no source.
PART_OF_DAY = {
    "MORN.early": "MORN",
    "MORN.late": "MORN",
    "WAKE": "MORN",
    "EVE.early": "EVE",
    "EVE.late": "EVE",
    "NIGHT": "HS",
}

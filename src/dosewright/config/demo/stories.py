"""What the demonstration must show: who has which particular line, whatever chance adds. Some lines are there to make the tool ask.

Sizes of regimens are drawn; `SIZES` fixes the few that a story needs.
"""

from dataclasses import replace
from fractions import Fraction

from dosewright.config.demo.regimen import Line, parse_line

__all__ = ["SIZES", "STORIES", "WITHOUT"]

_WHOLE = tuple(map(Fraction, (1, 0, 0, 0)))


def _course(text: str, starts: int, days: int) -> Line:
    return replace(parse_line(text), starts=starts, days=days)


def _lines(*texts: str) -> tuple[Line, ...]:
    return tuple(map(parse_line, texts))


STORIES: dict[str, tuple[Line, ...]] = {
    # two people of one surname and one initial in one home: "Joan Ferris" and "John Ferris"
    "sh01": _lines("furosemide-40 1-0-0-0", "amlodipine-5 1-0-0-0", "donepezil-10 0-0-0-1"),  # white, round, unmarked: two look-alikes
    "sh02": _lines("furosemide-40 1-0-0-0", "tamsulosin-400 1-0-0-0", "finasteride-5 1-0-0-0"),
    "sh03": _lines(
        "apixaban-2.5 1-0-1-0",
        "bisoprolol-2.5 0.5-0-0-0",
        "furosemide-40 1-1-0-0",
        "spironolactone-25 0.5-0-0-0",
        "digoxin-62.5 1-0-0-0",
        "levothyroxine-50 1-0-0-0",
        "levothyroxine-25 1-0-0-0",
        "metformin-500 1-0-1-0",
        "sitagliptin-100 1-0-0-0",
        "paracetamol-500 2-2-2-2",
        "gabapentin-300 1-0-0-1",
        "mirtazapine-15 0-0-0-1",
        "memantine-10 1-0-0-0",
        "senna-7.5 0-0-0-2",
        "docusate-100 1-0-0-1",
        "lansoprazole-15 1-0-0-0",
        "atorvastatin-20 0-0-0-1",
        "allopurinol-100 1-0-0-0",
        "latanoprost 0-0-0-1: Put ONE drop into the right eye at night",
    ),
    "sh04": (
        Line(
            "prednisolone-5",
            words="Take 4 tablets daily for 5 days, then 3 tablets daily for 5 days, then 2 tablets daily for 5 days, then stop",
            starts=0,
        ),
        *_lines("calcium-d 0-1-1-0", "omeprazole-20 1-0-0-0"),
    ),
    "sh05": _lines("co-careldopa 1.5-1-1-0.5", "quetiapine-25 0-0-0-0.5", "macrogol 1-0-0-0: Take ONE sachet in the morning"),
    "sh06": _lines("levothyroxine-100 1-0-0-0", "calcium-d 0-1-1-0", "alendronic-70 1-0-0-0 monday"),
    "sh07": (_course("amoxicillin-500 1-1-0-1", 0, 7), *_lines("amlodipine-5 1-0-0-0", "docusate-100 1-0-0-1")),
    "sh08": _lines("prednisolone-5 1-0-0-0 2-days", "lansoprazole-15 1-0-0-0", "calcium-d 0-1-1-0"),
    "sh09": _lines(
        "buprenorphine-5 1-0-0-0 7-days: Apply ONE patch every 7 days",
        "lactulose 15-0-15-0: Take 15 mL twice a day",
        "latanoprost 0-0-0-1: Put ONE drop into each eye at night",
    ),
    "sh10": (_course("trimethoprim-200 1-0-1-0", 8, 7), *_lines("tamsulosin-400 1-0-0-0", "lansoprazole-od 1-0-0-0")),
    "sh11": (Line("paracetamol-500", words="Take ONE or TWO tablets FOUR times a day"), *_lines("sertraline-50 0.5-0-0-0")),
    "sh12": _lines("metformin-500 2-0-2-0", "gliclazide-80 0.5-0-0-0", "insulin-glargine 0-0-0-14: Inject 14 units at bedtime"),
    "li01": (*_lines("calcium-d-eff 1-0-1-0"), Line("digoxin-62.5", _WHOLE, every="2-days")),
    "li02": (Line("warfarin-1", words="Take as directed by the clinic"), *_lines("bisoprolol-5 1-0-0-0")),
    "li03": (
        Line("methotrexate-2.5", words="Take FOUR tablets once weekly on Tuesdays in the morning"),
        Line("folic-5", words="Take ONE tablet once weekly on Fridays in the morning"),
    ),
    "li04": (Line("metformin-500", words="Take ONE tablet with dinner"),),
    "li05": (Line("colecalciferol", words="Take ONE capsule three times a week"),),
    "li06": _lines("valproate-200 1-0-1-0", "salbutamol: Inhale TWO puffs when required for breathlessness"),
    "li07": (_course("doxycycline-100 1-0-0-0", 2, 7), *_lines("tiotropium 2-0-0-0: Inhale TWO puffs once a day in the morning")),
    "li08": _lines("levetiracetam-500 1-0-1-0", "thiamine-100 1-0-1-0"),
    "hm01": _lines("metformin-500 1-0-1-0", "gliclazide-80 1-0-0-0", "atorvastatin-40 0-0-0-1", "aspirin-75-disp 1-0-0-0"),
    "hm02": _lines(  # nobody named the evening: three dosing times where two would do
        "amlodipine-5 1-0-0-0",
        "omeprazole-20 1-0-0-0",
        "beclometasone 2-0-2-0: Inhale TWO puffs twice a day",
        "docusate-100 1-0-1-0: Take ONE capsule twice a day",
        "atorvastatin-20 0-0-0-1",
    ),
    "hm05": _lines("levothyroxine-100 1-0-0-0"),
    "hm07": _lines("letrozole-2.5 1-0-0-0", "calcium-d 0-1-1-0", "alendronic-70 1-0-0-0 sunday"),
    "hm08": (_course("zopiclone-3.75 0-0-0-1", 0, 7), *_lines("sertraline-50 1-0-0-0")),
    "hm09": _lines("prednisolone-1 3-0-0-0", "prednisolone-5 1-0-0-0", "alendronic-70 1-0-0-0 monday"),
}

SIZES = {"sh03": 19, "hm02": 5, "hm05": 1}

# Kinds that must not be added by chance: the story would otherwise be told wrongly, or an interaction slip in.
WITHOUT: dict[str, frozenset[str]] = {
    "sh10": frozenset({"renin", "potassium sparing", "iron"}),
    "li02": frozenset({"antidepressant", "paracetamol"}),
    "li04": frozenset({"sulfonylurea"}),
    "hm12": frozenset({"beta blocker"}),
}

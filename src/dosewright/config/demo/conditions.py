"""Why people take what they take: each condition brings its usual medicines, so that a drawn regimen makes sense to a pharmacist.

Doses are ordinary adult maintenance doses from common practice, no source; the shares are tuned to the published figures for regimen
size and dosing times that tests/house/test_demo_people.py checks.
"""

from dataclasses import dataclass

__all__ = ["APART", "AS_NEEDED", "CONDITIONS", "Condition"]


@dataclass(frozen=True, slots=True)
class Condition:
    """`lines` come in this order, as many as there is room for; "|" separates alternatives, "-" is none. `sex` limits who has it."""

    name: str
    weight: int
    lines: tuple[str, ...]
    sex: str = "fm"


CONDITIONS = (
    Condition(
        "blood pressure",
        9,
        (
            "amlodipine-5 1-0-0-0 | amlodipine-5 0-0-0-1",
            "ramipril-2.5 0-0-0-1 | ramipril-5 1-0-0-0 | ramipril-5 0-0-0-1 | losartan-50 1-0-0-0",
        ),
    ),
    Condition(
        "heart failure",
        6,
        (
            "bisoprolol-2.5 1-0-0-0 | bisoprolol-2.5 0.5-0-0-0 | bisoprolol-5 1-0-0-0",
            "furosemide-40 1-0-0-0 | furosemide-40 1-1-0-0 | furosemide-40 0.5-0-0-0",
            "ramipril-5 1-0-0-0 | ramipril-2.5 1-0-1-0",
            "spironolactone-25 1-0-0-0 | spironolactone-25 0.5-0-0-0",
        ),
    ),
    Condition("irregular heartbeat", 6, ("apixaban-5 1-0-1-0 | apixaban-2.5 1-0-1-0", "bisoprolol-2.5 1-0-0-0", "digoxin-62.5 1-0-0-0")),
    Condition(
        "angina",
        5,
        ("aspirin-75 1-0-0-0 | aspirin-75 0-1-0-0", "atorvastatin-40 0-0-0-1 | atorvastatin-40 0-0-1-0", "isosorbide-10 1-1-0-0"),
    ),
    Condition("stroke", 4, ("clopidogrel-75 1-0-0-0", "atorvastatin-40 0-0-0-1")),
    Condition("cholesterol", 4, ("atorvastatin-20 0-0-0-1 | atorvastatin-20 0-0-1-0",)),
    Condition(
        "diabetes",
        6,
        (
            "metformin-500 1-0-1-0 | metformin-500 2-0-2-0 | metformin-500 1-1-1-0",
            "gliclazide-80 1-0-0-0 | gliclazide-80 1-0-1-0 | gliclazide-80 0.5-0-0-0",
            "sitagliptin-100 1-0-0-0",
        ),
    ),
    Condition("thyroid", 3, ("levothyroxine-50 1-0-0-0 | levothyroxine-100 1-0-0-0", "levothyroxine-25 1-0-0-0 | -")),
    Condition("brittle bones", 5, ("calcium-d 0-1-1-0", "alendronic-70 1-0-0-0 monday | alendronic-70 1-0-0-0 sunday")),
    Condition("memory", 6, ("donepezil-10 0-0-0-1", "memantine-10 2-0-0-0")),
    Condition(
        "stiffness and tremor", 3, ("co-careldopa 1-1-1-0 | co-careldopa 1-1-1-1 | co-careldopa 1.5-1-1-0", "quetiapine-25 0-0-0-0.5")
    ),
    Condition("fits", 3, ("levetiracetam-500 1-0-1-0 | lamotrigine-100 1-0-1-0",)),
    Condition("low mood", 7, ("sertraline-50 1-0-0-0 | sertraline-50 0.5-0-0-0 | mirtazapine-15 0-0-0-1",)),
    Condition("nerve pain", 4, ("gabapentin-300 1-1-0-1 | gabapentin-300 1-1-1-0 | amitriptyline-10 0-0-0-1",)),
    Condition("pain", 9, ("paracetamol-500 2-2-2-2 | paracetamol-500 2-2-0-2",)),
    Condition(
        "bowels",
        9,
        (
            "senna-7.5 0-0-0-2",
            "docusate-100 1-0-0-1 | docusate-100 1-0-1-0",
            "macrogol 1-0-0-0: Take ONE sachet in the morning",
        ),
    ),
    Condition("stomach", 7, ("omeprazole-20 1-0-0-0 | lansoprazole-15 1-0-0-0 | lansoprazole-15 0-0-1-0",)),
    Condition("prostate", 6, ("tamsulosin-400 1-0-0-0", "finasteride-5 1-0-0-0"), sex="m"),
    Condition("bladder", 3, ("solifenacin-5 0-0-0-1",)),
    Condition("low iron", 4, ("ferrous-210 0-0-1-0 | ferrous-210 0-1-0-0", "folic-5 1-0-0-0")),
    Condition("vitamins", 6, ("colecalciferol 1-0-0-0 | colecalciferol 0-1-0-0",)),
    Condition("thin and frail", 3, ("thiamine-100 1-0-1-0 | thiamine-100 1-1-1-0", "folic-5 1-0-0-0")),
    Condition("gout", 3, ("allopurinol-100 1-0-0-0 | allopurinol-100 0-1-0-0",)),
    Condition(
        "chronic chest",
        4,
        ("tiotropium 2-0-0-0: Inhale TWO puffs once a day in the morning", "carbocisteine 2-2-2-0 | carbocisteine 2-0-2-0"),
    ),
    Condition("glaucoma", 3, ("latanoprost 0-0-0-1: Put ONE drop into the right eye at night",)),
)

# Taken on demand; drawn beside the regular medicines. The kind in front must be in the regimen, "" fits everybody.
AS_NEEDED = (
    ("", "paracetamol-500: Take TWO tablets every 6 hours when required for pain. Maximum 8 tablets in 24 hours"),
    ("", "loperamide-2: Take ONE capsule when required for diarrhoea"),
    ("nitrate", "glyceryl-spray: Use ONE puff under the tongue when required for chest pain"),
    ("long-acting inhaler", "salbutamol: Inhale TWO puffs when required for breathlessness"),
    ("paracetamol", "codeine-15: Take ONE tablet every 6 hours when required for pain"),
    ("", "macrogol: Take ONE sachet when required for constipation"),
)

# Kinds (or codes) that one person is not given together: they interact, or must lie hours apart and the pattern does not say how.
APART = (
    frozenset({"clopidogrel-75", "omeprazole-20"}),
    frozenset({"cholinesterase", "bladder"}),
    frozenset({"cholinesterase", "amitriptyline-10"}),
    frozenset({"levodopa", "iron"}),
    frozenset({"calcium", "iron"}),
    frozenset({"calcium", "vitamin D"}),
    frozenset({"antibiotic", "iron"}),
    frozenset({"antibiotic", "calcium"}),
    frozenset({"antibiotic", "methotrexate"}),
    frozenset({"antibiotic", "renin"}),
    frozenset({"antibiotic", "potassium sparing"}),
    frozenset({"beta blocker", "long-acting inhaler"}),
    frozenset({"beta blocker", "reliever"}),
    frozenset({"loperamide", "stimulant laxative"}),
    frozenset({"loperamide", "stool softener"}),
    frozenset({"loperamide", "osmotic laxative"}),
    frozenset({"long-acting inhaler", "bladder"}),
    frozenset({"strong opioid", "weak opioid"}),
    frozenset({"strong opioid", "nerve pain"}),
    frozenset({"weak opioid", "nerve pain"}),
    frozenset({"hypnotic", "nerve pain"}),
    frozenset({"sertraline-50", "amitriptyline-10"}),
)

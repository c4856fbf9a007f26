"""Requests drawn by Hypothesis: one or two people, a handful of products of every shape, all kinds of orders, cards and rolls."""

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

from hypothesis import strategies as st
from tests.core.medicines.shipped_rules import rules, spacings
from tests.core.packing.makers import IRIS, MONDAY, ROLL, SEVEN_BY_FOUR, dosage, medicine, order, profile, request

from dosewright.core.medicines.medicine import Medicine, Shape, Size
from dosewright.core.medicines.neighbours import PairRule
from dosewright.core.packing.request import LabelLines, PlanRequest
from dosewright.core.regimen.dosage import Dosage, Repeat, TimeUnit, Timing, Weekday
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import MedicineCode, PersonId
from dosewright.core.units.person import Person

__all__ = ["requests"]

OWEN = Person(PersonId("p2"), "Owen Fenwick")
NAMES = ("Alpha", "Beta", "Gamma", "Delta", "Epsilon", "Zeta", "Eta", "Theta", "Warfarin", "Furosemide", "Levothyroxine")
_PAIR = PairRule("pair.test", ("alpha",), ("beta", "gamma"), "react", "test", "2026", "proposal")

_sides = st.integers(6, 52).map(lambda halves: Fraction(halves, 2))
_sizes = st.builds(lambda a, b, c: Size(max(a, b), min(a, b), c), _sides, _sides, st.integers(4, 16).map(lambda h: Fraction(h, 2)))
_small = st.builds(lambda a, b, c: Size(max(a, b), min(a, b), c), *[st.integers(5, 14).map(Fraction)] * 2, st.integers(3, 8).map(Fraction))
_flags = st.sampled_from(
    [*[frozenset[str]()] * 8, *(frozenset({f}) for f in ("alone", "alone", "hazardous", "halves-no", "controlled", "moisture"))]
)
_counts = st.sampled_from(["0.5", "1", "1", "1", "2", "1.5", "0.25", "9", "20"])
_whens = st.lists(st.sampled_from(["MORN", "NOON", "EVE", "HS"]), min_size=1, max_size=3, unique=True)
_weekdays: st.SearchStrategy[list[Weekday]] = st.one_of(
    st.just([]), st.lists(st.sampled_from(list(Weekday)), min_size=1, max_size=3, unique=True)
)


@st.composite
def _medicines(draw: st.DrawFn) -> tuple[Medicine, ...]:
    names = draw(st.lists(st.sampled_from(NAMES), min_size=1, max_size=10, unique=True))
    return tuple(
        medicine(
            name,
            shape=draw(st.sampled_from([*Shape, None])),
            size=draw(st.one_of(*[_small] * 6, _sizes, st.none())),
            colour=draw(st.sampled_from(["white", "pink", ""])),
            form=draw(st.sampled_from([*["tablet"] * 9, "oral liquid", "jelly", "chewable tablet"])),
            flags=draw(_flags),
        )
        for name in names
    )


@st.composite
def _orders(draw: st.DrawFn, catalogue: tuple[Medicine, ...], people: tuple[Person, ...], days: int) -> tuple[Order, ...]:
    made = []
    for number in range(draw(st.integers(1, 12))):
        unheard: list[Medicine | str] = [*catalogue, *catalogue, "unheard-of"]
        what = draw(st.sampled_from(unheard)) if number else catalogue[0]
        unit = draw(st.sampled_from([*["tablet"] * 12, "mg", "mL", ""]))
        one = dosage(draw(_counts), *draw(_whens), unit=unit, days=draw(_weekdays), as_needed=draw(st.sampled_from([False] * 7 + [True])))
        if draw(st.integers(0, 7)) == 0:
            one = _on_demand(one, draw(st.integers(1, 6)))
        since, until = (draw(st.one_of(*[st.none()] * 6, st.integers(-5, days + 5))) for _ in range(2))
        made.append(
            replace(
                order(f"o{number}", what, one, person=draw(st.sampled_from(people))),
                since=None if since is None else Moment(MONDAY + timedelta(days=since)),
                until=None if until is None else Moment(MONDAY + timedelta(days=until)),
            )
        )
    return tuple(made)


def _on_demand(one: Dosage, often: int) -> Dosage:
    """The same amount on demand, so often in a day at most."""
    repeat = Repeat(frequency=1, frequency_max=often, period=Fraction(1), period_unit=TimeUnit.DAY)
    return replace(one, timing=Timing(repeat=repeat), as_needed=True)


@st.composite
def requests(draw: st.DrawFn) -> PlanRequest:
    """Any request whose plan must be right, however strange its orders are."""
    catalogue, people, days = (
        draw(_medicines()),
        draw(st.sampled_from([(IRIS,), (IRIS,), (IRIS, OWEN)])),
        draw(st.sampled_from([3, 7, 10, 14, 28, 31])),
    )
    codes = [MedicineCode(m.code) for m in catalogue]
    lines = LabelLines(draw(st.integers(2, 6)), {code: draw(st.integers(1, 3)) for code in codes})
    return request(
        draw(_orders(catalogue, people, days)),
        catalogue,
        people=people,
        days=days,
        format=draw(st.sampled_from([SEVEN_BY_FOUR, ROLL])),
        rules=rules(),
        pairs=draw(st.sampled_from([(), (_PAIR,)])),
        spacings=spacings(),
        profile=profile(
            hazardous_in_card=draw(st.booleans()), as_needed_in_card=draw(st.booleans()), weeks_a_card_max=draw(st.integers(1, 4))
        ),
        expiries={code: date(2026, 4, 20) for code in codes if draw(st.integers(0, 30)) == 0},
        label_lines=draw(st.one_of(st.none(), st.just(lines))),
    )

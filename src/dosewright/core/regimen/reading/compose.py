"""Items become meanings: phases one after the other, each with its clauses, all checked against totals, maxima and the ordered strength.

Comes in: a row of items, and the setting. Goes out: every meaning that fits. Raises Unclear where there is none.
"""

import itertools
from collections.abc import Sequence
from dataclasses import replace

from dosewright.core.regimen.dosage import Dosage, Weekday
from dosewright.core.regimen.reading import phrases as p
from dosewright.core.regimen.reading.clauses import Clause, Phase, find_phases
from dosewright.core.regimen.reading.frames import Place, find_frame
from dosewright.core.regimen.reading.meals import settle_meals
from dosewright.core.regimen.reading.meaning import Doubt, Meaning, Unclear
from dosewright.core.regimen.reading.parts import cut_parts
from dosewright.core.regimen.reading.splitting import split_doses
from dosewright.core.regimen.reading.stated import apart_from_supply, check_stated, is_taper
from dosewright.core.regimen.reading.strengths import Product, in_units
from dosewright.core.regimen.reading.structure import make_dosages
from dosewright.core.regimen.reading.tapers import write_out_steps
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.quantity import Unit

__all__ = ["compose"]

_MOST_MEANINGS = 24
_SEQUENCE = "read.one-after-other"


def compose(items: Sequence[p.Item], product: Product | None) -> list[Meaning]:
    """Every meaning of the row, without repeats, in a fixed order. Raises Unclear."""
    stepped, unsaid = write_out_steps(_one_unit(apart_from_supply(items)))
    parts, doubts = cut_parts(stepped)
    doubts += unsaid
    if not parts:
        raise Unclear("read.no-quantity", p.whole(items))
    named = tuple(dict.fromkeys(day for item in items if isinstance(item, p.OnDays) for day in item.days))
    rows: list[list[tuple[Meaning, Phase]]] = []
    for number, part in enumerate(parts):
        settled = settle_meals(part)
        doubts += settled.doubts
        place = Place(number, len(parts), named)
        phases = find_phases(split_doses(settled.items))
        made = [_phase_meaning(phase, place, product, settled.assumed) for phase in phases]
        rows.append(list(zip(made, phases, strict=True)))
    meanings = [_in_order(_joined(row, doubts), len(parts)) for row in itertools.islice(itertools.product(*rows), _MOST_MEANINGS + 1)]
    if len(meanings) > _MOST_MEANINGS:
        raise Unclear("read.too-many", p.whole(items))
    return meanings


def _in_order(meaning: Meaning, parts: int) -> Meaning:
    """Three steps or more in one direction, each with its length, follow one another in any reading: said, and marked."""
    if not any(doubt.code == _SEQUENCE for doubt in meaning.doubts) or not is_taper(meaning.dosages, parts):
        return meaning
    doubts = tuple(doubt for doubt in meaning.doubts if doubt.code != _SEQUENCE)
    return replace(meaning, doubts=doubts, assumed=(*meaning.assumed, Finding(_SEQUENCE, Severity.NOTE)))


def _joined(row: Sequence[tuple[Meaning, Phase]], doubts: tuple[Doubt, ...]) -> Meaning:
    return Meaning(
        tuple(dosage for meaning, _ in row for dosage in meaning.dosages),
        doubts + tuple(doubt for meaning, _ in row for doubt in meaning.doubts),
        tuple(finding for meaning, _ in row for finding in meaning.assumed),
    )


def _one_unit(items: Sequence[p.Item]) -> list[p.Item]:
    """ "1 tablet in the morning and 2 at night": the bare amount is in the line's only unit. A bare number beside mg is not."""
    units = {item.unit for item in items if isinstance(item, p.HowMuch) and item.unit}
    units = units or {item.unit for item in items if isinstance(item, p.Supply) and item.unit}
    bare = [item for item in items if isinstance(item, p.HowMuch) and not item.unit]
    alone = [item for item in items if isinstance(item, p.UnitAlone)]
    held = [item for item in items if isinstance(item, p.HowMuch) and item.each]
    if len({item.each for item in held}) > 1 and len({item.each[0] / item.number.high for item in held if item.each}) > 1:
        raise Unclear("read.two-units", held[-1].span)  # "1 5mg tablet … and 1 10mg tablet": two products
    if len(units) > 1:
        raise Unclear("read.two-units", next(i for i in items if isinstance(i, p.HowMuch) and i.unit and i.unit != min(units)).span)
    if alone:
        return _with_noun(items, units, alone)
    if not (units and bare):
        return list(items)
    unit = units.pop()
    if unit in p.MASS:
        raise Unclear("read.unit-missing", bare[0].span)
    return [replace(item, unit=unit) if isinstance(item, p.HowMuch) else item for item in items]


def _with_noun(items: Sequence[p.Item], units: set[Unit], alone: Sequence[p.UnitAlone]) -> list[p.Item]:
    """ "tablets: 1 in the morning, 2 at night". A noun beside amounts of another unit is a second product, or a slip."""
    nouns = {item.unit for item in alone}
    amounts = [item for item in items if isinstance(item, p.HowMuch | p.Pattern)]
    if not amounts:
        raise Unclear("read.no-quantity", alone[0].span)
    after = alone[-1].span > amounts[0].span and not any(isinstance(item, p.Pattern) for item in amounts)
    if len(nouns | units) > 1 or nouns & p.MASS or after:
        raise Unclear("read.two-units", alone[0].span)
    noun = alone[0].unit
    kept = [item for item in items if not isinstance(item, p.UnitAlone)]
    return [replace(item, unit=noun) if isinstance(item, p.HowMuch | p.Pattern) else item for item in kept]


def _phase_meaning(phase: Phase, place: Place, product: Product | None, assumed: tuple[Finding, ...]) -> Meaning:
    frame, doubts = find_frame(phase, place)
    converted = [in_units(clause.amount, product) for clause in phase.clauses]
    clauses = _taken([replace(clause, amount=found.amount) for clause, found in zip(phase.clauses, converted, strict=True)])
    made = [make_dosages(clause, frame, place.named) for clause in clauses]
    check_stated(phase, made, alone=place.count == 1)
    dosages = tuple(dosage for one in made for dosage in one.dosages)
    _require_no_clash(phase, dosages)
    doubts += tuple(doubt for one in made for doubt in one.doubts)
    supplied = tuple(dict.fromkeys(finding.code for found in converted for finding in found.assumed))
    notes = tuple(next(f for found in converted for f in found.assumed if f.code == code) for code in supplied)
    said = tuple(finding for one in made for finding in one.assumed)
    return Meaning(dosages, doubts, (*assumed, *notes, *said))


def _taken(clauses: Sequence[Clause]) -> Sequence[Clause]:
    """ "morning 1, noon 0, night 2": nothing at noon."""
    taken = [clause for clause in clauses if clause.amount.number.high or not clause.times]
    return taken or clauses


def _require_no_clash(phase: Phase, dosages: Sequence[Dosage]) -> None:
    """Two amounts for one moment: "1 in the morning and 1 in the morning"; "1 daily, 2 daily"."""
    seen: set[tuple[object, ...]] = set()
    for dosage in dosages:
        repeat = dosage.timing.repeat if dosage.timing else None
        days = repeat.day_of_week or tuple(Weekday) if repeat else tuple(Weekday)
        moments = (*repeat.when, *repeat.time_of_day) or ("any",) if repeat else ("any",)
        for moment in itertools.product(days, moments):
            if moment in seen:
                raise Unclear("read.twice-said", phase.clauses[-1].span)
            seen.add(moment)
    if len(dosages) > 1 and any(moment[1] == "any" for moment in seen) and any(moment[1] != "any" for moment in seen):
        raise Unclear("read.mixed", phase.clauses[-1].span)

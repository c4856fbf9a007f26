"""An answer told: which orders move and on what that relies, which stay and why, what was proved, how many cards it comes to."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import combinations

from dosewright.core.packing.dosing_times.candidates import Seen, check_scheduled
from dosewright.core.packing.dosing_times.change_over import check_change_over, first_gap
from dosewright.core.packing.dosing_times.choose import Chosen
from dosewright.core.packing.dosing_times.clashes import Clash, standing_between
from dosewright.core.packing.dosing_times.freedom import Times, hours_and_minutes, minute_of
from dosewright.core.packing.dosing_times.setting import Setting
from dosewright.core.packing.dosing_times.times_values import Move, Proposal, Stays, TimesProof
from dosewright.core.packing.person_plan import plan_person
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import Timetable
from dosewright.core.units.finding import Fact, Finding, Severity, blocks

__all__ = ["Answered", "report"]

_Answer = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Answered:
    """What was asked and what came out.

    `written`: each order that some answer moves, (order, option) → as it would count.
    """

    seen: tuple[Seen, ...]
    chosen: Chosen
    clashes: Mapping[tuple[int, int], tuple[Clash, ...]]
    written: Mapping[tuple[int, int], Order]

    @property
    def still(self) -> _Answer:
        """Everything as today."""
        return (0,) * len(self.seen)


def report(found: Answered, setting: Setting, own: Timetable) -> Proposal:
    """The proposal: of all answers as good, the one with the fewest cards, the first among equals; one that cannot be packed comes last."""
    cards = {one: _cards(one, found, setting) for one in (found.still, *found.chosen.answers)}
    answer = min(found.chosen.answers, key=lambda one: (cards[one] is None, cards[one] or 0, one), default=found.still)
    moves = tuple(_move(at, answer, found, setting) for at, option in enumerate(answer) if option)
    proposed = _times(answer, found, setting)
    proof = _proof(found, proposed, cards[found.still], cards[answer])
    return Proposal(
        person=setting.person.id,
        timetable=setting.timetable,
        today=_times(found.still, found, setting),
        proposed=proposed,
        moves=moves,
        stays=tuple(_stays(found.seen[at]) for at, option in enumerate(answer) if not option),
        proof=proof,
        findings=tuple(_findings(found, answer, moves, proof, setting)),
        widened=not set(proposed) <= set(own.slots),
    )


def _cards(answer: _Answer, found: Answered, setting: Setting) -> int | None:
    """None where a `stop` keeps the set from being packed: its cards are not few, they are none."""
    moved = {found.seen[at].candidate.order.id: found.written[at, option] for at, option in enumerate(answer) if option}
    orders = tuple(moved.get(order.id, order) for order in setting.orders)
    planned = plan_person(setting.person, replace(setting.request, orders=orders), "")
    return None if blocks(planned.findings) else planned.plan.proof.cards


def _times(answer: _Answer, found: Answered, setting: Setting) -> Times:
    used = {slot.name for seen, option in zip(found.seen, answer, strict=True) for slot in seen.candidate.options[option]}
    return tuple(slot for slot in setting.timetable.slots if slot.name in used)


def _proof(found: Answered, proposed: Times, today: int | None, cards: int | None) -> TimesProof:
    chosen = found.chosen
    optimal = len(proposed) == chosen.lower_bound
    return TimesProof(len(proposed), chosen.lower_bound, optimal, optimal and chosen.proved and chosen.all_tied, chosen.nodes, today, cards)


def _move(at: int, answer: _Answer, found: Answered, setting: Setting) -> Move:
    seen, made = found.seen[at], found.written[at, answer[at]]
    candidate = seen.candidate
    today, proposed = candidate.options[0], candidate.options[answer[at]]
    moved = [(here, there) for here, there in zip(today, proposed, strict=True) if here != there]
    farthest = max(abs(minute_of(here) - minute_of(there)) for here, there in moved)
    gap = first_gap(candidate.order, made, setting)
    relies = (*seen.freedom.relies_on, *_window(seen, farthest, setting), *_mended(at, answer, found), *([gap] if gap else []))
    return Move(made, candidate.order.medicine, today, proposed, sum(seen.doses[here.name] for here, _ in moved), farthest, relies)


def _window(seen: Seen, farthest: int, setting: Setting) -> Iterator[Finding]:
    """Whether it could be given so much earlier or later anyhow, or only the words allow it."""
    window = setting.rules.window("daily" if len(seen.candidate.options[0]) == 1 else "often")
    if window:
        code = "times.within-window" if farthest <= window.minutes else "times.beyond-window"
        cited: dict[str, Fact] = {"source": window.source, "dated": window.dated}
        facts: dict[str, Fact] = {"stray": hours_and_minutes(window.minutes), "moved": hours_and_minutes(farthest), **cited}
        yield setting.note(code, seen.candidate.order, **facts)


def _mended(at: int, answer: _Answer, found: Answered) -> Iterator[Finding]:
    """The rules that today's times break with some other order and the new ones keep, each once."""
    said: set[object] = set()
    for pair, about in _broken_today(found):
        rule = about.facts.get("rule")
        if at in pair and rule not in said and _parted(pair, answer, found):
            said.add(rule)
            yield replace(about, code="times.mends")


def _broken_today(found: Answered) -> Iterator[tuple[tuple[int, int], Finding]]:
    for pair, clashes in found.clashes.items():
        yield from ((pair, clash.about) for clash in clashes if (clash.one, clash.other) == (0, 0))


def _parted(pair: tuple[int, int], answer: _Answer, found: Answered) -> bool:
    """Whether the answer's choices for those two keep every rule."""
    return (answer[pair[0]], answer[pair[1]]) not in {(clash.one, clash.other) for clash in found.clashes[pair]}


def _standing(found: Answered, answer: _Answer, setting: Setting) -> Iterator[Finding]:
    """What stays broken: between orders that stay, and where no choice keeps every rule."""
    candidates = [seen.candidate for seen in found.seen]
    let_be = (standing_between(one, other, setting.request.spacings) for one, other in combinations(candidates, 2))
    excused = (about for pair, about in _broken_today(found) if not _parted(pair, answer, found))
    yield from (replace(about, code="times.stands", severity=Severity.DECIDE) for about in (*filter(None, let_be), *excused))


def _stays(seen: Seen) -> Stays:
    candidate = seen.candidate
    return Stays(candidate.order.id, candidate.order.medicine, candidate.options[0], seen.freedom.why)


def _findings(found: Answered, answer: _Answer, moves: tuple[Move, ...], proof: TimesProof, setting: Setting) -> Iterator[Finding]:
    yield from check_scheduled(setting)
    yield from _standing(found, answer, setting)
    yield from check_change_over({move.order.id: move.order for move in moves}, setting)
    facts: dict[str, Fact] = {"name": setting.person.name, "today": len(_times(found.still, found, setting))}
    code = "times.unproved" if not proof.optimal else "times.fewest" if moves else "times.fewest-already"
    yield Finding(code, Severity.NOTE, {"person": setting.person.id}, {**facts, "times": proof.times, "bound": proof.lower_bound})

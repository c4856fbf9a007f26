"""An answer told: which orders move and on what that relies, which stay and why, what was proved, how many cards it comes to."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from dosewright.core.packing.dosing_times.candidates import Seen, check_scheduled
from dosewright.core.packing.dosing_times.change_over import check_change_over, first_gap
from dosewright.core.packing.dosing_times.choose import Chosen
from dosewright.core.packing.dosing_times.clashes import Clash
from dosewright.core.packing.dosing_times.freedom import Times, minute_of
from dosewright.core.packing.dosing_times.setting import Setting
from dosewright.core.packing.dosing_times.times_values import Move, Proposal, Stays, TimesProof
from dosewright.core.packing.person_plan import plan_person
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import Timetable
from dosewright.core.units.finding import Fact, Finding, Severity

__all__ = ["Answered", "report"]

_Answer = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Answered:
    """What was asked and what came out. `excused`: nothing keeps every rule, so what today's times break was let pass.

    `written`: each order that some answer moves, (order, option) → as it would count.
    """

    seen: tuple[Seen, ...]
    chosen: Chosen
    clashes: Mapping[tuple[int, int], tuple[Clash, ...]]
    excused: bool
    written: Mapping[tuple[int, int], Order]

    @property
    def still(self) -> _Answer:
        """Everything as today."""
        return (0,) * len(self.seen)


def report(found: Answered, setting: Setting, own: Timetable) -> Proposal:
    """The proposal: of all answers as good, the one with the fewest cards, the first among equals."""
    cards, answer = min(((_cards(one, found, setting), one) for one in found.chosen.answers), default=(0, found.still))
    today = _cards(found.still, found, setting)
    moves = tuple(_move(at, option, found, setting) for at, option in enumerate(answer) if option)
    proposed = _times(answer, found, setting)
    proof = _proof(found, proposed, today, cards if found.chosen.answers else today)
    before = _times(found.still, found, setting)
    return Proposal(
        person=setting.person.id,
        timetable=setting.timetable,
        today=before,
        proposed=proposed,
        moves=moves,
        stays=tuple(_stays(found.seen[at]) for at, option in enumerate(answer) if not option),
        proof=proof,
        findings=tuple(_findings(found, moves, before, proof, setting)),
        widened=not set(proposed) <= set(own.slots),
    )


def _cards(answer: _Answer, found: Answered, setting: Setting) -> int:
    moved = {found.seen[at].candidate.order.id: found.written[at, option] for at, option in enumerate(answer) if option}
    orders = tuple(moved.get(order.id, order) for order in setting.orders)
    return plan_person(setting.person, replace(setting.request, orders=orders), "").plan.proof.cards


def _times(answer: _Answer, found: Answered, setting: Setting) -> Times:
    used = {slot.name for seen, option in zip(found.seen, answer, strict=True) for slot in seen.candidate.options[option]}
    return tuple(slot for slot in setting.timetable.slots if slot.name in used)


def _proof(found: Answered, proposed: Times, today: int, cards: int) -> TimesProof:
    chosen = found.chosen
    optimal = len(proposed) == chosen.lower_bound
    return TimesProof(len(proposed), chosen.lower_bound, optimal, optimal and chosen.proved and chosen.all_tied, chosen.nodes, today, cards)


def _move(at: int, option: int, found: Answered, setting: Setting) -> Move:
    seen, made = found.seen[at], found.written[at, option]
    candidate = seen.candidate
    today, proposed = candidate.options[0], candidate.options[option]
    moved = [(here, there) for here, there in zip(today, proposed, strict=True) if here != there]
    farthest = max(abs(minute_of(here) - minute_of(there)) for here, there in moved)
    gap = first_gap(candidate.order, made, setting)
    relies = (*seen.freedom.relies_on, *_window(seen, farthest, setting), *_kept(at, found), *([gap] if gap else []))
    return Move(made, candidate.order.medicine, today, proposed, sum(seen.doses[here.name] for here, _ in moved), farthest, relies)


def _window(seen: Seen, farthest: int, setting: Setting) -> Iterator[Finding]:
    """Whether it could be given so much earlier or later anyhow, or only the words allow it."""
    window = setting.rules.window("daily" if len(seen.candidate.options[0]) == 1 else "often")
    if window:
        code = "times.within-window" if farthest <= window.minutes else "times.beyond-window"
        facts: dict[str, Fact] = {"minutes": window.minutes, "moved": farthest, "source": window.source, "dated": window.dated}
        yield setting.note(code, seen.candidate.order, **facts)


def _kept(at: int, found: Answered) -> Iterator[Finding]:
    """The rules that today's time breaks with some other order and the new time keeps, each once."""
    said: set[object] = set()
    for (one, other), clashes in found.clashes.items():
        mine = [clash for clash in clashes if (clash.one, clash.other) == (0, 0)] if at in (one, other) else []
        for clash in mine:
            if (key := clash.about.facts.get("rule")) not in said:
                said.add(key)
                yield replace(clash.about, code="times.mends")


def _stays(seen: Seen) -> Stays:
    candidate = seen.candidate
    return Stays(candidate.order.id, candidate.order.medicine, candidate.options[0], seen.freedom.why)


def _findings(found: Answered, moves: tuple[Move, ...], today: Times, proof: TimesProof, setting: Setting) -> Iterator[Finding]:
    yield from check_scheduled(setting)
    if found.excused:
        broken = (clash.about for clashes in found.clashes.values() for clash in clashes if (clash.one, clash.other) == (0, 0))
        yield from (replace(about, code="times.stands", severity=Severity.DECIDE) for about in broken)
    yield from check_change_over({move.order.id: move.order for move in moves}, setting)
    facts: dict[str, Fact] = {"name": setting.person.name, "today": len(today), "times": proof.times, "bound": proof.lower_bound}
    code = "times.unproved" if not proof.optimal else "times.fewest" if moves else "times.fewest-already"
    yield Finding(code, Severity.NOTE, {"person": setting.person.id}, facts)

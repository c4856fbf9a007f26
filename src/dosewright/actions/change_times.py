"""The dosing times of the pharmacy, of a home or of one person are changed; cards whose doses they move are out of date (R9)."""

from collections.abc import Iterator

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.correcting import check_something_changed
from dosewright.core.custody.event import Deed, Occasion
from dosewright.core.custody.rights import Ability
from dosewright.core.custody.stage import OVER, Stage
from dosewright.core.custody.touching import facts_of, note_times_changed
from dosewright.core.rework.times_changed import doses_at_other_times, named_otherwise
from dosewright.core.rework.touched import Touched
from dosewright.core.units.dosing_time import Timetable
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import HomeId, PersonId
from dosewright.store.calendar import wall_moment
from dosewright.store.cards import StoredCard, lock_cards_by_pharmacy_times, lock_open_cards, save_event
from dosewright.store.cards_on import lock_cards_by_home_times
from dosewright.store.ledger import append_entry
from dosewright.store.orders import load_confirmed
from dosewright.store.people import load_timetable
from dosewright.store.pharmacy import lock_pharmacy
from dosewright.store.whose_times import WhoseTimes, has_own_times, load_times_of, save_times_of

__all__ = ["change_times", "say_times"]


@doing(Ability.CHANGE_TIMES, "times")
def change_times(whose: str, on: Occasion, of: WhoseTimes, wanted: Timetable | None, reason: str) -> Outcome:
    """They are these from now on; None: whoever it is follows the home's or the pharmacy's again.

    Of whoever follows them every card is looked at: where a dose still to come lies at another time, or a dosing time on its labels bears
    another name, it is out of date."""
    lock_pharmacy()
    if wanted is None and (of.kind == "pharmacy" or not has_own_times(of)):
        return not_done((Finding("custody.timetable-not-here", Severity.STOP),))
    was, had_own, cards = load_times_of(of), has_own_times(of), _followers(of)
    before = {card.person.id: load_timetable(card.person.id) for card in cards}
    save_times_of(of, wanted)
    now = load_times_of(of)
    changed = _changed(was, now) or (() if had_own and wanted else ("own times",))
    if findings := check_something_changed(changed, reason):
        return not_done(findings)
    append_entry(on, "dosing times changed", ("times", whose), {"was": say_times(was), "now": say_times(now), "why": reason.strip()})
    return done(tuple(_mark(cards, before, on, whose, reason.strip())))


def _followers(of: WhoseTimes) -> tuple[StoredCard, ...]:
    if of.kind == "person":
        return lock_open_cards(PersonId(of.id))
    if of.kind == "home":
        return lock_cards_by_home_times(HomeId(of.id), frozenset(Stage) - OVER)
    return lock_cards_by_pharmacy_times()


def say_times(timetable: Timetable) -> tuple[str, ...]:
    """ "08:00 morning (ACM CM MORN PCM)", by the clock, then which of them once a day, twice a day, … mean."""
    slots = tuple(f"{slot.time:%H:%M} {slot.name}" + (f" ({' '.join(sorted(slot.when))})" if slot.when else "") for slot in timetable.slots)
    return (*slots, *(f"{often} a day: {', '.join(names)}" for often, names in sorted(timetable.by_frequency.items())))


def _changed(was: Timetable, now: Timetable) -> tuple[str, ...]:
    return tuple(sorted(set(say_times(was)) ^ set(say_times(now))))


def _mark(cards: tuple[StoredCard, ...], before: dict[PersonId, Timetable], on: Occasion, whose: str, reason: str) -> Iterator[Finding]:
    at = wall_moment(on.at)
    for card in cards:
        person = card.person.id
        now = load_timetable(person)
        doses = doses_at_other_times(card.card, load_confirmed(person), at, before[person], now)
        names = named_otherwise(card.card, at, now) if before[person] != now else ()
        if doses or names:
            facts: dict[str, Fact] = {**facts_of(Touched(card.number, doses, ())), "timetable": whose, "changes": names, "reason": reason}
            save_event(card, Deed.OUT_OF_DATE, on, facts)
            yield note_times_changed(card.number)

"""A person lives somewhere else now: another home's dosing times may count, and every card is found where it is."""

from dataclasses import replace

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.actions.take_change import take_change
from dosewright.core.custody.changing import Cause
from dosewright.core.custody.event import Deed, Occasion
from dosewright.core.custody.reason import check_reason
from dosewright.core.custody.rights import Ability
from dosewright.core.custody.touching import note_times_changed
from dosewright.core.units.finding import Finding, Severity
from dosewright.core.units.ids import HomeId, PersonId
from dosewright.store.cards import lock_open_cards, save_event
from dosewright.store.ledger import append_entry
from dosewright.store.missing import Missing
from dosewright.store.orders import load_confirmed
from dosewright.store.people import load_home_names, load_person, load_timetable, lock_person, save_person

__all__ = ["move_home"]


@doing(Ability.TAKE_CHANGE, "person")
def move_home(person: PersonId, on: Occasion, home: HomeId | None, room: str, reason: str) -> Outcome:
    """Every open card names another place than the person lives at, and perhaps other dosing times: all of them are out of date (R9)."""
    lock_person(person)
    if home is not None and home not in load_home_names():
        raise Missing("home", home)
    known, before = load_person(person), load_timetable(person)
    findings = check_reason(reason)
    if (known.home, known.room) == (home, room):
        findings += (Finding("change.same-home", Severity.STOP, {"person": person}, {"name": known.name}),)
    if findings:
        return not_done(findings)
    cards = lock_open_cards(person)
    save_person(replace(known, home=home, room=room))
    said = {"person": person, "from": known.home or "", "to": home or "", "room": room, "reason": reason}
    append_entry(on, "moved home", ("person", person), said)
    for card in cards:
        save_event(card, Deed.OUT_OF_DATE, on, {"home": home or "", "times": load_timetable(person) != before})
    if cards:
        take_change(person, on, load_confirmed(person), (), Cause.MOVED_HOME)
    return done(tuple(note_times_changed(card.number) for card in cards if load_timetable(person) != before))

"""A person's record is put right: name, birth date, home, room, address. Never which record is whose: records are not merged."""

from dataclasses import dataclass

from dosewright.actions.doing import doing
from dosewright.actions.mark_resting_on import mark_resting_on
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.correcting import check_person_corrected, check_something_changed, differences, person_touches
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.rights import Ability
from dosewright.core.units.finding import Finding, Severity, blocks
from dosewright.core.units.ids import PersonId
from dosewright.core.units.person import Person
from dosewright.store.cards import lock_open_cards
from dosewright.store.ledger import append_entry
from dosewright.store.people import load_home_names, load_people, load_person, lock_person, save_person

__all__ = ["PersonCorrection", "correct_person"]


@dataclass(frozen=True, slots=True)
class PersonCorrection:
    """The record as it is to stand; `told_apart`: somebody of the same name and birth date is another human being."""

    said: Person
    reason: str
    told_apart: bool = False


@doing(Ability.CORRECT_PERSON, "person")
def correct_person(person: PersonId, on: Occasion, wanted: PersonCorrection) -> Outcome:
    """The record stands so; the ledger keeps what it was and why. Cards that bear the old name, birth date or home are out of date, and
    dosing times go with the home."""
    lock_person(person)
    before, cards = load_person(person), lock_open_cards(person)
    changed = differences(before, wanted.said)
    findings = check_something_changed(changed, wanted.reason)
    findings += check_person_corrected(wanted.said, load_people(), told_apart=wanted.told_apart) + _check_home(wanted.said)
    if blocks(findings) or wanted.said.id != person:
        return not_done(findings)
    save_person(wanted.said)
    append_entry(on, "record corrected", ("person", person), {"changes": changed, "why": wanted.reason.strip()})
    touched = [card for card in cards if card.state.stage in person_touches(changed)]
    return done(mark_resting_on(touched, on, "the person's record", changed, wanted.reason.strip()))


def _check_home(said: Person) -> tuple[Finding, ...]:
    """A home must be on record: a slip of the pen must not found one."""
    if said.home is None or said.home in load_home_names():
        return ()
    return (Finding("custody.not-there", Severity.STOP, facts={"kind": "home", "id": said.home}),)

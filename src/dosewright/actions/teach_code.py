"""A pack's code that the catalogue lacks is taught: two people scan the bottle, each says which medicine it is, and both say the same."""

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.rights import Ability
from dosewright.core.supply.teaching import Taught, check_teaching
from dosewright.core.units.finding import Finding, Severity, blocks
from dosewright.core.units.ids import Gtin, MedicineCode
from dosewright.store.catalogue import find_by_gtin, load_medicine
from dosewright.store.ledger import append_entry
from dosewright.store.pack_codes import lock_waiting_code, save_code, save_dropped, save_taught
from dosewright.store.pharmacy import lock_pharmacy

__all__ = ["drop_code", "teach_code"]


@doing(Ability.TEACH_CODE, "code")
def teach_code(gtin: Gtin, on: Occasion, medicine: MedicineCode) -> Outcome:
    """The first time it waits for somebody else; the second time, by another who says the same, the code counts (R7).

    `made`: the code, once it counts.
    """
    lock_pharmacy()
    load_medicine(medicine)
    said, before = Taught(gtin, medicine, on.by.id), lock_waiting_code(gtin)
    findings = check_teaching(said, before, find_by_gtin(gtin))
    if blocks(findings):
        return not_done(findings)
    if before is None:
        save_taught(said, on)
        append_entry(on, "code taught", ("code", gtin), {"medicine": medicine})
        return done()
    save_code(said)
    append_entry(on, "code confirmed", ("code", gtin), {"medicine": medicine, "first said by": before.by})
    return done((), gtin)


@doing(Ability.TEACH_CODE, "code")
def drop_code(gtin: Gtin, on: Occasion) -> Outcome:
    """What was said of the code first was wrong, or two disagree: it is said anew, by two."""
    if not save_dropped(gtin):
        return not_done((Finding("supply.code-nobody-waits", Severity.STOP, facts={"gtin": gtin}),))
    append_entry(on, "code dropped", ("code", gtin), {})
    return done()

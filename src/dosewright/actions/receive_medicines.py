"""A medicines file comes in: products are added to the catalogue, or changed."""

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.rights import Ability
from dosewright.core.interop.order_file import read_medicine_file
from dosewright.store.catalogue import save_medicine
from dosewright.store.ledger import append_entry
from dosewright.store.pharmacy import lock_pharmacy

__all__ = ["receive_medicines"]


@doing(Ability.RECEIVE_MEDICINES, "file")
def receive_medicines(name: str, on: Occasion, content: bytes) -> Outcome:
    """Every row without fault counts from now on; the findings name the others. Nothing is done where no row may be used."""
    lock_pharmacy()
    found = read_medicine_file(content, name)
    if not found.medicines:
        return not_done(found.findings)
    changed = tuple(medicine.code for medicine in found.medicines if save_medicine(medicine))
    append_entry(on, "medicines received", ("file", name), {"changed": changed, "same": len(found.medicines) - len(changed)})
    return done(found.findings, *changed)

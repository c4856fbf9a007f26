"""What an order is confirmed among: gathered from the store for the action that confirms it, and for the screen that asks."""

from datetime import datetime

from dosewright.core.custody.confirming import Around, Standing
from dosewright.core.custody.conflicts import Known
from dosewright.core.custody.wordings import WHOLE_PHARMACY, WordingKey, choice_by, key_of
from dosewright.core.interop.directions import read_beside, read_directions
from dosewright.core.interop.orders_in import OrderSource
from dosewright.core.regimen.reading.reading_values import Reading
from dosewright.core.units.ids import HomeId
from dosewright.store.calendar import wall_day
from dosewright.store.catalogue import load_catalogue
from dosewright.store.orders import StoredOrder, load_confirmed
from dosewright.store.people import load_timetable
from dosewright.store.pharmacy import StoredPharmacy, load_pharmacy, load_rules
from dosewright.store.wordings import find_wording

__all__ = ["look_around", "read_anew", "remembered_choice", "wording_key"]


def look_around(stored: StoredOrder, at: datetime) -> Around:
    """The person's other confirmed orders, dosing times, products and rules; what its words say by themselves; the wording remembered."""
    pharmacy, others = load_pharmacy(), load_confirmed(stored.person.id)
    medicines = load_catalogue({stored.order.medicine, *(other.medicine for other in others)})
    remembered = find_wording(wording_key(stored, pharmacy, stored.person.home or WHOLE_PHARMACY)) if stored.reading else None
    return Around(
        others=others,
        timetable=load_timetable(stored.person.id),
        today=wall_day(at),
        found=stored.findings,
        known=Known(stored.person, medicines, load_rules(pharmacy.rules).suitability),
        words=_words(stored, pharmacy),
        wording=Standing(remembered.id, remembered.wording) if remembered else None,
    )


def remembered_choice(stored: StoredOrder) -> int | None:
    """Which of the order's readings is the remembered one, if these words are remembered for its person."""
    held = find_wording(wording_key(stored, load_pharmacy(), stored.person.home or WHOLE_PHARMACY))
    return choice_by(held.wording, stored.reading) if held else None


def read_anew(stored: StoredOrder, text: str) -> Reading:
    """Directions that a pharmacist writes anew for the order: in English, whatever language it came in."""
    return read_directions(text, stored.medicine, OrderSource("", {}, "en", load_pharmacy().country))


def wording_key(stored: StoredOrder, pharmacy: StoredPharmacy, home: HomeId) -> WordingKey:
    """The key under which the order's words are remembered for that home, or for the whole pharmacy."""
    return key_of(stored.order.text, stored.lang, pharmacy.country, stored.medicine, home)


def _words(stored: StoredOrder, pharmacy: StoredPharmacy) -> Reading | None:
    """What the words beside a structure say when they are read alone."""
    if not any(dosage.text.strip() for dosage in stored.order.dosages):
        return None
    return read_beside(stored.order.text, stored.medicine, OrderSource("", {}, stored.lang, pharmacy.country))

"""Monday and Tuesday: the pharmacy is set up, its files come in, stock arrives, and the pharmacist confirms what has one reading only.

Comes in: an empty store. Goes out: orders, confirmed where nothing is open, and questions left for the visitor. Needs Django set up.
"""

from fractions import Fraction

from dosewright.actions.confirm_reading import confirm_reading
from dosewright.actions.receive_medicines import receive_medicines
from dosewright.actions.receive_orders import receive_orders
from dosewright.actions.receive_stock import receive_stock
from dosewright.actions.set_up_pharmacy import set_up_pharmacy
from dosewright.actions.shipped_rules import load_shipped_rules
from dosewright.config.demo.bench import Bench, must
from dosewright.config.demo.files import ORDER_FILES, demo_files
from dosewright.config.demo.medicines_file import gtin_of
from dosewright.config.demo.stock import lots
from dosewright.core.custody.confirming import Confirmation
from dosewright.core.regimen.reading.reading_values import ReadingStatus
from dosewright.core.supply.movement import Batch
from dosewright.core.supply.scanning import Proof
from dosewright.core.units.dosing_time import STANDARD_TIMETABLE
from dosewright.core.units.ids import Gtin, HomeId, Lot, MedicineCode
from dosewright.store.orders import StoredOrder, load_waiting
from dosewright.store.people import save_home
from dosewright.store.pharmacy import StoredPharmacy, save_pharmacy

__all__ = ["confirm_what_is_clear", "open_pharmacy", "receive_files", "receive_lots"]

_NAME = "Tern Street Pharmacy"
_HOMES = {
    "Saltmarsh House": "1 Saltmarsh Road, Ternmouth TM4 9ZZ",
    "The Lindens": "28 Linden Avenue, Ternmouth TM4 8ZZ",
}


def open_pharmacy(bench: Bench) -> None:
    """The pharmacy, its rules as they ship for the United Kingdom, its homes, its people."""
    texts = load_shipped_rules("uk")
    pharmacy = StoredPharmacy(
        name=_NAME,
        address="33 Tern Street, Ternmouth TM4 7ZZ",
        phone="01632 960 471",  # 01632 960 is kept for invented numbers (Ofcom)
        registration="9990471",
        country="GB",
        salt="tern-street-demonstration",
        rules=texts.sha256,
    )
    save_pharmacy(pharmacy, texts, STANDARD_TIMETABLE)
    for home, address in _HOMES.items():
        save_home(HomeId(home), home, address=address)
    bench.sign_everybody_up()
    must(set_up_pharmacy(_NAME, bench.on("hugh"), pharmacy, texts, STANDARD_TIMETABLE))


def receive_files(bench: Bench) -> tuple[int, int]:
    """The catalogue, then every file of orders. Goes out: how many orders came in, and how many findings about the files."""
    files = demo_files()
    must(receive_medicines("medicines.csv", bench.on("tess"), files["medicines.csv"]))
    outcomes = [must(receive_orders(name, bench.on("tess"), files[name])) for name in ORDER_FILES]
    return sum(len(outcome.made) - 1 for outcome in outcomes), sum(len(outcome.findings) for outcome in outcomes)


def receive_lots(bench: Bench) -> int:
    """Every lot, with its bottle scanned. How many."""
    for lot in lots():
        medicine, gtin = MedicineCode(lot.medicine), Gtin(gtin_of(lot.medicine))
        proof = Proof(gtin=gtin, named=medicine, scanned_lot=Lot(lot.lot), scanned_expiry=lot.expiry)
        batch = Batch(lot.expiry, Lot(lot.lot), medicine)
        must(receive_stock(medicine, bench.on("milo"), batch, Fraction(lot.amount), proof))
    return len(lots())


def confirm_what_is_clear(bench: Bench) -> tuple[int, int]:
    """Orders that came as structure, and words with one reading. Goes out: how many were confirmed, how many wait for the visitor."""
    waiting = load_waiting()
    confirmed = [_confirmed(bench, stored) for stored in waiting if _clear(stored)]
    return sum(confirmed), len(waiting) - sum(confirmed)


def _confirmed(bench: Bench, stored: StoredOrder) -> bool:
    """Where two strengths of one substance are ordered, they are meant to be taken together."""
    outcome = confirm_reading(stored.order.id, bench.on("priya"), Confirmation())
    if [finding.code for finding in outcome.findings] == ["custody.same-substance"]:
        outcome = confirm_reading(stored.order.id, bench.on("priya"), Confirmation(beside=True))
    return outcome.done


def _clear(stored: StoredOrder) -> bool:
    return stored.reading is None or stored.reading.status is ReadingStatus.READ

"""A lot is recalled, all of it: the lot is held, and the papers about it are made."""

from dataclasses import replace
from datetime import datetime

from dosewright.actions.make_sheet import make_recall
from dosewright.actions.outcome import Outcome
from dosewright.actions.recall_lot import recall_lot
from dosewright.actions.sheets_wanted import notices_of, recall_of
from dosewright.core.custody.event import Occasion
from dosewright.core.units.ids import Lot, MedicineCode
from dosewright.store.paper_sources import load_recalled

__all__ = ["carry_out_recall"]


def carry_out_recall(medicine: MedicineCode, on: Occasion, lot: Lot, said: tuple[str, str], at: datetime) -> Outcome:
    """Where cards have units of it, the pharmacy's sheet is made, and where such cards have left, a notice for each home and person.

    `said`: urgency and reason. `made` of the outcome: the sheet's id, then the notices'. Where a step fails, those before it stand.
    Sent twice under one mark it is done once. Raises Missing for a lot that nobody has received.
    """
    held = recall_lot(medicine, on, lot, *said)
    cards = load_recalled(medicine, lot) if held.done else ()
    if not cards:
        return held
    wanted = recall_of(medicine, lot, said, at)
    sheet = make_recall(wanted.name.subject, on, wanted)
    if not sheet.done or not any(card.out for card in cards):
        return sheet
    wanted = notices_of(medicine, lot, said, at)
    # About the same lot by the same right: under the same mark they would be taken for the sheet's second submit.
    notices = make_recall(wanted.name.subject, replace(on, token=f"{on.token} notices" if on.token else ""), wanted)
    return Outcome(notices.done, (*sheet.findings, *notices.findings), (*sheet.made, *notices.made))

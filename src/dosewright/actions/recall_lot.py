"""A lot is recalled: the pharmacy's own sheet, and where cards with it have left, a notice for each home and person that has one."""

from dataclasses import replace
from datetime import datetime

from dosewright.actions.make_sheet import make_recall
from dosewright.actions.outcome import Outcome
from dosewright.actions.sheets_wanted import notices_of, recall_of
from dosewright.core.custody.event import Occasion
from dosewright.core.units.ids import Lot, MedicineCode
from dosewright.store.paper_sources import load_recalled

__all__ = ["recall_lot"]


def recall_lot(medicine: MedicineCode, lot: Lot, on: Occasion, said: tuple[str, str], made: datetime) -> Outcome:
    """`said`: urgency and reason. `made` of the outcome: the sheet's id, then the notices'. Not done where one of the two could not be
    made; a sheet that was is kept all the same."""
    wanted = recall_of(medicine, lot, said, made)
    sheet = make_recall(wanted.name.subject, on, wanted)
    if not sheet.done or not any(card.out for card in load_recalled(medicine, lot)):
        return sheet
    wanted = notices_of(medicine, lot, said, made)
    # The notices are about the same lot by the same right: under the same mark they would be taken for the sheet's second submit.
    notices = make_recall(wanted.name.subject, replace(on, token=f"{on.token} notices" if on.token else ""), wanted)
    return Outcome(notices.done, (*sheet.findings, *notices.findings), (*sheet.made, *notices.made))

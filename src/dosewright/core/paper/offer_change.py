"""The front door of a change's own sheets: the note for people, the answer to the prescriber; drawn and read back; bytes, or findings."""

from dosewright.core.paper.change_note import ChangeAnswer, ChangeNote, draw_change_answer, draw_change_note
from dosewright.core.paper.finish import Offered, Part, finish
from dosewright.core.paper.material import Material
from dosewright.core.paper.page import Page
from dosewright.core.paper.pdf import Heading
from dosewright.core.paper.zone_recount import Truth
from dosewright.core.units.finding import Finding
from dosewright.core.units.ids import PersonId

__all__ = ["offer_change_answer", "offer_change_note"]


def offer_change_note(note: ChangeNote, material: Material) -> Offered:
    """The note of one person's change."""
    return _offer("What changes", note.person, draw_change_note(note, material), material)


def offer_change_answer(answer: ChangeAnswer, material: Material) -> Offered:
    """What was done about one person's change, for whoever asked for it."""
    return _offer("What was done", answer.person, draw_change_answer(answer, material), material)


def _offer(title: str, person: PersonId, drawn: tuple[tuple[Page, ...], tuple[Finding, ...]], material: Material) -> Offered:
    heading = Heading(title, material.pharmacy.name or "Dosewright", f"plan {material.plan.basis}", material.lang)
    return finish((Part(person, *drawn, Truth()),), material.fonts, heading, material.printer)

"""The front door of a change's own sheets: the note for people, drawn and read back; bytes, or findings."""

from dosewright.core.paper.change_note import ChangeNote, draw_change_note
from dosewright.core.paper.finish import Offered, Part, finish
from dosewright.core.paper.material import Material
from dosewright.core.paper.pdf import Heading
from dosewright.core.paper.zone_recount import Truth

__all__ = ["offer_change_note"]


def offer_change_note(note: ChangeNote, material: Material) -> Offered:
    """The note of one person's change."""
    pages, found = draw_change_note(note, material)
    heading = Heading("What changes", material.pharmacy.name or "Dosewright", f"plan {material.plan.basis}", material.lang)
    return finish((Part(note.person, pages, found, Truth()),), material.fonts, heading, material.printer)

"""A proposal of fewer dosing times as one JSON object, keys in a fixed order: today's, the proposed, each move with what it relies on."""

from collections.abc import Iterable

from dosewright.core.interop.dosage_json import format_dosage
from dosewright.core.interop.findings_json import finding_in_json
from dosewright.core.interop.json_text import Writable, format_json
from dosewright.core.packing.dosing_times.times_values import Move, Proposal, Stays
from dosewright.core.units.dosing_time import DosingTime

__all__ = ["format_proposal", "proposal_object"]


def format_proposal(proposal: Proposal, name: str) -> str:
    """One line of text. `name` is the person's printed name."""
    return format_json(proposal_object(proposal, name))


def proposal_object(proposal: Proposal, name: str) -> dict[str, Writable]:
    """The same before it is text; `dosage` of a move is the order's directions as FHIR R4, as they would be."""
    proof = proposal.proof
    return {
        "id": proposal.person,
        "name": name,
        "today": _times(proposal.today),
        "proposed": _times(proposal.proposed),
        "moves": [_move(move) for move in proposal.moves],
        "stays": [_stays(stays) for stays in proposal.stays],
        "cards": {"today": proof.cards_today, "proposed": proof.cards_proposed},
        "proof": {
            "times": proof.times,
            "lower_bound": proof.lower_bound,
            "optimal": proof.optimal,
            "gentlest": proof.gentlest,
            "nodes": proof.nodes,
        },
        "findings": [finding_in_json(finding) for finding in proposal.findings],
    }


def _move(move: Move) -> dict[str, Writable]:
    return {
        "order": move.order.id,
        "medicine": move.medicine,
        "today": _times(move.today),
        "proposed": _times(move.proposed),
        "doses": move.doses,
        "minutes": move.minutes,
        "relies_on": [finding_in_json(finding) for finding in move.relies_on],
        "dosage": [format_dosage(dosage) for dosage in move.order.dosages],
    }


def _stays(stays: Stays) -> dict[str, Writable]:
    why = finding_in_json(stays.why) if stays.why else None
    return {"order": stays.order, "medicine": stays.medicine, "times": _times(stays.times), "why": why}


def _times(times: Iterable[DosingTime]) -> list[Writable]:
    return [{"slot": slot.name, "time": f"{slot.time:%H:%M}"} for slot in times]

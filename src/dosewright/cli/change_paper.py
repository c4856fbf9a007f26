"""The sheets of a change, for everyone whose change can be done: labels, work lists, and sheets for cards that are called back.

Comes in: layouts that the recount agrees with, the plan after the change. Goes out: PDFs that were read back, and why some have none.
"""

from collections.abc import Sequence
from dataclasses import replace

from dosewright.cli.plan_input import PlanInput
from dosewright.core.custody.change_sheets import interims_of, plan_of_labels, relabelled, work_of
from dosewright.core.packing.plan_values import Plan
from dosewright.core.paper.alike import tell_apart
from dosewright.core.paper.material import STAMPED, Material
from dosewright.core.paper.offer import Offered, offer_interim, offer_labels, offer_work
from dosewright.core.rework.layout import PersonLayout
from dosewright.core.rework.situation import Situation
from dosewright.core.units.finding import Finding
from dosewright.devices.fonts import load_fonts

__all__ = ["CHANGE_PAPER", "draw_change"]

CHANGE_PAPER = ("labels.pdf", "work.pdf", "interim.pdf")


def draw_change(
    layouts: Sequence[PersonLayout], after: Plan, situation: Situation, given: PlanInput
) -> tuple[dict[str, bytes], tuple[Finding, ...]]:
    """File names with their bytes, without those that have no page."""
    doing = [layout for layout in layouts if layout.chosen and not layout.held]
    if not doing:
        return {}, ()
    homes = {person.home: person.home for person in given.request.people if person.home}
    labels = plan_of_labels(after, doing, situation.at)
    material = Material(
        labels, situation.after, STAMPED, load_fonts(), homes=homes, apart=tell_apart(situation.after.people), relabel=relabelled(doing)
    )
    people = {person.person: person for person in after.people}
    everyone = replace(material, plan=replace(after, people=tuple(people[layout.person.id] for layout in doing)), relabel=None)
    offered = {
        "labels.pdf": offer_labels(material),
        "work.pdf": offer_work([work_of(layout, situation, people[layout.person.id]) for layout in doing], everyone),
        "interim.pdf": offer_interim([sheet for layout in doing for sheet in interims_of(layout, situation)], everyone),
    }
    return _files(offered)


def _files(offered: dict[str, Offered]) -> tuple[dict[str, bytes], tuple[Finding, ...]]:
    findings = [finding for one in offered.values() for finding in one.findings]
    return {name: one.pdf for name, one in offered.items() if one.pdf}, tuple(findings)

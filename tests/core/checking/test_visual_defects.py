"""The pick list of what can be seen. Source: Albert et al., Drugs and Therapy Perspectives 2017."""

from dosewright.core.checking.visual_defects import VISUAL_DEFECTS
from dosewright.web.card_deeds import SendBackForm


def test_the_list_has_exactly_the_eight_published_criteria() -> None:
    """CV-2.5."""
    eight = {"rough surface", "chipping", "cracking", "capping", "mottling", "discolouration", "swelling", "crushing"}
    assert set(VISUAL_DEFECTS) == eight
    assert len(VISUAL_DEFECTS) == 8


def test_whoever_sends_a_card_back_may_pick_one_of_them() -> None:
    picked = dict(SendBackForm().fields["seen"].choices)  # type: ignore[attr-defined]
    assert set(picked) == {"", *VISUAL_DEFECTS}

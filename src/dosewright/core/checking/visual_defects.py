"""What can be seen of a unit that did not bear being repacked: the eight criteria of a published trial of medicines in compliance aids.

Source: Albert et al., Drugs and Therapy Perspectives 2017 (24 medicines, four weeks, three aids).
"""

__all__ = ["VISUAL_DEFECTS"]

VISUAL_DEFECTS = ("rough surface", "chipping", "cracking", "capping", "mottling", "discolouration", "swelling", "crushing")

"""A screen that asks for one decision: what it is about, what must be said with it, and one button that tells what will be true after."""

from collections.abc import Sequence
from dataclasses import dataclass

from django import forms

from dosewright.core.units.finding import Finding

__all__ = ["Decision", "ReasonForm"]


class ReasonForm(forms.Form):
    """Why."""

    reason = forms.CharField(label="Why", max_length=1000, widget=forms.Textarea({"rows": 3}))


@dataclass(frozen=True, slots=True)
class Decision:
    """`action` is where the form goes, `back` the way out that changes nothing. `button` empty: nothing can be decided as things stand."""

    title: str
    about: str
    action: str
    button: str
    back: str
    form: forms.Form
    token: str
    findings: Sequence[Finding] = ()
    back_words: str = "Leave it as it is"

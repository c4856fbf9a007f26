"""Somebody signs for a decision: the password of whoever is signed in, again."""

from django import forms
from django.contrib.auth import authenticate

from dosewright.store.work import username_of
from dosewright.web.request import BenchRequest

__all__ = ["SignedForm", "signed_again"]


class SignedForm(forms.Form):
    """The password, again."""

    password = forms.CharField(
        label="Your password, again", max_length=200, strip=False, widget=forms.PasswordInput({"autocomplete": "off"})
    )


def signed_again(request: BenchRequest) -> bool:
    """Whether the form bears the password of the person at the bench. By the way of signing in, so that wrong ones lock the account too."""
    form = SignedForm(request.POST)
    if not form.is_valid():
        return False
    account = authenticate(request, username=username_of(request.actor.id), password=form.cleaned_data["password"])
    return account is not None and account.pk == request.user.pk

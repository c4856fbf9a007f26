"""One's own password, again: what a signature and a change of who may sign in ask for, whatever opened the bench."""

from django import forms
from django.contrib.auth import authenticate

from dosewright.store.work import username_of
from dosewright.web.request import BenchRequest

__all__ = ["is_own_password", "password_again"]


def password_again() -> forms.CharField:
    """The field of a form."""
    return forms.CharField(label="Your password, again", max_length=200, strip=False, widget=forms.PasswordInput({"autocomplete": "off"}))


def is_own_password(request: BenchRequest, password: str) -> bool:
    """By the way of signing in, so that wrong passwords lock the account here too."""
    account = authenticate(request, username=username_of(request.actor.id), password=password)
    return account is not None and account.pk == request.user.pk

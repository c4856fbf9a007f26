"""No screen leads anybody to a refusal: every link and every form that a role is shown is one that the role may go to (R14)."""

import re
from urllib.parse import urlsplit

import pytest
from django.urls import resolve
from tests import small_bench
from tests.journeys.test_every_screen import SCREENS
from tests.web.conftest import SignIn

from dosewright.core.custody.event import Role
from dosewright.web.rights import address_named

_LINK = re.compile(r'<a [^>]*href="(/[^"#]*)"')
_FORM = re.compile(r"<form ([^>]*)>")


def asked_by(page: str) -> set[tuple[str, bool]]:
    """Every address that the page's links and forms ask for; whether something is sent there."""
    found = {(place, False) for place in _LINK.findall(page)}
    for form in _FORM.findall(page):
        place = re.search(r'action="(/[^"]*)"', form)
        if place:
            found.add((place[1], 'method="post"' in form))
    return found


@pytest.mark.parametrize("role", Role)
def test_nobody_is_shown_a_way_that_is_refused(role: Role, sign_in: SignIn) -> None:
    client = sign_in(role)
    number = small_bench.released_for_a_home()
    refused: set[str] = set()
    paths = [
        path.format(card=number) for path in (*SCREENS, "/residents", "/residents/p1", "/residents/cards/{card}", "/cards/{card}/receive")
    ]
    walked = 0
    for path in paths:
        if role not in address_named(resolve(urlsplit(path).path).url_name or "").readers:
            continue
        answer = client.get(path)
        walked += 1
        for place, sends in asked_by(answer.content.decode()):
            address = address_named(resolve(urlsplit(place.replace("&amp;", "&")).path).url_name or "")
            if not address.open and role not in (address.roles if sends else address.readers):
                refused.add(f"{path} -> {place}")
    assert walked
    assert refused == set()

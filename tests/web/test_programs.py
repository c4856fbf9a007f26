"""Tokens are made and revoked at the bench: shown once, kept as a hash, within the rights of whoever makes them."""

import re
from typing import Any

from django.test import Client
from tests import small_bench
from tests.web.conftest import SignIn

from dosewright.core.custody.event import Role
from dosewright.core.custody.rights import Ability
from dosewright.store.api_tokens import find_token, hash_of, load_tokens
from dosewright.store.ledger import load_entries

SECRET = re.compile(r'<code class="token">(dw_[\w-]{40,})</code>')


def asked(client: Client, **changed: Any) -> Any:
    said = {"name": "records system", "username": "pharmacist", "until": "2026-05-01", "home": "", "token": "form 1"}
    return client.post("/programs", {**said, "abilities": [Ability.LOOK.value, Ability.RELEASE_CARD.value], **changed})


def test_a_token_is_shown_once_and_works(sign_in: SignIn) -> None:
    small_bench.opened()
    client = sign_in(Role.PHARMACIST)
    answer = asked(client)
    secret = SECRET.search(answer.content.decode())
    assert secret
    kept = find_token(secret[1])
    assert kept
    assert (kept.name, kept.abilities) == ("records system", frozenset({Ability.LOOK, Ability.RELEASE_CARD}))
    assert secret[1] not in client.get("/programs").content.decode()
    used = Client().get("/api/medicines", headers={"Authorization": f"Bearer {secret[1]}"})
    assert used.status_code == 200
    facts = [entry.body for entry in load_entries("token")]
    assert len(facts) == 1
    assert secret[1] not in facts[0]
    assert hash_of(secret[1]) not in facts[0]


def test_the_second_click_shows_the_same_token_and_makes_no_other(sign_in: SignIn) -> None:
    client = sign_in(Role.PHARMACIST)
    shown = [SECRET.search(asked(client).content.decode()) for _ in range(2)]
    assert shown[0]
    assert shown[1]
    assert shown[0][1] == shown[1][1]
    assert len(load_tokens()) == 1


def test_a_manager_cannot_let_a_program_sign_in_a_pharmacist_s_name(sign_in: SignIn) -> None:
    sign_in(Role.PHARMACIST)
    answer = asked(sign_in(Role.MANAGER))
    assert answer.status_code == 422
    assert "Only The pharmacist may let a program do this in their name" in answer.content.decode()
    assert load_tokens() == ()


def test_a_revoked_token_counts_no_more(sign_in: SignIn) -> None:
    client = sign_in(Role.PHARMACIST)
    secret = SECRET.search(asked(client).content.decode())
    assert secret
    (kept,) = load_tokens()
    assert client.get(f"/programs/{kept.id}/revoke").status_code == 200
    assert client.post(f"/programs/{kept.id}/revoke", {"token": "form 2"}).status_code == 302
    used = Client().get("/api/medicines", headers={"Authorization": f"Bearer {secret[1]}"})
    assert used.status_code == 403
    assert "revoked by The pharmacist" in client.get("/programs").content.decode()

"""A bench that locks: who was here is kept, nothing of theirs is shown, and what they had typed waits for them.

A session's own words: `opened`, when somebody gave a password here; `touched`, when somebody last did anything; `locked`; `badge`, whose
badge was scanned last; `drafts`, for each account the page that it left and the fields as they stood.
"""

import json
from datetime import datetime, timedelta
from typing import Any
from urllib.parse import urlsplit

from django.conf import settings
from django.contrib.auth import login
from django.http import HttpRequest
from django.urls import Resolver404, resolve

from dosewright.store.models import Account
from dosewright.web.rights import address_named

__all__ = ["Draft", "come_to_the_bench", "is_locked", "is_open", "keep_draft", "keep_posted", "lock", "place_left", "take_draft", "touch"]

_TOUCHES = 45  # of fifteen minutes every twenty seconds: each request that writes it waits for the disk once more
LONGEST_DRAFT = 50_000  # characters: more than any form here takes
_SECRET = frozenset({"csrfmiddlewaretoken", "token", "password", "theirs", "pin", "again", "scan", "path", "fields"})

Draft = str  # JSON: [[field's name, which of that name, what stood in it], …]


def is_locked(request: HttpRequest, now: datetime) -> bool:
    """Whether the bench is locked, or nobody has touched it for too long; a clock that was set back counts as too long."""
    session = request.session
    touched = session.get("touched")
    if touched and not session.get("locked") and abs(now - datetime.fromisoformat(touched)) > settings.BENCH_IDLE:
        session["locked"] = True
    return bool(session.get("locked"))


def touch(request: HttpRequest, now: datetime) -> None:
    """Somebody is here. It is written down again when a little while has passed: a bench locks so much earlier then, and never later."""
    touched = request.session.get("touched")
    if not touched or abs(now - datetime.fromisoformat(touched)) >= settings.BENCH_IDLE / _TOUCHES:
        request.session["touched"] = now.isoformat()


def lock(request: HttpRequest) -> None:
    """From now on the badge screen, and nothing else."""
    request.session["locked"] = True
    request.session.pop("badge", None)


def is_open(request: HttpRequest, now: datetime) -> bool:
    """Whether somebody gave a password at this bench, not too long ago: only then do badge and PIN do here."""
    opened = str(request.session.get("opened") or "")
    return bool(opened) and timedelta(0) <= now - datetime.fromisoformat(opened) <= settings.BENCH_OPEN


def come_to_the_bench(request: HttpRequest, account: Account, now: datetime, *, by_password: bool) -> None:
    """The account is signed in here; what others had typed goes on waiting for them."""
    kept: dict[str, Any] = {name: request.session.get(name) for name in ("opened", "drafts")}
    login(request, account)
    for name, value in kept.items():
        request.session[name] = value
    for name in ("locked", "badge"):
        request.session.pop(name, None)
    if by_password:
        request.session["opened"] = now.isoformat()
    touch(request, now)


def keep_draft(request: HttpRequest, account_id: str, path: str, fields: Draft) -> None:
    """The page that the account left, and what stood in its fields. What is no such list, or too long, is not kept."""
    if not _is_page(path) or len(fields) > LONGEST_DRAFT or not _is_draft(fields):
        fields, path = "[]", path if _is_page(path) else "/"
    request.session["drafts"] = {**(request.session.get("drafts") or {}), account_id: {"path": path, "fields": fields}}


def keep_posted(request: HttpRequest, account_id: str) -> None:
    """A form that was sent after the bench had locked itself: its fields wait on the page that it came from."""
    came_from = urlsplit(request.headers.get("referer", ""))
    path = f"{came_from.path}?{came_from.query}" if came_from.query else came_from.path or "/"
    fields = [
        [name, which, value] for name in request.POST if name not in _SECRET for which, value in enumerate(request.POST.getlist(name))
    ]
    keep_draft(request, account_id, path, json.dumps(fields))


def place_left(request: HttpRequest, account_id: str) -> str:
    """The page that the account left; "" where it left none."""
    return str(((request.session.get("drafts") or {}).get(account_id) or {}).get("path", ""))


def take_draft(request: HttpRequest, account_id: str) -> Draft:
    """What the account had typed on this very page, once; "" where that was nothing."""
    drafts = dict(request.session.get("drafts") or {})
    found = drafts.get(account_id)
    if not found or found["path"] != request.get_full_path():
        return ""
    del drafts[account_id]
    request.session["drafts"] = drafts
    return "" if found["fields"] == "[]" else str(found["fields"])


def _is_page(path: str) -> bool:
    """Whether the path is one of the bench's own that may be looked at."""
    if not path.startswith("/") or path.startswith("//") or len(path) > 2000:
        return False
    try:
        name = resolve(urlsplit(path).path).url_name or ""
        return not address_named(name).changes
    except (Resolver404, KeyError):
        return False


def _is_draft(fields: Draft) -> bool:
    try:
        said = json.loads(fields)
    except ValueError:
        return False
    return isinstance(said, list) and all(isinstance(one, list) and len(one) == 3 and isinstance(one[0], str) for one in said)

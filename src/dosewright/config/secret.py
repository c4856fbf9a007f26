"""The key that signs sessions: from the environment, or made once and kept in a file that only its owner reads."""

import os
import secrets
from pathlib import Path

__all__ = ["load_secret"]


def load_secret(given: str, folder: Path) -> str:
    """`given` where there is one, else the key in `folder`, made at the first call. Two first starts at once agree on one key."""
    if given:
        return given
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    place = folder / "secret.key"
    if not place.exists():
        _write_once(place, secrets.token_urlsafe(48))
    return place.read_text("utf-8").strip()


def _write_once(place: Path, key: str) -> None:
    # Written beside and linked into place: a second process never reads a half-written key, and the first one wins.
    beside = place.with_name(f"secret.{os.getpid()}.new")
    with os.fdopen(os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w", encoding="utf-8") as file:
        file.write(key)
    try:
        os.link(beside, place)
    except FileExistsError:
        pass
    finally:
        beside.unlink()

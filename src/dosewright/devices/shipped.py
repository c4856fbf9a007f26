"""The files that ship with the program: card formats, profiles, medicine rules, fonts. Each is a default that a pharmacy may replace."""

from importlib import resources

__all__ = ["read_shipped", "read_shipped_bytes", "shipped_names"]


def read_shipped_bytes(kind: str, name: str) -> bytes:
    """The bytes of `shipped/<kind>/<name>`. Raises FileNotFoundError."""
    return (resources.files("dosewright") / "shipped" / kind / name).read_bytes()


def read_shipped(kind: str, name: str) -> str:
    """The text of `shipped/<kind>/<name>`. Raises FileNotFoundError."""
    return read_shipped_bytes(kind, name).decode("utf-8")


def shipped_names(kind: str) -> tuple[str, ...]:
    """File names of one kind, sorted."""
    return tuple(sorted(entry.name for entry in (resources.files("dosewright") / "shipped" / kind).iterdir() if entry.is_file()))

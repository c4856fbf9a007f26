"""What was asked for is not in the store."""

__all__ = ["Missing"]


class Missing(LookupError):
    """There is no such card, order, person, …: `kind` and the `id` that was asked for."""

    def __init__(self, kind: str, name: str) -> None:
        super().__init__(f"there is no {kind} {name}")
        self.kind = kind
        self.name = name

"""What a form of counts remembers: how many events its card had when the counting began."""

from dosewright.web.request import BenchRequest

__all__ = ["seen_events"]

_DIGITS = 9


def seen_events(request: BenchRequest) -> int | None:
    """As the form sends it back; None where it says nothing of the kind."""
    said = request.POST.get("seen", "")
    return int(said) if said.isascii() and said.isdigit() and len(said) <= _DIGITS else None

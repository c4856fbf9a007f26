"""The same request for the other card formats that ship, each with as many label lines as its own labels have room for."""

from dataclasses import replace

from dosewright.core.interop.card_format_toml import parse_card_format
from dosewright.core.packing.request import PlanRequest
from dosewright.core.paper.label_lines import with_label_lines
from dosewright.devices.fonts import load_fonts
from dosewright.devices.shipped import read_shipped, shipped_names

__all__ = ["in_other_formats"]


def in_other_formats(request: PlanRequest) -> tuple[PlanRequest, ...]:
    """One for each shipped format but the request's own, by name."""
    shipped = (parse_card_format(read_shipped("formats", name)) for name in shipped_names("formats") if name.endswith(".toml"))
    fonts = load_fonts()
    return tuple(with_label_lines(replace(request, format=form), fonts) for form in shipped if form.name != request.format.name)

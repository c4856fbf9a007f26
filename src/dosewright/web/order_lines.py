"""An order in words: the medicine, what it looks like, the sentence built from the structure, and the text as it was received."""

from dataclasses import dataclass

from dosewright.core.packing.profile import Profile
from dosewright.core.paper.medicine_words import described, named
from dosewright.core.regimen.order import Order
from dosewright.core.units.dosing_time import Moment
from dosewright.store.orders import StoredOrder
from dosewright.web.bench_card import DosingTimeWords
from dosewright.web.dates import day_in_full
from dosewright.web.directions import say_directions

__all__ = ["OrderLine", "order_line", "say_span"]


@dataclass(frozen=True, slots=True)
class OrderLine:
    """One order as screens show it. `times` are filled in where a card is looked at."""

    id: str
    medicine: str
    appearance: str
    directions: str
    text: str
    span: str
    settled: str
    times: tuple[DosingTimeWords, ...] = ()


def order_line(stored: StoredOrder, profile: Profile, times: tuple[DosingTimeWords, ...] = ()) -> OrderLine:
    """The words, as the profile's country writes them, and who confirmed it."""
    order = stored.order
    settled = f"{stored.standing} by {stored.settled_by}" if stored.settled_by else ""
    return OrderLine(
        id=order.id,
        medicine=named(stored.medicine, profile.country),
        appearance=described(stored.medicine),
        directions=say_directions(order.dosages, order.text, profile.number_style),
        text=order.text,
        span=say_span(order),
        settled=settled,
        times=times,
    )


def say_span(order: Order) -> str:
    """ "from Mon 2 Mar 2026 until Sun 8 Mar 2026, 18:00": the day of `until` counts up to its clock time."""
    said = [f"from {_moment(order.since)}"] if order.since else []
    if order.until:
        said.append(f"until {_moment(order.until)}")
    return " ".join(said) or "without an end"


def _moment(at: Moment) -> str:
    return day_in_full(at.day) if not (at.time.hour or at.time.minute) else f"{day_in_full(at.day)}, {at.time:%H:%M}"

"""One station of the benchmark `stations`, the store that it works on, and whether that store is sound afterwards. Sets Django up."""

import os
import traceback
from collections import Counter
from collections.abc import Iterator
from threading import BoundedSemaphore
from time import perf_counter

os.environ["DJANGO_SETTINGS_MODULE"] = "dosewright.config.settings"

import django

django.setup()

from django.conf import settings  # noqa: E402  everything below needs Django set up
from django.core.management import call_command  # noqa: E402
from django.db import connection  # noqa: E402
from django.test import Client  # noqa: E402
from django.urls import URLPattern, URLResolver, path  # noqa: E402
from tests import small_bench  # noqa: E402
from tests.bench_fixtures import on  # noqa: E402

from benchmarks._filled_store import SCAN, one_row, people  # noqa: E402
from dosewright.config.table import read_setting  # noqa: E402
from dosewright.config.urls import urlpatterns as bench_urls  # noqa: E402
from dosewright.core.custody.cells import format_cells  # noqa: E402
from dosewright.core.custody.event import Deed, Role  # noqa: E402
from dosewright.core.supply.account import check_accounts  # noqa: E402
from dosewright.core.supply.placement import Cell  # noqa: E402
from dosewright.core.units.ids import CardNumber  # noqa: E402
from dosewright.devices.clock import FixedClock  # noqa: E402
from dosewright.store.card_units import load_units_in_cards  # noqa: E402
from dosewright.store.cards import load_card  # noqa: E402
from dosewright.store.ledger import check_ledger, load_card_events  # noqa: E402
from dosewright.store.models import Account, CardRow  # noqa: E402
from dosewright.store.stock import load_movements, load_stock_by_lot  # noqa: E402

__all__ = ["Station", "cells_of_card", "check_store", "make_store", "urlpatterns"]

urlpatterns: list[URLPattern | URLResolver] = [*bench_urls, path("one-row", one_row)]
settings.ROOT_URLCONF, settings.BENCH_CLOCK = "benchmarks._at_station", FixedClock(on().at)


def make_store(size: int) -> list[tuple[str, str]]:
    """So many people with a printed card each; every cavity of all of them, week by week through the cards."""
    call_command("migrate", verbosity=0)
    small_bench.opened()
    for _ in range(max(1, size * 7 // 900)):
        small_bench.must(small_bench.stocked(small_bench.BISOPROLOL, amount=1000))
    small_bench.ordered(small_bench.ORDERS["RX1"])
    small_bench.printed(small_bench.planned())
    people(size)
    numbers = list(CardRow.objects.order_by("number").values_list("number", flat=True))
    return [(number, cell) for number in numbers for cell in cells_of_card(CardNumber(number))]


def cells_of_card(number: CardNumber) -> tuple[str, ...]:
    """Every cavity that is to be filled, as an event writes it."""
    cavities = load_card(number).card.cavities
    return format_cells({Cell(number, c.row, c.column, held.order): held.quantity.count for c in cavities for held in c.contents})


def check_store() -> str:
    """What holds, in words. Raises AssertionError for a cavity filled twice or not in the ledger, units lost or found, a broken ledger."""
    assert check_ledger() == (), "the ledger is broken"
    assert check_accounts(load_movements(), load_stock_by_lot(), load_units_in_cards()) == (), "units were lost or found"
    cells: Counter[tuple[str, str]] = Counter()
    for number in CardRow.objects.values_list("number", flat=True):
        for event in load_card_events(CardNumber(number)):
            if event.deed is Deed.PLACED:
                cells.update((number, cell) for cell in event.facts["cells"])  # type: ignore[union-attr]
    assert set(cells.values()) <= {1}, "a cavity was filled twice"
    return f"{len(cells)} cavities are filled, none twice; units are conserved lot by lot; the ledger verifies"


_THREADS = BoundedSemaphore(int(read_setting("DOSEWRIGHT_THREADS")))  # so many requests at a time, as `serve` answers them


class Station:
    """Somebody at a bench of their own."""

    def __init__(self, name: str) -> None:
        self._client = Client()
        account = Account.objects.create_account(name, "tern-street-2026", name=name, role=Role.TECHNICIAN)
        self._client.force_login(account, backend="django.contrib.auth.backends.ModelBackend")

    def fill(self, job: tuple[str, str]) -> Iterator[tuple[str, str, float]]:
        """A bare write, a scan, a placement: the kind of request, what came of it, and how long it took."""
        number, cell = job
        bottle = {"medicine": "bisoprolol-5", "scan": SCAN, "lot": "LOT42A", "expiry": "2027-06-30"}
        spot = cell.split("=")[0].replace(".", "-")
        yield "one-row write", *self._timed("/one-row", {}, {200: "written"})
        yield "scan", *self._timed(f"/cards/{number}/fill/scan", bottle, {200: "scanned", 422: "told it is full"})
        said = {**bottle, "cell": cell, "partly": "yes", "spot": spot, "token": f"{self._client.session.session_key} {number} {cell}"}
        yield "place", *self._timed(f"/cards/{number}/fill/place", said, {302: "placed", 422: "told it is full"})

    def _timed(self, address: str, said: dict[str, str], meanings: dict[int, str]) -> tuple[str, float]:
        began = perf_counter()
        try:
            with _THREADS:
                status = self._client.post(address, said).status_code
        except Exception:
            traceback.print_exc()
            status = 500
        return meanings.get(status, "failed"), perf_counter() - began

    def leave(self) -> None:
        """The thread's connection is given back."""
        connection.close()

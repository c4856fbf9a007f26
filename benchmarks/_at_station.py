"""The store that the benchmark `stations` works on, its people signed in, its server, and whether that store is sound afterwards.

Sets Django up. The server is the one that pharmacies run, with one address more: the bare one-row write.
"""

import os
from collections import Counter

os.environ["DJANGO_SETTINGS_MODULE"] = "dosewright.config.settings"

import django

django.setup()

from django.conf import settings  # noqa: E402  everything below needs Django set up
from django.core.management import call_command  # noqa: E402
from django.test import Client  # noqa: E402
from django.urls import URLPattern, URLResolver, path  # noqa: E402
from tests import small_bench  # noqa: E402

from benchmarks._filled_store import one_row, people  # noqa: E402
from dosewright.config.served import application  # noqa: E402
from dosewright.config.urls import urlpatterns as bench_urls  # noqa: E402
from dosewright.core.custody.cells import format_cells  # noqa: E402
from dosewright.core.custody.event import Deed, Role  # noqa: E402
from dosewright.core.supply.account import check_accounts  # noqa: E402
from dosewright.core.supply.placement import Cell  # noqa: E402
from dosewright.core.units.ids import CardNumber  # noqa: E402
from dosewright.store.card_units import load_units_in_cards  # noqa: E402
from dosewright.store.cards import load_card  # noqa: E402
from dosewright.store.ledger import check_ledger, load_card_events  # noqa: E402
from dosewright.store.models import Account, CardRow  # noqa: E402
from dosewright.store.stock import load_movements, load_stock_by_lot  # noqa: E402

__all__ = ["application", "cells_of_card", "check_store", "make_store", "signed_in", "urlpatterns"]

urlpatterns: list[URLPattern | URLResolver] = [*bench_urls, path("one-row", one_row)]
settings.ROOT_URLCONF = "benchmarks._at_station"


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


def signed_in(many: int) -> list[str]:
    """So many technicians at benches of their own; the session that each browser sends back."""
    return [_signed_in(f"station {Account.objects.count()}") for _ in range(many)]


def _signed_in(name: str) -> str:
    client = Client()
    account = Account.objects.create_account(name, "tern-street-2026", name=name, role=Role.TECHNICIAN)
    client.force_login(account, backend="django.contrib.auth.backends.ModelBackend")
    return str(client.session.session_key)

"""A filled-in web request against a bare one, in one run, and how both grow with the people in the store.

Bare: a view that answers nothing, and one that writes one row, behind the same middleware and sign-in, on the same SQLite file with full
sync. Filled in: the fill screen with its card drawn, and one cavity placed (rights, scan, rules, card and stock rows, ledger entry). Each
pair is timed turn by turn. The store holds 10, then 100, then 1,000 people, each with a printed card.
"""

import os
import shutil
import tempfile
from collections.abc import Iterator
from functools import partial

HOME = os.environ.get("DOSEWRIGHT_HOME", "") if __name__ != "__main__" else tempfile.mkdtemp(prefix="dosewright-bench-")
os.environ |= {"DOSEWRIGHT_HOME": HOME, "DATABASE_URL": "", "DOSEWRIGHT_HOSTS": "testserver"}
os.environ["DJANGO_SETTINGS_MODULE"] = "dosewright.config.settings"

import django  # noqa: E402

django.setup()

from django.conf import settings  # noqa: E402  everything below needs Django set up
from django.core.management import call_command  # noqa: E402
from django.http import HttpRequest, HttpResponse  # noqa: E402
from django.test import Client  # noqa: E402
from django.urls import URLPattern, URLResolver, path  # noqa: E402
from tests import small_bench  # noqa: E402
from tests.bench_fixtures import on  # noqa: E402

from benchmarks._filled_store import SCAN, marks, one_row, people  # noqa: E402
from benchmarks.ratio import compare  # noqa: E402
from dosewright.config.urls import urlpatterns as bench_urls  # noqa: E402
from dosewright.core.custody.event import Role  # noqa: E402
from dosewright.core.units.ids import CardNumber  # noqa: E402
from dosewright.devices.clock import FixedClock  # noqa: E402
from dosewright.store.models import Account, CardRow  # noqa: E402
from dosewright.web.bench_card import load_bench_card  # noqa: E402
from dosewright.web.fill_screen import fill_screen  # noqa: E402

SIZES = (10, 100, 1000)


def bare(request: HttpRequest) -> HttpResponse:
    """Nothing but what every request passes through."""
    return HttpResponse(b"")


urlpatterns: list[URLPattern | URLResolver] = [*bench_urls, path("bare", bare), path("one-row", one_row)]


class Filler:
    """Somebody at the bench who fills cavity after cavity, card after card, and looks at the screen before."""

    def __init__(self, client: Client) -> None:
        self._client = client
        self._cells = self._open_cells()

    def _open_cells(self) -> Iterator[tuple[str, str]]:
        for number in list(CardRow.objects.order_by("number").values_list("number", flat=True)):
            for cell in fill_screen(load_bench_card(CardNumber(number)), "").cells:
                yield number, cell

    def place(self) -> None:
        """One cavity, as the form sends it."""
        number, cell = next(self._cells)
        said = {
            "medicine": "bisoprolol-5",
            "scan": SCAN,
            "lot": "LOT42A",
            "expiry": "2027-06-30",
            "cell": cell,
            "token": f"t{next(marks)}",
        }
        answer = self._client.post(f"/cards/{number}/fill/place", {**said, "partly": "yes", "spot": cell.split("=")[0].replace(".", "-")})
        assert answer.status_code == 302, answer.content


def opened() -> Client:
    """The first person with a printed card, and a technician signed in."""
    settings.ROOT_URLCONF, settings.BENCH_CLOCK = "benchmarks.web", FixedClock(on().at)
    call_command("migrate", verbosity=0)
    small_bench.opened()
    for lot in range(SIZES[-1] // 10):
        small_bench.stocked(small_bench.BISOPROLOL, amount=1000 + lot)
    small_bench.ordered(small_bench.ORDERS["RX1"])
    small_bench.printed(small_bench.planned())
    client = Client()
    client.force_login(
        Account.objects.create_account("tamm", "tern-street-2026", name="R. Tamm", role=Role.TECHNICIAN),
        backend="django.contrib.auth.backends.ModelBackend",
    )
    return client


def main() -> None:
    """Print the ratios at each size, then the growth of the work list."""
    client = opened()
    for size in SIZES:
        people(size)
        filler = Filler(client)
        first = CardRow.objects.order_by("-number").values_list("number", flat=True)[0]
        print(f"-- {size} people in the store")
        nothing, screen = partial(client.get, "/bare"), partial(client.get, f"/cards/{first}/fill")
        compare("bare view", nothing, "fill screen", screen)
        compare("one-row write", partial(client.post, "/one-row"), "one cavity placed", filler.place)
        compare("bare view", nothing, "work list", partial(client.get, "/"), turns=7)


if __name__ == "__main__":
    try:
        main()
    finally:
        shutil.rmtree(HOME, ignore_errors=True)

"""The small pharmacy of the journeys, as far along as a journey wants it: its people sign in, one person's card is at some stage.

    DOSEWRIGHT_HOME=folder python -m tests.journeys.small_pharmacy STAGE

STAGE is a builder of tests/small_bench.py: opened, ready_to_fill, filled, sealed, released; or of tests/four_weeks.py. Prints the card's
number, if there is a card.
"""

import os
import sys
from datetime import UTC, datetime
from pathlib import Path

import django

django.setup()

from django.core.management import call_command  # noqa: E402  the models exist only after the set-up
from tests import four_weeks, small_bench  # noqa: E402
from tests.journeys.station import PASSWORD  # noqa: E402

from dosewright.core.custody.event import Role  # noqa: E402
from dosewright.core.units.ids import HomeId  # noqa: E402
from dosewright.store.badges import save_badge  # noqa: E402
from dosewright.store.models import Account, CardRow  # noqa: E402
from dosewright.store.people import save_home  # noqa: E402

__all__ = ["STAFF", "build"]

HOME = "lindens"
BADGES = {"tamm": "BADGETAMMTAMMTAMMTAMM", "okafor": "BADGEOKAFOROKAFOROKAF"}
PIN = "285917"

_DAY_9 = datetime(2026, 3, 10, 9, 30, tzinfo=UTC)  # when the stages of four_weeks go on

# username, printed name, role: all invented; a carer is of The Lindens
STAFF = (
    ("tamm", "R. Tamm", "technician"),
    ("okafor", "B. Okafor", "technician"),
    ("lindqvist", "A. Lindqvist", "checker"),
    ("moreau", "C. Moreau", "pharmacist"),
    ("dasgupta", "P. Dasgupta", "pharmacist"),
    ("whitlock", "J. Whitlock", "manager"),
    ("penrose", "E. Penrose", "driver"),
    ("brook", "A. Brook", "carer"),
    ("vane", "U. Vane", "inspector"),
)


def build(stage: str) -> str:
    """Tables, accounts, and the card as far along as the stage says. The card's number, "" where there is none."""
    call_command("migrate", verbosity=0)
    save_home(HomeId(HOME), "The Lindens", address="28 Linden Avenue, Ternmouth TM4 8ZZ")
    for username, name, role in STAFF:
        account = Account.objects.create_account(username, PASSWORD, name=name, role=Role(role), home=HOME if role == "carer" else None)
        if username in BADGES:
            save_badge(str(account.pk), BADGES[username], PIN)
    if hasattr(four_weeks, stage):
        (Path(os.environ["DOSEWRIGHT_HOME"]) / "clock").write_text(_DAY_9.isoformat())
        getattr(four_weeks, stage)()
    else:
        getattr(small_bench, stage)()
    return CardRow.objects.order_by("number").values_list("number", flat=True).first() or ""


if __name__ == "__main__":
    print(build(sys.argv[1]))

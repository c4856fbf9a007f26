"""The small pharmacy of the journeys: one home, six people at the bench, nothing ordered yet. Built into DOSEWRIGHT_HOME.

DOSEWRIGHT_HOME=folder python -m tests.journeys.small_pharmacy
"""

import os

import django

__all__ = ["STAFF", "build"]

# username, printed name, role: all invented
STAFF = (
    ("tamm", "R. Tamm", "technician"),
    ("okafor", "B. Okafor", "technician"),
    ("lindqvist", "A. Lindqvist", "checker"),
    ("moreau", "C. Moreau", "pharmacist"),
    ("dasgupta", "P. Dasgupta", "pharmacist"),
    ("whitlock", "J. Whitlock", "manager"),
)


def build() -> None:
    """Tables, the pharmacy's own row, its home, and the people who sign in."""
    from django.core.management import call_command  # noqa: PLC0415  Django must be set up first
    from tests.journeys.station import PASSWORD  # noqa: PLC0415

    from dosewright.core.custody.event import Role  # noqa: PLC0415
    from dosewright.store.models import Account, HomeRow, Pharmacy  # noqa: PLC0415

    call_command("migrate", verbosity=0)
    rules = {"profile": "", "card_format": "", "suitability": ""}
    Pharmacy.objects.create(id=1, name="Quayside Pharmacy", address="2 Rope Walk, Tern Bay", phone="01632 960123", country="GB", **rules)
    HomeRow.objects.create(id="lindens", name="The Lindens", address="9 Elm Rise, Tern Bay")
    for username, name, role in STAFF:
        Account.objects.create_account(username, PASSWORD, name=name, role=Role(role))


if __name__ == "__main__":
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "tests.journeys.bench_settings")
    django.setup()
    build()

"""Django made ready for a command of the running system."""

import os

import django

__all__ = ["set_up_django", "set_up_store"]


def set_up_django() -> None:
    """The settings, unless others were named; calling it twice changes nothing."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "dosewright.config.settings")
    django.setup()


def set_up_store() -> None:
    """The same, and every table as this version of the program wants it."""
    set_up_django()
    from django.core.management import call_command  # noqa: PLC0415  Django must be set up first

    call_command("migrate", verbosity=0, interactive=False)

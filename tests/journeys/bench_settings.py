"""The bench's own settings, with a clock that stands still: the journeys happen on one invented day, whatever day it is."""

from datetime import UTC, datetime
from typing import Any

from dosewright.config import settings
from dosewright.config.settings import *  # noqa: F403
from dosewright.devices.clock import FixedClock

BENCH_CLOCK = FixedClock(datetime(2026, 3, 2, 11, 30, tzinfo=UTC))
PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]  # the journeys sign in often; argon2 is tried in tests/web
_TEMPLATES: Any = settings.TEMPLATES[0]
# A screen that shows what nobody gave it is found by the journeys.
TEMPLATES = [{**_TEMPLATES, "OPTIONS": {**_TEMPLATES["OPTIONS"], "string_if_invalid": "UNDECLARED %s"}}]

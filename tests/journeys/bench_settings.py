"""The bench's own settings, with a clock that stands still: the journeys happen on one invented day, whatever day it is."""

import os
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from dosewright.config import settings
from dosewright.config.settings import *  # noqa: F403
from dosewright.devices.clock import FixedClock

# A stage that happens on another day says so beside its store.
_CLOCK = Path(os.environ["DOSEWRIGHT_HOME"]) / "clock"
_MOMENT = datetime.fromisoformat(_CLOCK.read_text()) if _CLOCK.exists() else datetime(2026, 3, 2, 11, 30, tzinfo=UTC)
BENCH_CLOCK = FixedClock(_MOMENT)
PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]  # the journeys sign in often; argon2 is tried in tests/web
_TEMPLATES: Any = settings.TEMPLATES[0]
# A screen that shows what nobody gave it is found by the journeys.
TEMPLATES = [{**_TEMPLATES, "OPTIONS": {**_TEMPLATES["OPTIONS"], "string_if_invalid": "UNDECLARED %s"}}]

"""What every test shares: how hard Hypothesis looks, and where the tests' database lies.

The default gives the same examples each run; `soak` draws new ones (make soak).
"""

import pytest
from hypothesis import HealthCheck, settings

# A slow machine is no finding: no deadline, no complaint about slow drawing.
settings.register_profile("steady", derandomize=True, deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("soak", settings.get_profile("steady"), derandomize=False, database=None, print_blob=True, max_examples=1000)
settings.load_profile("steady")


@pytest.fixture(scope="session")
def django_db_modify_db_settings(tmp_path_factory: pytest.TempPathFactory, django_db_modify_db_settings_parallel_suffix: None) -> None:
    """SQLite's test database is a file, as the bench's own is: one in memory knows neither WAL nor several stations."""
    from django.db import connection  # noqa: PLC0415  core's tests run without Django

    if connection.vendor == "sqlite":
        connection.settings_dict["TEST"]["NAME"] = str(tmp_path_factory.mktemp("store") / "test.sqlite3")

"""The API against its own description: whatever fits openapi.json, and much that does not, is answered as it says, and never by a fault.

Requests are drawn by schemathesis from the description, the same ones each run. Checked of each answer: no server error, a status and a
content type that the description has, a body of the described shape.
"""

from collections.abc import Iterator
from typing import Any

import pytest
import schemathesis
from django.core.signals import request_finished, request_started
from django.db import close_old_connections
from hypothesis import HealthCheck, Phase, settings
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import content_type_conformance, response_schema_conformance, status_code_conformance
from tests import small_bench as bench
from tests.api.conftest import Programs

from dosewright.api.service import service
from dosewright.config.wsgi import application
from dosewright.core.custody.event import Role
from dosewright.store.ledger import check_ledger

schema = schemathesis.openapi.from_dict(service.get_openapi_schema(path_prefix="/api/"))
schema.app = application
CHECKS = [not_a_server_error, status_code_conformance, content_type_conformance, response_schema_conformance]


@pytest.fixture(autouse=True)
def _same_connection() -> Iterator[None]:
    """A request's end would close the connection that holds the test's own transaction; Django's test client keeps it open the same way."""
    signals = (request_started, request_finished)
    for signal in signals:
        signal.disconnect(close_old_connections)
    yield
    for signal in signals:
        signal.connect(close_old_connections)


@pytest.fixture
def token(programs: Programs) -> str:
    """A pharmacist's program, at a bench with a card that is being filled."""
    bench.ready_to_fill()
    return programs(Role.PHARMACIST).token


@schema.parametrize()
@settings(
    max_examples=4,
    deadline=None,
    derandomize=True,
    phases=[Phase.explicit, Phase.generate],
    suppress_health_check=list(HealthCheck),
)
def test_every_answer_is_as_described(case: Any, token: str) -> None:
    response = case.call(headers={"Authorization": f"Bearer {token}"})
    case.validate_response(response, checks=CHECKS)


def test_the_ledger_holds_after_requests_at_random(token: str) -> None:
    assert check_ledger() == ()

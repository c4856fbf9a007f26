"""Orders that come as a FHIR R4 Bundle: kept byte for byte, confirmed, planned."""

import json
from datetime import date
from fractions import Fraction

import pytest
from tests import small_bench as bench
from tests.bench_fixtures import on

from dosewright.actions.confirm_reading import confirm_reading
from dosewright.actions.outcome import Outcome
from dosewright.actions.receive_orders import receive_orders
from dosewright.core.custody.confirming import Confirmation
from dosewright.core.custody.event import Role
from dosewright.core.units.dosing_time import Moment
from dosewright.core.units.ids import OrderId
from dosewright.store.cards import load_set
from dosewright.store.models import OrderFile
from dosewright.store.orders import load_order

pytestmark = pytest.mark.usefixtures("guarded")


def request(name: str, **repeat: object) -> dict[str, object]:
    """One tablet of bisoprolol, as the timing says."""
    dose = [{"doseQuantity": {"value": 1, "unit": "tablet"}}]
    return {
        "resourceType": "MedicationRequest",
        "id": name,
        "status": "active",
        "intent": "order",
        "medicationCodeableConcept": {"coding": [{"code": "bisoprolol-5"}]},
        "subject": {"reference": "Patient/p1"},
        "dosageInstruction": [{"timing": {"repeat": repeat}, "doseAndRate": dose}],
    }


def bundle(*requests: dict[str, object]) -> bytes:
    patient = {"resourceType": "Patient", "id": "p1", "name": [{"text": "Wilhelmina Okonedo-Hart"}], "birthDate": "1939-02-04"}
    entries = [{"resource": resource} for resource in (patient, *requests)]
    return json.dumps({"resourceType": "Bundle", "type": "collection", "entry": entries}).encode()


EVERY_MORNING = {"frequency": 1, "period": 1, "periodUnit": "d", "when": ["MORN"]}
EVERY_OTHER = {"frequency": 1, "period": 2, "periodUnit": "d", "when": ["MORN"]}


def received(content: bytes) -> Outcome:
    return bench.must(receive_orders("orders.json", on(), content))


def test_a_bundle_is_kept_confirmed_and_planned() -> None:
    bench.opened()
    content = bundle(request("MR1", **EVERY_MORNING, boundsPeriod={"start": "2026-03-02"}))
    outcome = received(content)
    assert outcome.made[1:] == ("MR1",)
    row = OrderFile.objects.get(id=int(outcome.made[0]))
    assert (bytes(row.content), row.kind) == (content, "fhir")
    bench.must(confirm_reading(OrderId("MR1"), on(Role.PHARMACIST), Confirmation()))
    (card,) = load_set(bench.planned()).cards
    assert [cavity.contents[0].quantity.count for cavity in card.card.cavities] == [Fraction(1)] * 7


def test_a_rhythm_without_a_start_waits_until_the_pharmacist_names_the_day_and_then_keeps_it_over_cycles() -> None:
    bench.opened()
    received(bundle(request("MR1", **EVERY_OTHER)))
    assert bench.refused(confirm_reading(OrderId("MR1"), on(Role.PHARMACIST), Confirmation())) == {"custody.needs-start"}
    bench.must(confirm_reading(OrderId("MR1"), on(Role.PHARMACIST), Confirmation(since=Moment(bench.MONDAY))))
    days = [
        cavity.day for first in (date(2026, 3, 2), date(2026, 3, 9)) for cavity in load_set(bench.planned(first)).cards[0].card.cavities
    ]
    assert [(day - bench.MONDAY).days for day in days] == [0, 2, 4, 6, 8, 10, 12]


def test_what_was_read_of_a_bundle_comes_back_from_the_store_as_it_was() -> None:
    bench.opened()
    received(bundle(request("MR1", **EVERY_MORNING, boundsPeriod={"start": "2026-03-02T08:00:00+01:00", "end": "2026-04-01"})))
    period = load_order(OrderId("MR1")).order.dosages[0].timing.repeat.bounds_period  # type: ignore[union-attr]
    assert period is not None
    assert (str(period.start), str(period.end)) == ("2026-03-02 08:00:00+01:00", "2026-04-01")


def test_the_broken_order_of_a_bundle_is_left_out_and_the_others_are_taken() -> None:
    bench.opened()
    broken = request("MR2", **EVERY_MORNING) | {"status": "no such status"}
    outcome = received(bundle(request("MR1", **EVERY_MORNING), broken))
    assert outcome.made[1:] == ("MR1",)
    assert outcome.findings


def test_long_names_and_ids_of_the_outside_are_kept_whole_and_a_long_file_name_does_no_harm() -> None:
    bench.opened()
    content = bundle(request("M" * 64, **EVERY_MORNING)).replace(b"Wilhelmina Okonedo-Hart", b"Wilhelmina " * 20 + b"Hart")
    outcome = bench.must(receive_orders("o" * 500 + ".json", on(), content))
    assert outcome.made[1:] == ("M" * 64,)
    assert load_order(OrderId("M" * 64)).person.name == "Wilhelmina " * 20 + "Hart"
    bench.refused(receive_orders("o" * 500 + ".json", on(), b"{}"))

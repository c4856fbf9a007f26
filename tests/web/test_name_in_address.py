"""Lots, people and orders with any signs in their names have their screens."""

import pytest
from django.test import Client
from hypothesis import given
from hypothesis import strategies as st
from tests import small_bench as bench
from tests.web.conftest import SignIn
from tests.web.test_screens import words

from dosewright.core.custody.event import Role
from dosewright.web.name_in_address import NameInAddress


@given(st.text(min_size=1, max_size=20) | st.sampled_from(["/", ".", "..", "~2F;", "A/12"]))
def test_every_name_is_one_part_of_an_address_and_comes_back_as_it_was(name: str) -> None:
    written = NameInAddress().to_url(name)
    assert NameInAddress().to_python(written) == name
    assert "/" not in written
    assert written.strip(".")


@pytest.mark.parametrize("written", ["~110000;", "~D800;"])
def test_the_number_of_no_sign_names_nothing(written: str) -> None:
    with pytest.raises(ValueError, match=r"chr\(\)|surrogates"):
        NameInAddress().to_python(written)


@pytest.mark.usefixtures("guarded")
def test_a_slash_in_a_lot_a_person_or_an_order_keeps_nobody_from_their_screens(sign_in: SignIn) -> None:
    bench.opened()
    bench.ordered(*(bench.ORDERS[one].replace("p1,", "home 4/1,").replace(f",{one},", f",{one}/2026,") for one in bench.ORDERS))
    pharmacist = sign_in(Role.PHARMACIST)
    for lot in ("A/12", ".."):
        bench.must(bench.stocked(bench.BISOPROLOL, lot))
    assert "A/12" in words(pharmacist.get("/stock"))
    assert "lot A/12." in words(pharmacist.get("/stock/bisoprolol-5/A~2F;12/recall"))
    assert "Lot .." in words(pharmacist.get("/stock/bisoprolol-5/~2E;~2E;/waste"))
    assert "Wilhelmina" in words(pharmacist.get("/people"))
    assert "Wilhelmina" in words(pharmacist.get("/people/home 4~2F;1"))
    _waits(pharmacist)


def _waits(pharmacist: Client) -> None:
    bench.waiting(bench.order_line("home 4/1,Wilhelmina Okonedo-Hart,1939-02-04,,,", "RX9/2026", "ramipril-5", "Take 1 capsule daily"))
    assert "Wilhelmina" in words(pharmacist.get("/orders/readings"))
    assert pharmacist.get("/orders/readings/RX9~2F;2026").status_code == 200

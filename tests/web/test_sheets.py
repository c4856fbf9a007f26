"""Sheets on demand on screen: chosen, made, looked at from the very bytes, opened; and a recall from the lot in stock."""

import re

import pytest
from tests import small_bench as bench
from tests.web.conftest import SignIn
from tests.web.test_screens import words

from dosewright.core.custody.event import Role
from dosewright.core.units.ids import HomeId
from dosewright.store.people import save_home

pytestmark = pytest.mark.usefixtures("guarded")
AT_HOME = [line.replace("1939-02-04,,,", "1939-02-04,lindens,12,") for line in bench.ORDERS.values()]


def in_a_home() -> int:
    """The small bench with its person in The Lindens; the set."""
    bench.opened()
    save_home(HomeId("lindens"), "The Lindens")
    bench.ordered(*AT_HOME)
    return bench.planned()


ASKED = [
    pytest.param(
        {"kind": "record", "where": "home lindens", "month": "2026-03"}, "Administration records, The Lindens, March 2026", id="home"
    ),
    pytest.param(
        {"kind": "record", "where": "person p1", "month": "2026-03"}, "Administration record, Wilhelmina Okonedo-Hart", id="person"
    ),
    pytest.param({"kind": "round", "where": "home lindens", "day": "2026-03-04"}, "Round list, The Lindens, Wednesday 4 March", id="round"),
    pytest.param({"kind": "person", "set_id": "1", "size": "24", "lang": "de"}, "Person's sheet, 24 points, de", id="the person's"),
    pytest.param({"kind": "check", "set_id": "1"}, "Check sheet", id="check"),
    pytest.param({"kind": "rest", "set_id": "1", "day": "2026-03-05", "time": "12:00"}, "Labels for the rest of the cycle", id="rest"),
]


@pytest.mark.parametrize(("asked", "title"), ASKED)
def test_a_sheet_is_made_looked_at_and_opened(asked: dict[str, str], title: str, sign_in: SignIn) -> None:
    set_id = in_a_home()
    client = sign_in(Role.TECHNICIAN)
    asked = {**asked, "set_id": str(set_id)} if "set_id" in asked else asked
    made = client.post("/sheets", asked)
    assert made.status_code == 302
    page = client.get(made["Location"])
    assert title in words(page)
    picture = client.get(f"{made['Location']}/1.png")
    assert picture["Content-Type"] == "image/png"
    assert client.get(f"{made['Location']}/99.png").status_code == 404
    assert client.get(f"{made['Location']}.pdf").content.startswith(b"%PDF-")
    assert title in words(client.get("/sheets"))


WRONG = [
    pytest.param({"kind": "record", "where": "home nowhere", "month": "2026-03"}, "no home and nobody here", id="no such home"),
    pytest.param({"kind": "round", "where": "person p1", "day": "2026-03-04"}, "no home and nobody here", id="a round is for a home"),
    pytest.param({"kind": "record", "where": "home lindens", "month": "March"}, "for when", id="no month"),
    pytest.param({"kind": "round", "where": "home lindens"}, "for when", id="no day"),
    pytest.param({"kind": "elixir"}, "for when", id="no such sheet"),
    pytest.param({"kind": "manifest", "where": "home lindens", "day": "2026-03-04"}, "There is nothing to print", id="nothing released"),
]


@pytest.mark.parametrize(("asked", "said"), WRONG)
def test_what_cannot_be_made_says_why_and_makes_nothing(asked: dict[str, str], said: str, sign_in: SignIn) -> None:
    in_a_home()
    answer = sign_in(Role.TECHNICIAN).post("/sheets", asked)
    assert answer.status_code == 422
    assert said in words(answer)
    assert "None yet." in words(answer)


def test_a_set_that_is_not_there_is_said(sign_in: SignIn) -> None:
    bench.opened()
    answer = sign_in(Role.TECHNICIAN).post("/sheets", {"kind": "check", "set_id": "77"})
    assert answer.status_code in (404, 422)


def test_labels_with_lots_are_made_of_a_filled_card_and_refused_before(sign_in: SignIn) -> None:
    set_id = in_a_home()
    client = sign_in(Role.TECHNICIAN)
    assert "has no value" in words(client.post("/sheets", {"kind": "lots", "set_id": str(set_id)}))


def test_labels_with_lots_say_what_was_placed(sign_in: SignIn) -> None:
    bench.filled()
    made = sign_in(Role.TECHNICIAN).post("/sheets", {"kind": "lots", "set_id": "1"}, follow=True)
    assert "Labels with lot and expiry in each cavity" in words(made)


def test_the_sets_paper_offers_the_persons_sheet_and_the_check_sheet(sign_in: SignIn) -> None:
    page = words(sign_in(Role.TECHNICIAN).get(f"/sets/{in_a_home()}/paper"))
    assert "Make the person’s sheet" in page
    assert "Giant print, 24 points" in page
    assert "Make the check sheet" in page


def test_a_recall_begins_at_the_lot_and_is_a_pharmacists(sign_in: SignIn) -> None:
    bench.handed_over()
    assert "/recall" not in sign_in(Role.TECHNICIAN).get("/stock").content.decode()
    pharmacist = sign_in(Role.PHARMACIST)
    assert "/stock/bisoprolol-5/LOT42A/recall" in pharmacist.get("/stock").content.decode()
    ask = words(pharmacist.get("/stock/bisoprolol-5/LOT42A/recall"))
    assert "1 card with units of it, 1 of them out of the pharmacy." in ask
    said = {"urgency": "Class 2", "reason": "another strength", "token": "the form's own mark"}
    made = pharmacist.post("/stock/bisoprolol-5/LOT42A/recall", said, follow=True)
    assert "The notices are beside it." in words(made)
    listed = words(pharmacist.get("/sheets"))
    assert "Recall, bisoprolol 5 mg tablet, lot LOT42A" in listed
    assert "Recall notices, bisoprolol 5 mg tablet, lot LOT42A" in listed


def test_a_lot_that_lies_in_no_card_has_no_recall_to_make(sign_in: SignIn) -> None:
    bench.opened()
    page = words(sign_in(Role.PHARMACIST).get("/stock/bisoprolol-5/LOT42A/recall"))
    assert "0 cards with units of it" in page
    assert "Make the recall sheet" not in page


def test_a_further_copy_is_asked_for_its_reason_and_the_screen_says_it(sign_in: SignIn) -> None:
    set_id = in_a_home()
    client = sign_in(Role.TECHNICIAN)
    client.post(f"/sets/{set_id}/paper", {"token": "t1"})
    refused = client.post(f"/sets/{set_id}/paper", {"token": "t2"})
    assert refused.status_code == 422
    assert "Say why copy 2 is needed" in words(refused)
    assert client.post(f"/sets/{set_id}/paper", {"token": "t3", "reason": "the printer jammed"}).status_code == 302
    page = words(client.get(f"/sets/{set_id}/paper"))
    assert "3 sheets to print. Copy 2." in page
    assert "because: the printer jammed" in page


def test_labels_that_are_not_accounted_for_are_listed_and_voided_with_a_reason(sign_in: SignIn) -> None:
    set_id = in_a_home()
    client = sign_in(Role.TECHNICIAN)
    client.post(f"/sets/{set_id}/paper", {"token": "t1"})
    assert "Every printed label is accounted for." in words(client.get(f"/sets/{set_id}/labels"))
    assert "Every printed label is accounted for." in words(client.get("/labels"))
    client.post(f"/sets/{set_id}/paper", {"token": "t2", "reason": "the printer jammed"})
    page = client.get(f"/sets/{set_id}/labels")
    many = len(set(re.findall(r'name="label" value="([^"]+)"', page.content.decode())))
    assert f"{many} printed labels not accounted for." in words(page)
    assert "a later copy was printed" in words(page)
    assert "Wilhelmina Okonedo-Hart" in words(client.get("/labels"))
    form = next(form for form in page.content.decode().split("<form") if '" checked' in form)
    sheet, card = (re.search(rf'name="{name}" value="([^"]+)"', form) for name in ("sheet", "card"))
    assert sheet
    assert card
    ticked = re.findall(r'name="label" value="([^"]+)" checked', form)
    said = {"sheet": sheet[1], "card": card[1], "label": ticked}
    assert client.post(f"/sets/{set_id}/labels", {**said, "token": "t3", "reason": ""}).status_code == 422
    assert client.post(f"/sets/{set_id}/labels", {**said, "token": "t4", "reason": "shredded"}).status_code == 302
    after = words(client.get(f"/sets/{set_id}/labels"))
    assert "Every printed label is accounted for." in after
    assert "shredded" in after

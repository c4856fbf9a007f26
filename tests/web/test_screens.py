"""Forms check the shape and views say what came of it: uploads, planning, readings, scans, counts. The rules themselves are core's."""

import hashlib
import re
from typing import Protocol

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from tests import small_bench
from tests.bench_fixtures import on
from tests.web.conftest import SignIn

from dosewright.actions.outcome import Outcome
from dosewright.actions.plan_set import plan_set
from dosewright.actions.receive_medicines import receive_medicines
from dosewright.actions.receive_orders import receive_orders
from dosewright.core.custody.event import Role
from dosewright.core.custody.planning import PlanAsk
from dosewright.core.units.ids import OrderId
from dosewright.store.cards import load_card
from dosewright.store.ledger import load_entries
from dosewright.store.orders import load_order
from dosewright.store.papers import load_papers

pytestmark = pytest.mark.usefixtures("guarded")
SCAN = "01062910415002131727063010LOT42A"
UNMEASURED = (
    b"code,name,strength,form,shape,length_mm,width_mm,thickness_mm,colour,mark,maker,gtin,pack_size,flags,cautions\n"
    b"folic-5,folic acid,5 mg,tablet,,,,,yellow,,Aldermoor,,28,,\n"
)


class Page(Protocol):
    """What a browser in the tests brings back."""

    @property
    def content(self) -> bytes: ...

    @property
    def status_code(self) -> int: ...


def words(answer: Page) -> str:
    """The page as it is read: without tags, blanks as one."""
    text = re.sub(r"<[^>]+>", " ", answer.content.decode())
    return " ".join(text.replace("&#x27;", "'").replace("&quot;", '"').split())


def upload(client: Client, path: str, name: str, content: bytes) -> Page:
    """A file brought to the bench."""
    return client.post(path, {"file": SimpleUploadedFile(name, content)})


def test_a_cycle_that_outlives_its_cards_is_offered_with_fewer_days(sign_in: SignIn) -> None:
    """Eight weeks from packing on 2 March: 39 days from 20 March, and a link that asks for just those."""
    small_bench.opened()
    small_bench.ordered()
    client = sign_in(Role.PHARMACIST)
    answer = client.post("/plan", {"person": "p1", "first": "2026-03-20", "days": "56"})
    assert answer.status_code == 422
    assert "Plan 39 days instead" in words(answer)
    form = client.get("/plan", {"person": "p1", "first": "2026-03-20", "days": "39"}).content.decode()
    assert 'value="2026-03-20"' in form
    assert 'value="39"' in form
    assert client.post("/plan", {"person": "p1", "first": "2026-03-20", "days": "39"}).status_code == 302


def test_every_fault_of_a_file_is_listed_with_its_place(sign_in: SignIn) -> None:
    small_bench.opened()
    lines = small_bench.ORDERS["RX1"] + "p1,Wilhelmina Okonedo-Hart,1939-02-04,,,RX9,no-such-medicine,Take 1 tablet daily,,,,\n"
    answer = upload(sign_in(Role.TECHNICIAN), "/orders/in", "two.csv", (small_bench.HEADER + lines).encode())
    assert answer.status_code == 200
    said = words(answer)
    assert "1 order taken in." in said
    assert "no-such-medicine" in said
    assert "two.csv · line 3" in said


BAD_FILES = [
    pytest.param(b"", id="empty"),
    pytest.param(b"\xff\xfe\x00", id="not UTF-8"),
    pytest.param(b'{"resourceType": "Bundle", "entry": [', id="cut off"),
    pytest.param(b"a,b\n1,2\n", id="another table"),
]


@pytest.mark.parametrize("content", BAD_FILES)
def test_a_file_that_cannot_be_used_changes_nothing_and_says_why(content: bytes, sign_in: SignIn) -> None:
    small_bench.opened()
    answer = upload(sign_in(Role.TECHNICIAN), "/orders/in", "orders.json", content)
    assert answer.status_code == 422
    assert not [entry for entry in load_entries() if entry.event == "orders received"]


def test_a_file_that_is_too_large_is_refused_before_it_is_read(sign_in: SignIn, monkeypatch: pytest.MonkeyPatch) -> None:
    small_bench.opened()
    monkeypatch.setattr("dosewright.web.uploads.LARGEST", 10)
    answer = upload(sign_in(Role.TECHNICIAN), "/orders/in", "orders.csv", b"x" * 11)
    assert answer.status_code == 422
    assert "larger than" in words(answer)


def undecided() -> None:
    """An order for a medicine that was never measured: the planner asks."""
    small_bench.opened()
    small_bench.must(receive_medicines("more.csv", on(Role.MANAGER), UNMEASURED))
    small_bench.ordered(small_bench.ORDERS["RX1"].replace("bisoprolol-5", "folic-5"))


ASKED = {"first": "2026-03-02", "days": "7"}


def answers_of(answer: Page) -> dict[str, str]:
    """The form of a question, with a reason written into it."""
    page = answer.content.decode()
    form = dict(re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', page))
    (reason,) = re.findall(r'name="(reason [^"]+)"', page)
    return {**form, reason.replace("&quot;", '"'): "measured by eye; it is small"}


def test_a_question_of_the_planner_waits_for_a_pharmacist_and_is_answered_with_a_reason(sign_in: SignIn) -> None:
    undecided()
    technician = sign_in(Role.TECHNICIAN).post("/plan", {**ASKED, "person": "p1"})
    assert technician.status_code == 422
    assert "1 needs somebody" in words(technician)
    assert "Waits for a pharmacist" in words(technician)

    pharmacist = sign_in(Role.PHARMACIST)
    asked = pharmacist.post("/plan", {**ASKED, "person": "p1"})
    done = pharmacist.post("/plan/p1", answers_of(asked))
    assert done.status_code == 302
    page = words(pharmacist.get(done["Location"]))
    assert page.count("folic acid") >= 7
    assert "measured by eye; it is small" in page
    assert any("measured by eye" in entry.body for entry in load_entries("set"))


def test_nobody_but_a_pharmacist_answers_the_planner() -> None:
    undecided()
    asked = plan_set(small_bench.PERSON, on(), PlanAsk(small_bench.MONDAY, 7))
    reasons = {"anything": "because"}
    refused: Outcome = plan_set(small_bench.PERSON, on(), PlanAsk(small_bench.MONDAY, 7, reasons=reasons))
    assert not asked.done
    assert small_bench.refused(refused) == {"custody.no-right"}


def test_planning_for_nobody_or_for_no_day_asks_again(sign_in: SignIn) -> None:
    small_bench.opened()
    small_bench.ordered()
    client = sign_in(Role.TECHNICIAN)
    for wrong in (
        {**ASKED},
        {**ASKED, "person": "somebody else"},
        {"first": "", "days": "7", "person": "p1"},
        {**ASKED, "days": "0", "person": "p1"},
    ):
        assert client.post("/plan", wrong).status_code == 422


def received(directions: str) -> None:
    """One order waits, in these words."""
    small_bench.opened()
    line = f'p1,Wilhelmina Okonedo-Hart,1939-02-04,,,RX1,bisoprolol-5,"{directions}",2026-03-02,,Dr A. Example,1001\n'
    small_bench.must(receive_orders("orders.csv", on(), (small_bench.HEADER + line).encode()))


def test_words_with_two_readings_are_laid_out_and_one_is_chosen(sign_in: SignIn) -> None:
    received("Take 1 or 2 tablets in the morning")
    client = sign_in(Role.PHARMACIST)
    page = words(client.get("/orders/readings/RX1"))
    assert "Which is meant?" in page
    assert "Take 1 tablet in the morning." in page
    assert "Take 2 tablets in the morning." in page
    assert client.post("/orders/readings/RX1/confirm", {}).status_code == 422
    assert client.post("/orders/readings/RX1/confirm", {"choice": "1"}).status_code == 302
    assert [str(dosage.amounts[0].quantity.count) for dosage in load_order(OrderId("RX1")).order.dosages if dosage.amounts[0].quantity] == [
        "2"
    ]


def test_words_that_cannot_be_read_are_written_anew_with_who_said_so(sign_in: SignIn) -> None:
    received("Take as directed by the clinic")
    client = sign_in(Role.PHARMACIST)
    assert "It cannot be read" in words(client.get("/orders/readings/RX1"))
    anew = {"restated": "Take 1 tablet in the morning"}
    assert client.post("/orders/readings/RX1/confirm", anew).status_code == 422  # nobody is named who said so
    assert client.post("/orders/readings/RX1/confirm", {**anew, "restated": "as before", "reason": "Dr A. Example"}).status_code == 422
    assert client.post("/orders/readings/RX1/confirm", {**anew, "reason": "Dr A. Example, 2 March"}).status_code == 302
    kept = load_order(OrderId("RX1"))
    assert (kept.standing, kept.order.text) == ("confirmed", "Take as directed by the clinic")


def test_a_second_order_for_the_same_medicine_asks_whether_it_replaces_the_first(sign_in: SignIn) -> None:
    small_bench.opened()
    small_bench.ordered(small_bench.ORDERS["RX1"])
    line = small_bench.ORDERS["RX1"].replace("RX1", "RX7").replace("1 tablet", "2 tablets").replace("2026-03-02", "2026-03-09")
    small_bench.must(receive_orders("more.csv", on(), (small_bench.HEADER + line).encode()))
    client = sign_in(Role.PHARMACIST)
    assert "In place of this" in words(client.get("/orders/readings/RX7"))
    assert client.post("/orders/readings/RX7/confirm", {}).status_code == 422
    assert client.post("/orders/readings/RX7/confirm", {"relation": "replaces:RX1"}).status_code == 302
    ended = load_order(OrderId("RX1")).order.until
    assert ended is not None
    assert ended.day.isoformat() == "2026-03-09"


def test_an_order_is_turned_down_only_with_a_reason(sign_in: SignIn) -> None:
    received("Take 1 tablet in the morning")
    client = sign_in(Role.PHARMACIST)
    assert client.post("/orders/readings/RX1/reject", {"reason": " "}).status_code == 422
    assert client.post("/orders/readings/RX1/reject", {"reason": "ordered twice"}).status_code == 302
    assert load_order(OrderId("RX1")).standing == "rejected"


def test_a_scan_by_htmx_brings_back_the_bench_and_nothing_else_a_form_the_whole_page(sign_in: SignIn) -> None:
    _, card = small_bench.ready_to_fill()
    client, said = sign_in(Role.TECHNICIAN), {"scan": SCAN, "medicine": "bisoprolol-5"}
    part = client.post(f"/cards/{card}/fill/scan", said, headers={"HX-Request": "true"})
    whole = client.post(f"/cards/{card}/fill/scan", said)
    assert part.content.strip().startswith(b'<div id="bench"')
    assert b"<html" not in part.content
    assert b"<html" in whole.content
    assert "All 7 placed" in words(part)
    assert "All 7 placed" in words(whole)


def test_a_scan_of_another_card_goes_to_that_card(sign_in: SignIn) -> None:
    _, card = small_bench.ready_to_fill()
    client = sign_in(Role.TECHNICIAN)
    spaced = f"{card[:5]} {card[5:10]} {card[10:]}"
    assert client.post(f"/cards/{card}/fill/scan", {"scan": spaced, "medicine": "x"})["Location"] == f"/cards/{card}/fill"
    assert client.get("/find", {"scan": spaced})["Location"] == f"/cards/{card}"


FORGED: list[tuple[str, dict[str, str], int]] = [
    ("no medicine", {"medicine": ""}, 400),
    ("a medicine that is not there", {"medicine": "nothing"}, 404),
    ("no lot", {"lot": ""}, 400),
    ("no such day", {"expiry": "2027-02-30"}, 400),
    ("cells that are no cells", {"cell": "1,1"}, 400),
    ("more than the cell asks", {"cell": "1.1=2=RX1"}, 422),
    ("a cell of another order", {"cell": "1.1=1=RX2"}, 422),
    ("a cell outside the card", {"cell": "9.9=1=RX1"}, 422),
    ("no scan and no reason", {"scan": ""}, 422),
    ("another lot than the code says", {"lot": "OTHER"}, 422),
    ("the codes of two packs run together", {"scan": f"{SCAN}\x1d{SCAN}"}, 422),
]


@pytest.mark.parametrize(("wrong", "changed", "status"), FORGED, ids=[row[0] for row in FORGED])
def test_a_form_that_was_tampered_with_places_nothing(wrong: str, changed: dict[str, str], status: int, sign_in: SignIn) -> None:
    _, card = small_bench.ready_to_fill()
    said = {"medicine": "bisoprolol-5", "scan": SCAN, "lot": "LOT42A", "expiry": "2027-06-30", "cell": "1.1=1=RX1", "token": "t1"}
    assert sign_in(Role.TECHNICIAN).post(f"/cards/{card}/fill/place", said | changed).status_code == status
    assert load_card(card).state.placed == ()


def test_the_same_form_twice_is_one_placement(sign_in: SignIn) -> None:
    _, card = small_bench.ready_to_fill()
    said = {"medicine": "bisoprolol-5", "scan": SCAN, "lot": "LOT42A", "expiry": "2027-06-30", "cell": "1.1=1=RX1", "token": "t1"}
    client = sign_in(Role.TECHNICIAN)
    assert [client.post(f"/cards/{card}/fill/place", said).status_code for _ in range(3)] == [302, 302, 302]
    assert len(load_card(card).state.placed) == 1


COUNTED = [("0.5", True), ("0,5", True), ("½", True), ("1/2", True), (".5", False), ("half", False), ("-1", False), ("1e0", False)]


@pytest.mark.parametrize(("typed", "understood"), COUNTED)
def test_a_count_is_written_as_people_write_it_or_asked_for_again(typed: str, understood: bool, sign_in: SignIn) -> None:  # noqa: FBT001
    card = small_bench.filled()
    cavities = load_card(card).filled.cavities
    counts = {f"c{cavity.row}-{cavity.column}": typed if cavity.asked.denominator == 2 else "1" for cavity in cavities}
    answer = sign_in(Role.CHECKER).post(f"/cards/{card}/check/counts", counts)
    assert answer.status_code == (302 if understood else 422)
    assert load_card(card).state.stage.value == ("checked" if understood else "filled")


def test_what_a_check_left_out_is_said_before_it_at_release_and_in_the_history(sign_in: SignIn) -> None:
    card = small_bench.filled_for_a_choice()
    checker, pharmacist = sign_in(Role.CHECKER), sign_in(Role.PHARMACIST)
    misses = "If 1 of these 7 is wrong, this check misses it in 43 of 100 cards; if 2 are, it misses both in 15;"
    assert misses in words(checker.get(f"/cards/{card}/check"))
    fields = re.findall(r'name="(c\d-\d)"', checker.get(f"/cards/{card}/check/counts").content.decode())
    assert len(fields) == 11
    asked = {f"c{cavity.row}-{cavity.column}": "½" if cavity.asked.denominator == 2 else "1" for cavity in load_card(card).filled.cavities}
    assert checker.post(f"/cards/{card}/check/counts", {name: asked[name] for name in fields}).status_code == 302
    counted = "11 of 14 cavities counted, 7 always, 4 of 7 drawn."
    assert f"{counted} {misses}" in words(pharmacist.get(f"/cards/{card}/release"))
    assert f"{counted} {misses}" in words(pharmacist.get(f"/cards/{card}/history"))


def test_whoever_would_rather_count_all_may(sign_in: SignIn) -> None:
    card = small_bench.filled_for_a_choice()
    asked = {f"c{cavity.row}-{cavity.column}": "½" if cavity.asked.denominator == 2 else "1" for cavity in load_card(card).filled.cavities}
    client = sign_in(Role.CHECKER)
    assert client.get(f"/cards/{card}/check/counts?every=yes").content.decode().count("units counted") == 14
    assert client.post(f"/cards/{card}/check/counts", {**dict(list(asked.items())[1:]), "every": "yes"}).status_code == 422
    assert client.post(f"/cards/{card}/check/counts", {**asked, "every": "yes"}).status_code == 302
    assert "cavities counted" not in words(sign_in(Role.PHARMACIST).get(f"/cards/{card}/history"))


def test_what_came_back_is_counted_in_the_same_ways_and_a_slip_is_named_with_its_field(sign_in: SignIn) -> None:
    card = small_bench.handed_over()
    fields = re.findall(r'name="(c\d-\d-RX\d)"', sign_in(Role.TECHNICIAN).get(f"/cards/{card}/return").content.decode())
    left = {name: "½" if name.endswith("RX2") else "1" for name in fields}
    client = sign_in(Role.TECHNICIAN)
    slip = client.post(f"/cards/{card}/return", {**left, "c7-2-RX2": "0.3"})
    assert (slip.status_code, "Sun 8 Mar, evening, metformin 500 mg tablet: “0.3” is no half" in words(slip)) == (422, True)
    assert client.post(f"/cards/{card}/return", {**left, "c7-2-RX2": "1/2"}).status_code == 302


@pytest.mark.parametrize("path", ["/cards/{card}/check", "/cards/{card}/check/counts"])
def test_the_checker_sees_neither_who_filled_nor_what_was_scanned(path: str, sign_in: SignIn) -> None:
    card = small_bench.filled()
    page = words(sign_in(Role.CHECKER).get(path.format(card=card)))
    assert "technician one" not in page
    assert "LOT42A" not in page


def test_the_pictures_of_a_paper_are_drawn_from_the_very_bytes_that_are_kept(sign_in: SignIn) -> None:
    small_bench.opened()
    small_bench.ordered()
    set_id = small_bench.planned()
    client = sign_in(Role.TECHNICIAN)
    shown = re.findall(r'name="seen" value="([0-9a-f]{64})"', client.get(f"/sets/{set_id}/paper").content.decode())
    assert len(shown) == 3
    client.post(f"/sets/{set_id}/paper", {"seen": shown, "token": "t1"})
    kept = {paper.sha256 for paper in load_papers(set_id)}
    assert kept == set(shown)
    assert client.get(f"/sets/{set_id}/paper/labels.pdf").content.startswith(b"%PDF")
    assert client.get(f"/sets/{set_id}/paper/labels/1.png").content.startswith(b"\x89PNG")
    assert client.get(f"/sets/{set_id}/paper/labels/99.png").status_code == 404
    assert client.get(f"/sets/{set_id}/paper/nothing.pdf").status_code == 404
    # a further copy is looked at before it is kept, and is kept as it was looked at
    wanted = {"reason": "page 2 came out blank"}
    page = client.get(f"/sets/{set_id}/paper", wanted)
    assert "Look over each page of copy 2" in words(page)
    second = re.findall(r'name="seen" value="([0-9a-f]{64})"', page.content.decode())
    assert len(second) == 3
    assert not kept & set(second)
    assert {paper.copy for paper in load_papers(set_id)} == {1}
    assert hashlib.sha256(client.get(f"/sets/{set_id}/paper/labels.pdf", wanted).content).hexdigest() in second
    picture, kept_picture = (client.get(f"/sets/{set_id}/paper/labels/1.png", asked).content for asked in (wanted, {}))
    assert picture != kept_picture
    client.post(f"/sets/{set_id}/paper", {"seen": second, "token": "t2", **wanted})
    assert {paper.sha256 for paper in load_papers(set_id) if paper.copy == 2} == set(second)
    refused = client.get(f"/sets/{set_id}/paper", {"reason": "x" * 81})
    assert refused.status_code == 422
    assert "Look over each page of copy" not in words(refused)


def test_the_work_list_says_what_is_next_and_whose_it_is(sign_in: SignIn) -> None:
    card = small_bench.filled()
    number = f"{card[:5]} {card[5:10]} {card[10:]}"
    technician = words(sign_in(Role.TECHNICIAN).get("/"))
    assert "0 of 1 set wait for technicians." in technician
    assert f"Check card {number}: waits for a checker or a pharmacist" in technician
    checker = words(sign_in(Role.CHECKER).get("/"))
    assert "1 of 1 set waits for checkers." in checker
    assert f"Check card {number}" in checker


def test_somebody_with_orders_and_no_card_is_on_the_work_list(sign_in: SignIn) -> None:
    received("Take 1 tablet in the morning")
    page = words(sign_in(Role.TECHNICIAN).get("/"))
    assert "1 person with orders and no card on the way" in page
    assert "1 order to confirm" in page
    pharmacist = sign_in(Role.PHARMACIST)
    assert "Confirm 1 order" in words(pharmacist.get("/"))
    pharmacist.post("/orders/readings/RX1/confirm", {})
    assert "Plan the next cards" in words(pharmacist.get("/"))


def test_an_order_that_could_not_be_used_waits_on_screen_until_a_pharmacist_settles_it(sign_in: SignIn) -> None:
    small_bench.opened()
    small_bench.ordered(small_bench.ORDERS["RX1"], small_bench.ORDERS["RX2"].replace("metformin-500", "no-such-medicine"))
    pharmacist = sign_in(Role.PHARMACIST)
    for path in ("/orders/readings", "/people/p1"):
        said = words(pharmacist.get(path))
        assert "“no-such-medicine” is not a code of the medicines file" in said
        assert "Take half a tablet in the evening" in said
    assert "Settle it" not in words(sign_in(Role.TECHNICIAN).get("/people/p1"))
    held = pharmacist.post("/plan", {**ASKED, "person": "p1"})
    assert "Order RX2 of orders.csv could not be used." in words(held)

    (path,) = set(re.findall(r'href="(/orders/not-used/\d+)"', pharmacist.get("/orders/readings").content.decode()))
    assert "Wilhelmina Okonedo-Hart" in words(pharmacist.get(path))
    assert pharmacist.post(path, {"becomes": "turned down", "reason": ""}).status_code == 422
    assert pharmacist.post(path, {"becomes": "turned down", "reason": "stopped by Dr Example"}).status_code == 302
    assert "Nothing waits" in words(pharmacist.get("/orders/readings"))
    assert pharmacist.post("/plan", {**ASKED, "person": "p1"}).status_code == 302


@pytest.mark.parametrize(("profile", "sentence"), [("uk", "Take ONE tablet in the morning."), ("us", "Take 1 tablet in the morning.")])
def test_a_persons_page_writes_numbers_as_the_profile_writes_them_on_paper(sign_in: SignIn, profile: str, sentence: str) -> None:
    small_bench.opened(profile)
    small_bench.ordered(small_bench.ORDERS["RX1"])
    assert sentence in words(sign_in(Role.PHARMACIST).get("/people/p1"))

"""The confirm screen: what came, what it means, fourteen days, what changes, what stands against it; one decision at a time."""

import re
from typing import Any

import pytest
from tests import small_bench as bench
from tests.actions.test_confirming import with_words
from tests.bench_fixtures import on
from tests.web.conftest import SignIn
from tests.web.test_screens import words

from dosewright.actions.receive_orders import receive_orders
from dosewright.core.custody.event import Role
from dosewright.core.units.ids import OrderId
from dosewright.store.orders import load_order
from dosewright.store.wordings import load_wordings

pytestmark = pytest.mark.usefixtures("guarded")

RX7, RX8, RX10, RX11 = (f"/orders/readings/{name}" for name in ("RX7", "RX8", "RX10", "RX11"))


def standing(order: str) -> str:
    return load_order(OrderId(order)).standing


def test_an_order_that_may_replace_another_shows_what_changes_for_each_answer(sign_in: SignIn) -> None:
    bench.asked()
    page = words(sign_in(Role.PHARMACIST).get(RX7))
    assert "In place of this order, which then ends Take 1 tablet in the morning and 1 tablet at bedtime. (from Mon 2 Mar 2026)" in page
    assert "From Tue 10 Mar 2026: 2 tablets a day become 1." in page
    assert "22:00 bedtime 1 → none" in page
    assert "From Tue 10 Mar 2026: 2 tablets a day become 3." in page


def test_the_drawings_stand_as_tables_too(sign_in: SignIn) -> None:
    bench.asked()
    page = sign_in(Role.PHARMACIST).get(RX7).content.decode()
    days, *changes = re.findall(r"<table.*?</table>", page, re.DOTALL)
    assert (days.count("<td>1</td>"), len(changes)) == (14, 2)
    assert "goes on" in changes[0]


def test_another_strength_is_compared_in_milligrams(sign_in: SignIn) -> None:
    bench.asked()
    bench.waiting(bench.order_line(bench.AT_HOME, "RX40", "bisoprolol-2.5", "Take 1 tablet in the morning", "2026-03-10"))
    page = words(sign_in(Role.PHARMACIST).get("/orders/readings/RX40"))
    assert "bisoprolol 5 mg tablet: Take 1 tablet in the morning and 1 tablet at bedtime." in page
    assert "From Tue 10 Mar 2026: 10 mg a day become 2.5 mg a day." in page


def test_several_readings_are_chosen_from_before_anything_else_is_asked(sign_in: SignIn) -> None:
    bench.asked()
    client = sign_in(Role.PHARMACIST)
    first = words(client.get(RX8))
    assert "Which is meant?" in first
    assert "That is what is meant" not in first
    second = words(client.get(RX8, {"choice": "1"}))
    assert "Take 1 tablet with lunch." in second
    assert "New, from Mon 2 Mar 2026: 0 → 1 tablet a day." in second
    assert "That is what is meant" in second
    assert "Which is meant?" in words(client.get(RX8, {"choice": "7"}))
    assert "Which is meant?" in words(client.get(RX8, {"choice": "no number"}))


def test_the_reading_is_said_in_the_languages_that_the_pharmacy_chose(sign_in: SignIn, settings: Any) -> None:
    settings.BENCH_LANGUAGES = ("fr", "de", "xx")
    bench.asked()
    page = sign_in(Role.PHARMACIST).get(RX7).content.decode()
    assert '<p lang="fr"><span class="soft">français:</span> Prendre 1 comprimé le matin.</p>' in page
    assert '<p lang="de">' in page
    assert 'lang="xx"' not in page


def test_an_order_that_came_in_another_language_is_said_in_it(sign_in: SignIn) -> None:
    bench.opened()
    line = bench.order_line(bench.AT_HOME, "RX1", bench.BISOPROLOL, "1 comprimé le matin")
    bench.must(receive_orders("fr.csv", on(), (bench.HEADER + line).encode(), "fr"))
    page = words(sign_in(Role.PHARMACIST).get("/orders/readings/RX1"))
    assert "Take 1 tablet in the morning." in page
    assert "français: Prendre 1 comprimé le matin." in page


def test_what_stands_against_it_is_shown_and_asks_for_a_reason(sign_in: SignIn) -> None:
    bench.asked()
    client = sign_in(Role.PHARMACIST)
    page = client.get(RX11).content.decode()
    assert "at most 4000 mg is allowed" in page
    assert re.search(r'<input[^>]*name="reason"[^>]*required', page)
    refused = client.post(f"{RX11}/confirm", {"choice": "0"})
    assert (refused.status_code, standing("RX11")) == (422, "waiting")
    assert "A reason is needed" in words(refused)
    assert client.post(f"{RX11}/confirm", {"choice": "0", "reason": "agreed with Dr Example"}).status_code == 302
    assert standing("RX11") == "confirmed"


def test_an_order_that_is_confirmed_is_not_held_against_itself(sign_in: SignIn) -> None:
    bench.asked()
    bench.waiting(bench.order_line(bench.AT_HOME, "RX50", "paracetamol-500", "Take 2 tablets four times a day"))
    client = sign_in(Role.PHARMACIST)
    assert client.post("/orders/readings/RX50/confirm", {"choice": "0"}).status_code == 302
    page = words(client.get("/orders/readings/RX50"))
    assert "Settled: confirmed by The pharmacist" in page
    assert "mg in a day" not in page


def test_words_and_structure_that_disagree_are_choices_that_say_whose_they_are(sign_in: SignIn) -> None:
    bench.opened()
    bench.must(receive_orders("orders.json", on(), with_words("Take 1 tablet twice a day")))
    client = sign_in(Role.PHARMACIST)
    page = words(client.get("/orders/readings/MR1"))
    assert "Words and structure came together and do not say the same." in page
    assert "As the structure says Take 1 tablet in the morning." in page
    assert "As the words say Take 1 tablet twice a day." in page
    chosen = client.get("/orders/readings/MR1", {"choice": "1"}).content.decode()
    assert re.search(r'<input[^>]*name="reason"[^>]*required', chosen)
    assert client.post("/orders/readings/MR1/confirm", {"choice": "1", "reason": "Dr Example: twice"}).status_code == 302


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("Take 7 mg in the morning", "is no whole or half unit of the product ordered"),
        ("Take 2 tablets in the morning, maximum 1 tablet in 24 hours", "is less than the schedule gives"),
    ],
)
def test_amounts_that_cannot_be_are_said_and_written_anew_with_a_reason(text: str, said: str, sign_in: SignIn) -> None:
    bench.opened()
    bench.waiting(bench.order_line(bench.AT_HOME, "RX1", bench.BISOPROLOL, text))
    client = sign_in(Role.PHARMACIST)
    page = client.get("/orders/readings/RX1").content.decode()
    assert said in page
    assert re.search(r'<input[^>]*name="restated"[^>]*required', page)
    anew = {"restated": "1 bd", "reason": "Dr Example, 2 March"}
    assert client.post("/orders/readings/RX1/confirm", {**anew, "reason": ""}).status_code == 422
    assert client.post("/orders/readings/RX1/confirm", anew).status_code == 302
    kept = load_order(OrderId("RX1")).order
    assert [one.quantity.unit for dosage in kept.dosages for one in dosage.amounts if one.quantity] == ["tablet"]


def test_structured_milligrams_that_no_half_tablet_makes_are_written_anew(sign_in: SignIn) -> None:
    bench.opened()
    content = with_words("").replace(b'"value": 1, "unit": "tablet"', b'"value": 7, "unit": "mg"').replace(b', "text": ""', b"")
    bench.must(receive_orders("orders.json", on(), content))
    client = sign_in(Role.PHARMACIST)
    page = words(client.get("/orders/readings/MR1"))
    assert "7 mg is no whole number of halves of this product" in page
    assert "Write the directions anew" in page
    assert client.post("/orders/readings/MR1/confirm", {"reason": "x"}).status_code == 422


def test_where_no_day_is_stated_it_is_asked_before_the_change_is_shown(sign_in: SignIn) -> None:
    bench.asked()
    bench.waiting(bench.order_line(bench.AT_HOME, "RX9", bench.BISOPROLOL, "Take 1 tablet in the morning", ""))
    client = sign_in(Role.PHARMACIST)
    asked = words(client.get("/orders/readings/RX9"))
    assert "From which day does it count?" in asked
    assert "That is what is meant" not in asked
    shown = client.get("/orders/readings/RX9", {"choice": "0", "since": "2026-03-12"})
    assert "From Thu 12 Mar 2026: 2 tablets a day become 1." in words(shown)
    form = dict(re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', shown.content.decode()))
    assert client.post("/orders/readings/RX9/confirm", {**form, "relation": "replaces:RX1"}).status_code == 302
    until = load_order(OrderId("RX1")).order.until
    assert until is not None
    assert until.day.isoformat() == "2026-03-12"


def test_a_rhythm_without_a_start_asks_for_its_day(sign_in: SignIn) -> None:
    bench.opened()
    bench.waiting(bench.order_line(bench.AT_HOME, "RX1", bench.BISOPROLOL, "Take 1 tablet every other day in the morning", ""))
    client = sign_in(Role.PHARMACIST)
    assert "From which day does it count?" in words(client.get("/orders/readings/RX1"))
    assert client.post("/orders/readings/RX1/confirm", {"since": "2026-03-03"}).status_code == 302
    assert str(load_order(OrderId("RX1")).order.anchor) == "2026-03-03"


def remembered(sign_in: SignIn) -> Any:
    """The pharmacist confirms RX8 and has its words remembered."""
    bench.asked()
    client = sign_in(Role.PHARMACIST)
    confirmed = client.post(f"{RX8}/confirm", {"choice": "0", "remember": "yes"})
    assert confirmed["Location"] == f"{RX8}/remember"
    assert client.post(f"{RX8}/remember", {"scope": "all", "reason": "asked"}).status_code == 302
    return client


def test_a_remembered_wording_stands_beside_the_words_with_who_and_when(sign_in: SignIn) -> None:
    client = remembered(sign_in)
    assert "as this pharmacy reads it" in words(client.get("/orders/readings"))
    page = client.get(RX10).content.decode()
    assert "As this pharmacy reads it" in page
    assert "Confirmed by The pharmacist on Mon 2 Mar 2026, 11:30: “asked”" in words(client.get(RX10))
    form = dict(re.findall(r'<input type="hidden" name="(choice|wording)" value="([^"]*)"', page))
    assert "always here" not in page
    assert "Which is meant?" in words(client.get(RX10, {"ask": "yes"}))
    assert "As read" in words(client.get(RX10, {"choice": "1"}))
    assert client.post(f"{RX10}/confirm", form).status_code == 302
    (line,) = load_wordings()
    assert line.used == 1
    assert "1 time" in words(client.get("/orders/wordings"))


def test_a_page_that_was_open_while_the_wording_was_revoked_confirms_nothing(sign_in: SignIn) -> None:
    client = remembered(sign_in)
    form = dict(re.findall(r'<input type="hidden" name="(choice|wording)" value="([^"]*)"', client.get(RX10).content.decode()))
    (line,) = load_wordings()
    assert client.post(f"/orders/wordings/{line.id}/revoke", {"reason": " "}).status_code == 422
    assert client.post(f"/orders/wordings/{line.id}/revoke", {"reason": "at noon"}).status_code == 302
    refused = client.post(f"{RX10}/confirm", form)
    assert (refused.status_code, standing("RX10")) == (422, "waiting")
    assert "The remembered wording was revoked" in words(refused)
    assert "Which is meant?" in words(refused)
    assert "Which is meant?" in words(client.get(RX10))


def test_what_is_no_convention_is_not_offered_to_be_remembered(sign_in: SignIn) -> None:
    bench.opened()
    bench.waiting(bench.order_line(bench.AT_HOME, "RX1", bench.BISOPROLOL, "Take 1 or 2 tablets in the morning"))
    client = sign_in(Role.PHARMACIST)
    assert "always here" not in words(client.get("/orders/readings/RX1", {"choice": "0"}))
    client.post("/orders/readings/RX1/confirm", {"choice": "0", "remember": "yes"})
    page = words(client.get("/orders/readings/RX1/remember"))
    assert "These words leave a question of safety open" in page
    assert "from now on" not in page
    assert client.post("/orders/readings/RX1/remember", {"scope": "all", "reason": "x"}).status_code == 422
    assert load_wordings() == ()


def test_only_a_home_of_its_own_is_offered_beside_the_whole_pharmacy(sign_in: SignIn) -> None:
    bench.asked()
    client = sign_in(Role.PHARMACIST)
    client.post(f"{RX10}/confirm", {"choice": "1", "remember": "yes"})
    page = client.get(f"{RX10}/remember").content.decode()
    assert re.findall(r'<option value="(\w+)"', page) == ["home", "all"]
    assert client.post(f"{RX10}/remember", {"scope": "home", "reason": "dinner is at noon here"}).status_code == 302
    assert [line.wording.key.home for line in load_wordings()] == ["The Lindens"]
    assert "Which is meant?" in words(client.get(RX8))  # somebody who lives elsewhere


def test_whoever_may_look_sees_the_wordings_and_only_a_pharmacist_may_revoke(sign_in: SignIn) -> None:
    remembered(sign_in)
    seen = words(sign_in(Role.TECHNICIAN).get("/orders/wordings"))
    assert "1 wording read this pharmacy’s own way." in seen
    assert "Revoke it" not in seen

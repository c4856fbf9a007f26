"""A batch for one home is filled medicine by medicine: the bottle goes over every card that asks for it, and no card is passed by."""

from dataclasses import replace
from urllib.parse import parse_qs, urlsplit

from tests import small_bench
from tests.bench_fixtures import on
from tests.web.conftest import SignIn

from dosewright.actions.plan_set import plan_set
from dosewright.core.custody.event import Role
from dosewright.core.custody.planning import PlanAsk
from dosewright.core.units.ids import HomeId, PersonId
from dosewright.store.cards import load_set
from dosewright.store.models import CardRow, CardSet
from dosewright.store.people import load_person, save_home, save_person

SCAN = "01062910415002131727063010LOT42A"
BATCH = "2026-03-02~lindens"


def batch_of(many: int) -> list[str]:
    """So many people of The Lindens with a printed card each; their cards."""
    small_bench.opened()
    save_home(HomeId("lindens"), "The Lindens")
    for number in range(many):
        person = PersonId(f"b{number}")
        for order in ("RX1", "RX2"):
            text = small_bench.ORDERS[order].replace("p1,Wilhelmina", f"{person},Number{number} ")
            small_bench.ordered(text.replace(f",{order},", f",{order}{number},"))
        save_person(replace(load_person(person), home=HomeId("lindens")))
        small_bench.printed(int(small_bench.must(plan_set(person, on(), PlanAsk(small_bench.MONDAY, 7))).made[0]))
    return [load_set(one.pk).cards[0].number for one in CardSet.objects.order_by("person__name", "pk")]


def place_as_shown(client: object, address: str) -> str:
    """Press "All placed" on the page; where it leads."""
    import re  # noqa: PLC0415

    page = client.get(address).content.decode()  # type: ignore[attr-defined]
    form = page.split('<form id="placing"')[1].split("</form>")[0]
    fields: dict[str, list[str]] = {}
    for name, value in re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', form):
        fields.setdefault(name, []).append(value)
    number = urlsplit(address).path.split("/")[2]
    return str(client.post(f"/cards/{number}/fill/place", fields)["Location"])  # type: ignore[attr-defined]


def test_the_bottle_goes_over_all_cards_of_the_batch_and_then_back_to_its_page(sign_in: SignIn) -> None:
    cards = batch_of(3)
    client = sign_in(Role.TECHNICIAN)
    page = client.get(f"/batch?batch={BATCH}").content.decode()
    assert "The Lindens, from Mon 2 Mar 2026: 3 cards" in page
    assert "21 tablets of bisoprolol 5 mg tablet, for 3 cards" in page
    assert "12 tablets" in page  # three times seven halves: four whole tablets a card, none carried over
    assert "1 and a half tablets of it to waste" in page
    assert "never laid into the next person’s card" in page
    place = f"/cards/{cards[1]}/fill?medicine=bisoprolol-5&batch={BATCH}&scan={SCAN}"
    seen = []
    for _ in range(3):
        place = place_as_shown(client, place)
        seen.append(urlsplit(place).path)
    assert seen == [f"/cards/{cards[2]}/fill", f"/cards/{cards[0]}/fill", "/batch"]
    assert parse_qs(urlsplit(place).query) == {"batch": [BATCH]}
    page = client.get(place).content.decode()
    assert "metformin 500 mg tablet, for 3 cards" in page
    assert "0 of 3" in page


def test_cards_of_other_homes_other_days_and_out_of_date_ones_are_not_in_it(sign_in: SignIn) -> None:
    cards = batch_of(2)
    CardRow.objects.filter(number=cards[0]).update(out_of_date=True)
    client = sign_in(Role.TECHNICIAN)
    assert "1 card, one medicine" in client.get(f"/batch?batch={BATCH}").content.decode()
    for other in ("2026-03-02~", "2026-03-09~lindens", "2026-03-02~elsewhere", "rubbish", "", "2026-13-01~lindens"):
        assert client.get("/batch", {"batch": other}).status_code == 404


def test_a_card_that_has_the_medicine_meanwhile_leads_back_to_the_batch(sign_in: SignIn) -> None:
    cards = batch_of(2)
    client = sign_in(Role.TECHNICIAN)
    place_as_shown(client, f"/cards/{cards[0]}/fill?medicine=bisoprolol-5&scan={SCAN}")
    answer = client.get(f"/cards/{cards[0]}/fill?medicine=bisoprolol-5&batch={BATCH}")
    assert urlsplit(answer["Location"]).path == "/batch"


def test_what_is_short_is_noted_as_owed_from_the_fill_screen_and_blocks_the_set_on_the_list(sign_in: SignIn) -> None:
    cards = batch_of(2)
    from dosewright.store.models import StockLot  # noqa: PLC0415

    StockLot.objects.filter(medicine_id="bisoprolol-5").update(in_stock="3")
    client = sign_in(Role.TECHNICIAN)
    page = client.get(f"/cards/{cards[0]}/fill?medicine=bisoprolol-5").content.decode()
    assert "4 tablets more" in page
    assert client.post(f"/cards/{cards[0]}/owing", {"medicine": "bisoprolol-5", "token": "o"}).status_code == 302
    assert "4 tablets owed: bisoprolol 5 mg tablet" in client.get("/owings").content.decode()
    assert "1 medicine owed" in client.get("/").content.decode()

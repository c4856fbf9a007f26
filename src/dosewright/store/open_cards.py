"""Which medicines the cards hold whose life is not over: rows in, for each medicine how many cards out, or which cards hold two of them."""

from collections import Counter, defaultdict
from collections.abc import Iterator
from itertools import permutations

from dosewright.core.custody.stage import OVER
from dosewright.core.medicines.neighbours import PairRule
from dosewright.core.medicines.own_pairs import concerned
from dosewright.core.medicines.spacing import SpacingRule
from dosewright.core.packing.plan_values import Card
from dosewright.core.units.ids import MedicineCode
from dosewright.store.catalogue import load_catalogue
from dosewright.store.models import CardRow
from dosewright.store.value_json import parse_value

__all__ = ["find_cards_with_both", "medicines_in_open_cards"]

_Held = tuple[str, str, frozenset[MedicineCode]]  # card, person, what the plan wants of it


def medicines_in_open_cards() -> dict[MedicineCode, int]:
    """By what the plans want of the cards. Cards that are returned, withdrawn or destroyed do not count."""
    counts: Counter[MedicineCode] = Counter()
    for _, _, held in _open_cards():
        counts.update(held)
    return dict(counts)


def find_cards_with_both(rule: PairRule | SpacingRule) -> dict[tuple[str, str], tuple[str, ...]]:
    """For each two products that the rule keeps apart, by their labels, the numbers of the open cards that hold both.

    What must be apart in time need not lie in one card: there a person's open cards are looked at together.
    """
    cards = list(_open_cards())
    medicines = load_catalogue({code for _, _, held in cards for code in held})
    together: defaultdict[str, list[_Held]] = defaultdict(list)
    for card in cards:
        together[card[1] if isinstance(rule, SpacingRule) else card[0]].append(card)
    found: defaultdict[tuple[str, str], set[str]] = defaultdict(set)
    for mine in together.values():
        codes = sorted({code for _, _, held in mine for code in held if code in medicines})
        for one, other in permutations(codes, 2):
            if concerned(rule, medicines[one], medicines[other]) and (isinstance(rule, SpacingRule) or one < other):
                both = {number for number, _, held in mine if held & {one, other}}
                found[(medicines[one].label, medicines[other].label)] |= both
    return {pair: tuple(sorted(numbers)) for pair, numbers in found.items()}


def _open_cards() -> Iterator[_Held]:
    rows = CardRow.objects.exclude(stage__in=[stage.value for stage in OVER]).values_list("number", "card_set__person_id", "value")
    for number, person, value in rows.iterator(chunk_size=500):
        card = parse_value(Card, value)
        yield number, person, frozenset(content.medicine for cavity in card.cavities for content in cavity.contents)

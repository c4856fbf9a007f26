"""The fingerprint of a whole plan is that of its people's list, spelled as `json` (the standard library's) spells it."""

import hashlib
import json
import random

from hypothesis import given
from hypothesis import strategies as st

from dosewright.core.packing.fingerprint import fingerprint_of_sets
from dosewright.core.units.ids import PersonId


@given(
    st.dictionaries(st.text(max_size=8), st.text("0123456789abcdef", min_size=64, max_size=64), max_size=6),
    st.randoms(use_true_random=False),
)
def test_it_is_the_list_s_in_any_order_of_people(sets: dict[str, str], chance: random.Random) -> None:
    spelled = json.dumps(sorted(sets.items()), ensure_ascii=False, separators=(",", ":")).encode("utf-8", "surrogatepass")
    people = list(sets)
    chance.shuffle(people)
    assert fingerprint_of_sets({PersonId(one): sets[one] for one in people}) == hashlib.sha256(spelled).hexdigest()

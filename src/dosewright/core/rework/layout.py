"""A change laid out: for everyone whose cards it touches the exact differences, every choice, and the best combination of them.

Comes in: a `Situation`. Goes out: one `PersonLayout` a person. Nothing is decided: the combination is what the pharmacy's weights rank
first among what needs nobody's leave to wait. What cannot be put right is left, and said to be left (R17).
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from itertools import product

from dosewright.core.packing.fingerprint import fingerprint_of_setting
from dosewright.core.packing.plan_values import Alongside, each_contents
from dosewright.core.rework.after import Laid, as_it_is, as_it_was, with_parts
from dosewright.core.rework.asked import Asked, When, ask, unsettled
from dosewright.core.rework.best import Priced, Shared, best_combination, price_together
from dosewright.core.rework.choices import Case, Choice, ChoiceName, add_card, fill_afresh, least_afresh, ways_with
from dosewright.core.rework.cost import Cost, draws, score
from dosewright.core.rework.difference import CardDifference, Differences, Unplaced, compare
from dosewright.core.rework.earlier import check_earlier
from dosewright.core.rework.situation import OpenCard, Situation
from dosewright.core.units.finding import Fact, Finding, Severity
from dosewright.core.units.ids import CardNumber, MedicineCode, PersonId
from dosewright.core.units.person import Person

__all__ = ["PersonLayout", "check_absent", "lay_out", "lay_out_person"]


@dataclass(frozen=True, slots=True)
class PersonLayout:
    """One person's change. `chosen` is the best combination, in the order of the cards; `laid` are all open cards as they then are. What is
    chosen beside an added card concerns the rest of the change only, and is not among `choices`, each of which concerns all of it.

    `price`: what the combination weighs, in minutes at the bench; `alternatives`: the other ways to go about the whole, each with the best
    choices within it. `left`: cards that the change touches and that no lawful choice puts right. `held`: nothing may be done before the
    findings are mended.
    """

    person: Person
    differences: tuple[CardDifference, ...]
    unplaced: tuple[Unplaced, ...]
    choices: tuple[Choice, ...]
    chosen: tuple[Choice, ...]
    laid: tuple[Laid, ...]
    alongside: tuple[Alongside, ...]
    left: tuple[CardNumber, ...]
    findings: tuple[Finding, ...]
    held: bool = False
    price: Fraction = Fraction(0)
    alternatives: tuple["PersonLayout", ...] = ()

    @property
    def touched(self) -> bool:
        """Whether anything has to be done, decided or mended."""
        return bool(self.choices or self.held or self.left)


def lay_out(situation: Situation, held: frozenset[PersonId] = frozenset()) -> tuple[PersonLayout, ...]:
    """Everyone in the new orders, in their order. Cards of anybody else are not judged (`check_absent` names them).

    `held`: people of whom an order is known to be broken or lost; nothing is laid out for them.
    """
    return tuple(_hold(person, situation) if person.id in held else lay_out_person(person, situation) for person in situation.after.people)


def check_absent(situation: Situation) -> tuple[Finding, ...]:
    """A `decide` for everybody who has an open card and is not among the new orders: no orders at all is another thing than no word."""
    known = {person.id for person in situation.after.people}
    names = {person.id: person.name for person in situation.before.people}
    absent = dict.fromkeys(card.person for card in situation.cards if card.person not in known and card.card.last >= situation.at.day)
    return tuple(Finding("rework.person-absent", Severity.DECIDE, {"person": one}, {"name": names.get(one, one)}) for one in absent)


def _hold(person: Person, situation: Situation) -> PersonLayout:
    said = Finding("rework.person-held", Severity.STOP, {"person": person.id}, {"name": person.name})
    return _held(person, situation, ask(person, situation.after, situation.at), (said,))


def _held(person: Person, situation: Situation, after: Asked, findings: tuple[Finding, ...]) -> PersonLayout:
    laid = tuple(as_it_is(card, waiting=True) for card in situation.cards_of(person.id))
    return PersonLayout(person, (), (), (), (), laid, after.alongside, (), findings, held=True)


def lay_out_person(person: Person, situation: Situation) -> PersonLayout:
    """One person's cards; nobody else's orders matter to them."""
    cards = situation.cards_of(person.id)
    before, after = ask(person, situation.before, situation.at), ask(person, situation.after, situation.at)
    stops = tuple(_stops(person, cards, (before, after), situation))
    if stops:
        return _held(person, situation, after, (*after.findings, *stops))
    earlier = check_earlier(person, cards, before, situation)
    new = tuple(finding for finding in after.findings if finding not in before.findings)
    case = Case(person, situation, _relisted(cards, before, after, situation), fingerprint_of_setting(situation.after))
    return _Laying(cards, situation.groups_of(person.id), before, after, case).lay((*new, *earlier))


def _relisted(cards: Iterable[OpenCard], before: Asked, after: Asked, situation: Situation) -> tuple[MedicineCode, ...]:
    """Medicines that a header names now and should not, or should and does not (R15)."""
    was = _lying(cards, situation) | {entry.medicine for entry in before.alongside}
    now = after.medicines() | {entry.medicine for entry in after.alongside}
    return tuple(sorted(code for code in was ^ now if code in situation.after.medicines))


def _lying(cards: Iterable[OpenCard], situation: Situation) -> set[MedicineCode]:
    """The medicines in cavities from the moment on."""
    return {content.medicine for card in cards for cavity in each_contents(card.open_from(situation.at)) for content in cavity.contents}


def _stops(person: Person, cards: Sequence[OpenCard], asked: tuple[Asked, Asked], situation: Situation) -> Iterable[Finding]:
    """Whatever makes the new orders, or what lies in the cards, not certain: then nothing is laid out for this person.

    `asked`: before, after. A question that was open before and concerns nothing in the cards holds nothing: it is alongside, as it was.
    """
    before, after = asked
    lying = {content.medicine for card in cards for cavity in each_contents(card.left()) for content in cavity.contents}
    where = {"person": person.id}
    for code in sorted(lying - situation.after.medicines.keys()):
        yield Finding("rework.unknown-medicine", Severity.STOP, where, {"name": person.name, "code": code})
    for entry in unsettled(after.alongside):
        unknown = entry.medicine not in situation.after.medicines and entry not in before.alongside
        if entry.medicine in lying or unknown:
            facts: dict[str, Fact] = {"name": person.name, "medicine": entry.medicine}
            yield Finding("rework.unsettled", Severity.STOP, {**where, "order": entry.order}, facts)


@dataclass(frozen=True, slots=True)
class _Scenario:
    """One way to go about the whole set: a choice for every card that is touched, and its price; cards for which there is none.

    `differences`: of the cards that are not touched in this way, what is asked of each.
    """

    chosen: tuple[Choice, ...]
    price: Fraction
    differences: Differences
    left: tuple[CardNumber, ...] = ()


@dataclass(frozen=True, slots=True)
class _Laying:
    """One person's cards, by groups too, and what was and is asked of them."""

    cards: tuple[OpenCard, ...]
    groups: tuple[tuple[OpenCard, ...], ...]
    before: Asked
    after: Asked
    case: Case

    @property
    def person(self) -> Person:
        return self.case.person

    @property
    def situation(self) -> Situation:
        return self.case.situation

    def lay(self, findings: tuple[Finding, ...]) -> PersonLayout:
        full = compare(self.cards, self.after, self.situation.at, self.situation.after)
        new = self._new_medicines()
        groups = [self._ways(group, full) for group in self.groups]
        listed = [choice for ways in groups for choice in ways]
        scenarios = [self._by_card(groups, full, ())]
        if new:
            added = self._added(new)
            listed.append(added)
            rest = compare(self.cards, self.after.without(new), self.situation.at, self.situation.after)
            scenarios.append(self._by_card([self._ways_worth_trying(group, rest) for group in self.groups], rest, (added,)))
        if (len(groups) > 1 and any(groups)) or self._beyond(full):
            whole = fill_afresh(full.cards, full.unplaced, self._all_days(), self.after.medicines(), self.case)
            listed.append(whole)
            scenarios.append(self._priced((whole,), full) if whole.lawful else None)
        possible = [scenario for scenario in scenarios if scenario is not None]
        best = min(possible, key=lambda scenario: scenario.price) if possible else self._what_can_be_done(groups, full)
        others = sorted((one for one in possible if one is not best), key=lambda scenario: scenario.price)
        ways = tuple(self._layout(full, tuple(listed), one, findings) for one in others)
        return replace(self._layout(full, tuple(listed), best, findings), alternatives=ways)

    def _new_medicines(self) -> frozenset[MedicineCode]:
        """What is asked for and lies in none of the cards from the moment on: additions, which alone may go on a card of their own."""
        return self.after.medicines() - _lying(self.cards, self.situation)

    def _all_days(self) -> tuple[date, date]:
        return max(self.situation.at.day, self.situation.after.first), self.situation.after.last

    def _added(self, new: frozenset[MedicineCode]) -> Choice:
        due = [when for when, claims in self.after.only(new).doses.items() for _ in claims]
        return add_card(self.cards, due, self._all_days(), new, self.case)

    def _ways(self, group: Sequence[OpenCard], differences: Differences) -> tuple[Choice, ...]:
        """Every choice for each card of the group, then filling the group afresh; none where nothing touches it."""
        apart = self._apart(group, differences)
        return (*apart, self._afresh(group, differences)) if apart else ()

    def _ways_worth_trying(self, group: Sequence[OpenCard], differences: Differences) -> tuple[Choice, ...]:
        """The same without filling afresh where it cannot be the best, whatever bottles the other cards open: its least price is above
        that of the best card by card with all of its bottles fetched for it alone. It is not planned then."""
        apart = self._apart(group, differences)
        shared, prices = self._shared(), [self._price(one) for one in _combinations(apart)]
        most = [one.price + len(one.draws) * (shared.fetch + shared.leftover) for one in prices]
        never = bool(most) and least_afresh(_of_group(group, differences), self.case) > min(most)
        return apart if never or not apart else (*apart, self._afresh(group, differences))

    def _apart(self, group: Sequence[OpenCard], differences: Differences) -> tuple[Choice, ...]:
        unplaced = [one for one in differences.unplaced if _covers(group, one.when)]
        touched = (one for one in _of_group(group, differences) if one.changes or unplaced or self.case.relisted)
        return tuple(choice for one in touched for choice in ways_with(one, unplaced, self.case))

    def _afresh(self, group: Sequence[OpenCard], differences: Differences) -> Choice:
        mine = _of_group(group, differences)
        unplaced = [one for one in differences.unplaced if _covers(group, one.when)]
        days = min(card.card.first for card in group), max(card.card.last for card in group)
        asked = frozenset(code for when, claims in self.after.doses.items() if _covers(group, when) for code in claims)
        codes = asked & frozenset(_medicines_of(mine, unplaced))
        return fill_afresh(mine, unplaced, days, codes, self.case)

    def _by_card(self, groups: Sequence[tuple[Choice, ...]], differences: Differences, also: tuple[Choice, ...]) -> _Scenario | None:
        """The best choice for each card, or for each group its filling afresh; None where some dose has no place."""
        if self._beyond(differences) or not all(choice.lawful for choice in also):
            return None
        options: list[list[tuple[Choice, ...]]] = [[also]] if also else []
        options += [_combinations(ways) for ways in groups if ways]
        priced = [[self._price(combination) for combination in combinations] for combinations in options]
        best = best_combination(priced, self._shared())
        if best is None:
            return None
        return self._priced(tuple(choice for found, at in zip(options, best, strict=True) for choice in found[at]), differences)

    def _priced(self, chosen: tuple[Choice, ...], differences: Differences) -> _Scenario:
        return _Scenario(chosen, price_together([self._price(chosen)], self._shared()), differences)

    def _price(self, choices: Sequence[Choice]) -> Priced:
        rates = self.situation.rates
        costs: list[Cost] = [choice.cost for choice in choices]
        return Priced(sum((score(cost, rates) for cost in costs), Fraction(0)), draws(costs))

    def _shared(self) -> Shared:
        rates = self.situation.rates
        return Shared(rates.minutes.fetch_medicine, rates.weights.unit_wasted)

    def _what_can_be_done(self, groups: Sequence[tuple[Choice, ...]], differences: Differences) -> _Scenario:
        """Where no way puts everything right: the best for those cards for which there is one."""
        options = [found for ways in groups if (found := _combinations(ways))]
        best = best_combination([[self._price(one) for one in found] for found in options], self._shared()) or ()
        chosen = tuple(choice for found, at in zip(options, best, strict=True) for choice in found[at])
        left = tuple(dict.fromkeys(n for ways in groups if not _combinations(ways) for choice in ways for n in choice.cards))
        return replace(self._priced(chosen, differences), left=left)

    def _beyond(self, differences: Differences) -> list[Unplaced]:
        """Doses on days that no card has."""
        return [one for one in differences.unplaced if not any(_covers(group, one.when) for group in self.groups)]

    def _layout(self, full: Differences, listed: tuple[Choice, ...], best: _Scenario, findings: tuple[Finding, ...]) -> PersonLayout:
        chosen = best.chosen
        done = {number for choice in chosen for number in choice.cards}
        still = tuple(self._still(one, one.card.number in best.left) for one in best.differences.cards if one.card.number not in done)
        laid = sorted((*still, *(laid for choice in chosen for laid in choice.laid)), key=lambda one: (one.card.first, one.card.number))
        lost = tuple(self._left(number) for number in best.left)
        nowhere = tuple(self._nowhere(one) for one in self._homeless(full, chosen))
        return PersonLayout(
            person=self.person,
            differences=full.cards,
            unplaced=full.unplaced,
            choices=listed,
            chosen=chosen,
            laid=with_parts(laid) if chosen else tuple(laid),
            alongside=self.after.alongside,
            left=best.left,
            findings=(*findings, *(found for choice in chosen for found in choice.findings), *lost, *nowhere),
            price=best.price,
        )

    def _still(self, one: CardDifference, left: bool) -> Laid:  # noqa: FBT001 - a fact about the card, not a switch
        return as_it_is(one.card, waiting=True) if left else as_it_was(one, self.situation)

    def _homeless(self, full: Differences, chosen: tuple[Choice, ...]) -> Iterable[Unplaced]:
        """Doses that fit nowhere and that no new card takes."""
        fresh = {(c.day, c.time, x.medicine) for one in chosen for laid in one.laid for c in laid.card.cavities for x in c.contents}
        return (one for one in self._beyond(full) if (*one.when, one.medicine) not in fresh)

    def _left(self, number: CardNumber) -> Finding:
        return Finding("rework.left", Severity.STOP, {"person": self.person.id, "card": number}, {"name": self.person.name})

    def _nowhere(self, one: Unplaced) -> Finding:
        where: dict[str, Fact] = {"person": self.person.id, "order": one.order, "date": one.when[0]}
        label = self.situation.after.medicines[one.medicine].label
        return Finding("rework.no-card", Severity.STOP, where, {"name": self.person.name, "medicine": label, "time": one.when[1]})


def _of_group(group: Sequence[OpenCard], differences: Differences) -> list[CardDifference]:
    numbers = {card.number for card in group}
    return [one for one in differences.cards if one.card.number in numbers]


def _covers(group: Iterable[OpenCard], when: When) -> bool:
    return any(card.card.first <= when[0] <= card.card.last for card in group)


def _medicines_of(differences: Iterable[CardDifference], unplaced: Iterable[Unplaced]) -> Iterable[MedicineCode]:
    """The medicines that those cards then hold, and those that still look for a place."""
    yield from (content.medicine for one in differences for contents in one.held.values() for content in contents)
    yield from (one.medicine for one in unplaced)


def _combinations(ways: Sequence[Choice]) -> list[tuple[Choice, ...]]:
    """One lawful choice for each card that needs none to wait, or the whole group afresh."""
    possible = [choice for choice in ways if choice.lawful and not choice.waits]
    apart = [choice for choice in possible if choice.name is not ChoiceName.AFRESH]
    cards = list(dict.fromkeys(number for choice in ways if choice.name is not ChoiceName.AFRESH for number in choice.cards))
    by_card = [[choice for choice in apart if choice.cards == (number,)] for number in cards]
    return [*product(*by_card), *((choice,) for choice in possible if choice.name is ChoiceName.AFRESH)]

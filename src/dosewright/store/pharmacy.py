"""The pharmacy and the rules it works by ⇄ rows."""

import hashlib
from dataclasses import dataclass
from functools import lru_cache

from dosewright.core.interop.card_format_toml import parse_card_format
from dosewright.core.interop.own_rules_toml import OwnBook, parse_own_rules
from dosewright.core.interop.profile_toml import parse_profile
from dosewright.core.interop.suitability_toml import parse_pairs, parse_rules
from dosewright.core.medicines.neighbours import PairRule
from dosewright.core.medicines.own_pairs import OwnPair, PairBook, laid_over
from dosewright.core.medicines.own_rules import OwnRule, overlaid
from dosewright.core.medicines.spacing import SpacingRule
from dosewright.core.medicines.suitability import Rules
from dosewright.core.packing.card_format import CardFormat
from dosewright.core.packing.profile import Profile
from dosewright.core.units.dosing_time import Timetable
from dosewright.store.missing import Missing
from dosewright.store.models import Pharmacy, RuleBook
from dosewright.store.people import save_timetable

__all__ = [
    "RuleTexts",
    "RulesInForce",
    "StoredPharmacy",
    "find_pharmacy",
    "load_pharmacy",
    "load_rule_texts",
    "load_rules",
    "lock_pharmacy",
    "save_pharmacy",
    "save_rules",
]


@dataclass(frozen=True, slots=True)
class RuleTexts:
    """The TOML texts, as the pharmacy keeps them: the profile, the card format; rules by form, by product, and about pairs; and its own
    rules, which are laid over all of those ("" where it has none)."""

    profile: str
    card_format: str
    forms: str
    products: str
    pairs: str
    own: str = ""

    @property
    def sha256(self) -> str:
        """One name for one wording of them all."""
        said = [getattr(self, name) for name in _TEXTS if name != "own" or self.own]  # without any of its own the name is as it always was
        return hashlib.sha256("\x1f".join(said).encode()).hexdigest()


_TEXTS = ("profile", "card_format", "forms", "products", "pairs", "own")


@dataclass(frozen=True, slots=True)
class RulesInForce:
    """The same, read: `suitability`, `pairs` and `spacings` are what counts, `shipped` and `shipped_pairs` without the pharmacy's `own` and
    `own_pairs` laid over them."""

    profile: Profile
    card_format: CardFormat
    suitability: Rules
    pairs: tuple[PairRule, ...]
    spacings: tuple[SpacingRule, ...]
    shipped: Rules
    own: tuple[OwnRule, ...]
    shipped_pairs: PairBook
    own_pairs: tuple[OwnPair, ...]

    @property
    def book(self) -> OwnBook:
        """All that is the pharmacy's own."""
        return OwnBook(self.own, self.own_pairs)

    @property
    def pair_book(self) -> PairBook:
        """The rules about two medicines that count."""
        return PairBook(self.pairs, self.spacings)


@dataclass(frozen=True, slots=True)
class StoredPharmacy:
    """Who supplies, where, and under which rules (the name of their wording)."""

    name: str
    address: str
    phone: str
    registration: str
    country: str
    salt: str
    rules: str


def save_pharmacy(pharmacy: StoredPharmacy, texts: RuleTexts, timetable: Timetable) -> None:
    """Set up or change the one pharmacy. Raises what the parsers raise for a text that they cannot read."""
    _parse(texts)
    save_timetable("pharmacy", timetable)
    said = {name: getattr(texts, name) for name in _TEXTS}
    book, _ = RuleBook.objects.get_or_create(sha256=texts.sha256, defaults=said)
    kept = {name: getattr(pharmacy, name) for name in ("name", "address", "phone", "registration", "country", "salt")}
    Pharmacy.objects.update_or_create(id=1, defaults={**kept, "rules": book, "timetable_id": "pharmacy"})


def save_rules(texts: RuleTexts) -> str:
    """From now on the pharmacy works by these texts; sets planned before keep theirs. The name of their wording."""
    _parse(texts)
    book, _ = RuleBook.objects.get_or_create(sha256=texts.sha256, defaults={name: getattr(texts, name) for name in _TEXTS})
    Pharmacy.objects.filter(id=1).update(rules=book)
    return book.pk


def load_rule_texts(sha256: str) -> RuleTexts:
    """The texts of one wording. Raises Missing."""
    row = RuleBook.objects.filter(sha256=sha256).first()
    if row is None:
        raise Missing("rules", sha256)
    return RuleTexts(**{name: getattr(row, name) for name in _TEXTS})


def find_pharmacy() -> StoredPharmacy | None:
    """The pharmacy, or None before anything is set up."""
    row = Pharmacy.objects.filter(id=1).first()
    return _pharmacy(row) if row else None


def load_pharmacy() -> StoredPharmacy:
    """Raises Missing before anything is set up."""
    return _pharmacy(Pharmacy.objects.filter(id=1).first())


def lock_pharmacy() -> StoredPharmacy:
    """The same, other stations kept from bringing in orders or medicines until the transaction ends. Raises Missing."""
    return _pharmacy(Pharmacy.objects.select_for_update(of=("self",)).filter(id=1).first())


def _pharmacy(row: Pharmacy | None) -> StoredPharmacy:
    if row is None:
        raise Missing("pharmacy", "here")
    return StoredPharmacy(row.name, row.address, row.phone, row.registration, row.country, row.salt, row.rules_id)


@lru_cache(maxsize=16)
def load_rules(sha256: str) -> RulesInForce:
    """The rules of one wording; a wording never changes, so it is read once. Raises Missing."""
    return _parse(load_rule_texts(sha256))


def _parse(texts: RuleTexts) -> RulesInForce:
    rules, pairs, own = parse_rules(texts.forms, texts.products), PairBook(*parse_pairs(texts.pairs)), parse_own_rules(texts.own)
    counting = laid_over(pairs, own.pairs)
    return RulesInForce(
        profile=parse_profile(texts.profile),
        card_format=parse_card_format(texts.card_format),
        suitability=overlaid(rules, own.rules),
        pairs=counting.apart,
        spacings=counting.spacing,
        shipped=rules,
        own=own.rules,
        shipped_pairs=pairs,
        own_pairs=own.pairs,
    )

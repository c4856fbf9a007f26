"""Files of rules about medicines → values. In: TOML text of forms, products, pairs. Out: rules with their sources, or one sentence."""

from collections.abc import Iterable

from dosewright.core.interop.toml_text import TomlTable, parse_toml
from dosewright.core.medicines.flags import FLAGS
from dosewright.core.medicines.food import FoodRelation, FoodRule
from dosewright.core.medicines.neighbours import PairRule
from dosewright.core.medicines.rule_codes import HAZARDOUS, known_code, limit_of
from dosewright.core.medicines.spacing import SpacingRule
from dosewright.core.medicines.substances import Blend, DailyMaximum
from dosewright.core.medicines.suitability import STANDING_OF, Rule, Rules, Standing

__all__ = ["parse_pairs", "parse_rules"]

_EVIDENCE = ("retrieved", "memory", "proposal")


def parse_rules(forms: str, products: str) -> Rules:
    """Rules by form and flag from one file, by product from the other. Raises TomlError, also for a form, flag or id that comes twice."""
    file, named = parse_toml(forms), parse_toml(products)
    form_tables, flag_tables, product_tables = file.tables("form"), file.tables("flag"), named.tables("product")
    blend_tables, maximum_tables, food_tables = (named.tables(name) for name in ("blend", "daily_maximum", "food"))
    file.require_all_known()
    named.require_all_known()
    _require_own_ids([*form_tables, *flag_tables, *product_tables, *blend_tables, *maximum_tables, *food_tables])
    by_form, by_word, made_of = _forms(form_tables)
    return Rules(
        by_form,
        by_word,
        made_of,
        _flags(flag_tables),
        products=tuple(_product(table) for table in product_tables),
        blends=tuple(_blend(table) for table in blend_tables),
        maxima=tuple(_maximum(table) for table in maximum_tables),
        foods=tuple(_food(table) for table in food_tables),
    )


def parse_pairs(text: str) -> tuple[tuple[PairRule, ...], tuple[SpacingRule, ...]]:
    """What may not share a cavity, and what must be apart in time. Raises TomlError."""
    file = parse_toml(text)
    apart, spacing = file.tables("apart"), file.tables("spacing")
    file.require_all_known()
    _require_own_ids([*apart, *spacing])
    return tuple(_pair(table) for table in apart), tuple(_spacing(table) for table in spacing)


def _require_own_ids(tables: Iterable[TomlTable]) -> None:
    seen: set[str] = set()
    for table in tables:
        if (name := table.text("id")) in seen:
            raise table.fault("id", f"must be its own; {name} stands twice")
        seen.add(name)


def _forms(tables: Iterable[TomlTable]) -> tuple[dict[str, Rule], dict[str, Rule], tuple[tuple[frozenset[str], Rule], ...]]:
    by_form: dict[str, Rule] = {}
    by_word: dict[str, Rule] = {}
    made_of: list[tuple[frozenset[str], Rule]] = []
    for table in tables:
        forms, words, only = (table.texts(key) if table.has(key) else () for key in ("forms", "words", "only_words"))
        rule = _rule(table)
        made_of += [(frozenset(only), rule)] if only else []
        for key, into, names in (("forms", by_form, forms), ("words", by_word, words)):
            for name in names:
                if name in into:
                    raise table.fault(key, f"must not repeat {name!r}, which {into[name].id} has")
                into[name] = rule
    return by_form, by_word, tuple(made_of)


def _flags(tables: Iterable[TomlTable]) -> dict[str, Rule]:
    found: dict[str, Rule] = {}
    for table in tables:
        flag = table.choice("flag", *sorted(FLAGS))
        if flag in found:
            raise table.fault("flag", f"must not repeat {flag!r}, which {found[flag].id} has")
        found[flag] = _rule(table)
    return found


def _product(table: TomlTable) -> Rule:
    names, forms = table.texts("names"), table.texts("forms") if table.has("forms") else ()
    return _rule(table, names, forms)


def _rule(table: TomlTable, names: tuple[str, ...] = (), forms: tuple[str, ...] = ()) -> Rule:
    codes = table.texts("codes")
    for code in codes:
        if not known_code(code):
            raise table.fault("codes", f"must be of X, XD, S, H, W, ok or T with days such as T30, not {code!r}")
    made = Rule(
        id=table.text("id"),
        standing=max((STANDING_OF[code] for code in codes if code in STANDING_OF), default=Standing.FITS),
        why=table.text("id"),
        **_cited(table),
        limit_days=limit_of(codes),
        hazardous=HAZARDOUS in codes,
        weekly=table.flag("weekly") if table.has("weekly") else False,
        asks=table.flag("asks") if table.has("asks") else True,
        names=names,
        forms=forms,
        medicines=(),
    )
    table.require_all_known()
    return made


def _cited(table: TomlTable) -> dict[str, str]:
    texts = {key: table.text(key) for key in ("reason", "source", "dated")}
    return {**texts, "evidence": table.choice("evidence", *_EVIDENCE)}


def _blend(table: TomlTable) -> Blend:
    cited = {"source": table.text("source"), "dated": table.text("dated"), "evidence": table.choice("evidence", *_EVIDENCE)}
    made = Blend(id=table.text("id"), name=table.text("name"), substances=table.texts("substances"), **cited)
    table.require_all_known()
    return made


def _maximum(table: TomlTable) -> DailyMaximum:
    made = DailyMaximum(id=table.text("id"), names=table.texts("names"), milligrams=table.amount("mg_a_day"), **_cited(table))
    table.require_all_known()
    return made


def _food(table: TomlTable) -> FoodRule:
    relation = FoodRelation(table.choice("relation", *(one.value for one in FoodRelation)))
    made = FoodRule(id=table.text("id"), names=table.texts("names"), relation=relation, **_cited(table))
    table.require_all_known()
    return made


def _pair(table: TomlTable) -> PairRule:
    one, other = table.texts("one"), table.texts_or_none("other")
    made = PairRule(id=table.text("id"), one=one, other=other, **_cited(table))
    table.require_all_known()
    return made


def _spacing(table: TomlTable) -> SpacingRule:
    made = SpacingRule(
        id=table.text("id"),
        one=table.texts("one"),
        other=table.texts_or_none("other"),
        before=table.whole("before_minutes"),
        after=table.whole("after_minutes"),
        **_cited(table),
    )
    table.require_all_known()
    return made

"""The file of what is known about medicines' times of day → values. In: TOML text. Out: rules with their sources, or one sentence."""

from dosewright.core.interop.toml_text import TomlTable, parse_toml
from dosewright.core.medicines.time_of_day import MealRelation, OwnTime, Saying, TimeRules, Window

__all__ = ["parse_time_rules"]

_EVIDENCE = ("retrieved", "memory", "proposal")
_ABOUT = ("critical", "daily", "often")
_LONGEST_WINDOW = 720  # minutes: half a day either way is no window any more


def parse_time_rules(text: str) -> TimeRules:
    """All lines of the file. Raises TomlError, also for an id or a kind of window that comes twice, and for a kind that is missing."""
    file = parse_toml(text)
    windows, own, sayings, timely = file.tables("window"), file.tables("own_time"), file.tables("saying"), file.table("timely")
    made = TimeRules(
        own=tuple(_own(table) for table in own),
        windows=tuple(_window(table) for table in windows),
        sayings=tuple(_saying(table) for table in sayings),
        timely=timely.texts("words"),
    )
    timely.require_all_known()
    file.require_all_known()
    seen: set[str] = set()
    for table, key in ((table, key) for tables, key in ((windows, "about"), (own, "id"), (sayings, "id")) for table in tables):
        if (name := table.text(key)) in seen:
            raise table.fault(key, f"must be its own; {name} stands twice")
        seen.add(name)
    if missing := [about for about in _ABOUT if made.window(about) is None]:
        raise file.fault("window", f"must have a line about {missing[0]}")
    return made


def _window(table: TomlTable) -> Window:
    minutes = table.whole("minutes")
    if minutes > _LONGEST_WINDOW:
        raise table.fault("minutes", f"must be {_LONGEST_WINDOW} or fewer")
    about = table.choice("about", *_ABOUT)
    made = Window(table.text("id"), about, minutes, table.text("source"), table.text("dated"), table.choice("evidence", *_EVIDENCE))
    table.require_all_known()
    return made


def _own(table: TomlTable) -> OwnTime:
    said = {key: table.text(key) for key in ("id", "reason", "source", "dated")}
    evidence = table.choice("evidence", *_EVIDENCE)
    made = OwnTime(names=table.texts("names"), critical=table.flag("critical"), evidence=evidence, **said)
    table.require_all_known()
    return made


def _saying(table: TomlTable) -> Saying:
    relation = MealRelation(table.choice("relation", *(one.value for one in MealRelation)))
    evidence = table.choice("evidence", *_EVIDENCE)
    made = Saying(table.text("id"), table.texts("words"), relation, table.flag("opens"), table.text("source"), evidence)
    table.require_all_known()
    return made

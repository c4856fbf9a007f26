"""One line of the card format or of the profile is changed: a measure, a limit, a field's standing; its source stands in the same line."""

from dataclasses import replace

from dosewright.actions.doing import doing
from dosewright.actions.mark_resting_on import mark_resting_on
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.correcting import check_something_changed
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.rights import Ability
from dosewright.core.custody.stage import LEFT_THE_PHARMACY, OVER, Stage
from dosewright.core.interop.toml_line import TomlLine, replaced, toml_lines
from dosewright.core.interop.toml_text import TomlError
from dosewright.core.units.finding import Finding, Severity
from dosewright.store.cards_on import lock_cards_at
from dosewright.store.ledger import append_entry
from dosewright.store.missing import Missing
from dosewright.store.pharmacy import RuleTexts, load_rule_texts, lock_pharmacy, save_rules

__all__ = ["FILES", "STILL_HERE", "change_setting", "setting_lines"]

FILES = {"format": "card_format", "profile": "profile"}
STILL_HERE = frozenset(Stage) - LEFT_THE_PHARMACY - OVER


def setting_lines(which: str, texts: RuleTexts) -> tuple[TomlLine, ...]:
    """Every line of the card format or the profile that gives a value. Raises Missing for another file."""
    if which not in FILES:
        raise Missing("settings", which)
    return toml_lines(getattr(texts, FILES[which]))


@doing(Ability.CHANGE_FORMAT, "settings")
def change_setting(which: str, on: Occasion, number: int, value: str, reason: str) -> Outcome:
    """The line says so from now on. Cards that left keep what they were planned by. Every card still here was planned by the old line, and
    perhaps printed: it is out of date until a pharmacist decides (R9)."""
    texts = load_rule_texts(lock_pharmacy().rules)
    line = next((one for one in setting_lines(which, texts) if one.number == number), None)
    if line is None:
        raise Missing("line", str(number))
    changed = (f"{_name(line)}: {line.value} → {value.strip()}",) if value.strip() != line.value else ()
    if findings := check_something_changed(changed, reason):
        return not_done(findings)
    try:
        named = save_rules(replace(texts, **{FILES[which]: replaced(getattr(texts, FILES[which]), number, value)}))
    except TomlError as error:
        return not_done((_wrong(which, line, str(error)),))
    except ValueError:
        return not_done((Finding("custody.setting-not-one", Severity.STOP, {"file": which, "line": number, "field": _name(line)}),))
    append_entry(on, "settings changed", ("settings", which), {"changes": changed, "why": reason.strip(), "rules": named})
    return done(mark_resting_on(lock_cards_at(STILL_HERE), on, f"the {_WORDS[which]}", changed, reason.strip()))


_WORDS = {"format": "card format", "profile": "profile"}


def _name(line: TomlLine) -> str:
    return f"{line.section}.{line.key}" if line.section else line.key


def _wrong(which: str, line: TomlLine, why: str) -> Finding:
    return Finding("custody.setting-wrong", Severity.STOP, {"file": which, "line": line.number, "field": _name(line)}, {"why": why})

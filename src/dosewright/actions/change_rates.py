"""The pharmacy's own figures for what it costs to put a card right."""

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.rights import Ability
from dosewright.core.interop.rework_rates_toml import parse_rates
from dosewright.core.interop.toml_text import TomlError
from dosewright.core.units.finding import Finding, Severity
from dosewright.store.changes import save_rates_text
from dosewright.store.ledger import append_entry

__all__ = ["change_rates"]


@doing(Ability.CHANGE_RATES, "rates")
def change_rates(name: str, on: Occasion, text: str) -> Outcome:
    """They count from the next look at any change on; "" goes back to those that ship. A text that cannot be read changes nothing."""
    try:
        if text.strip():
            parse_rates(text)
    except TomlError as error:
        return not_done((Finding("change.rates-unreadable", Severity.STOP, facts={"why": f"{error}"}),))
    save_rates_text(text.strip(), on)
    append_entry(on, "figures for rework changed", ("rates", name), {"text": text.strip()})
    return done()

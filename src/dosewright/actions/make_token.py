"""Another program may act in somebody's name from now on."""

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.rights import Ability
from dosewright.core.custody.tokens import TokenAsk, check_token_ask
from dosewright.core.units.finding import Fact, blocks
from dosewright.store.accounts import home_is_known
from dosewright.store.api_tokens import save_token
from dosewright.store.calendar import wall_day
from dosewright.store.ledger import append_entry

__all__ = ["make_token"]


@doing(Ability.MAKE_TOKEN, "token")
def make_token(name: str, on: Occasion, ask: TokenAsk, token_hash: str) -> Outcome:
    """The token counts, with the rights asked for and no others. Only its hash is kept, and the ledger has neither. `made`: its id."""
    known = ask.home is not None and home_is_known(ask.home)
    findings = check_token_ask(ask, on.by, wall_day(on.at), home_known=known)
    if blocks(findings) or ask.acts_for is None:
        return not_done(findings)
    token = str(save_token(ask, ask.acts_for, token_hash, on))
    said: dict[str, Fact] = {"name": name, "acts for": ask.acts_for.id, "as": ask.acts_for.name}
    facts: dict[str, Fact] = {**said, "may": tuple(sorted(ask.abilities)), "home": ask.home, "until": ask.until}
    append_entry(on, "token made", ("token", token), facts)
    return done(findings, token)

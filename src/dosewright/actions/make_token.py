"""Another program may act in somebody's name from now on."""

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.rights import Ability
from dosewright.core.custody.tokens import Maker, TokenAsk, check_in_force, check_maker, check_token_ask
from dosewright.core.units.finding import Fact, Finding, Severity, blocks
from dosewright.store.accounts import home_is_known
from dosewright.store.api_tokens import hash_is_known, lock_token, save_token
from dosewright.store.calendar import wall_day
from dosewright.store.ledger import append_entry

__all__ = ["make_token"]


@doing(Ability.MAKE_TOKEN, "token")
def make_token(name: str, on: Occasion, ask: TokenAsk, token_hash: str, maker: int | None = None) -> Outcome:
    """The token counts, with the rights asked for and no others. Only its hash is kept, and the ledger has neither. `made`: its id.

    `maker`: the token by which a program asks. It gives no more than it has, and what it made ends with it."""
    known = ask.home is not None and home_is_known(ask.home)
    findings = check_token_ask(ask, on.by, wall_day(on.at), home_known=known)
    findings += _check_made(ask, token_hash, on, maker) if maker is not None else ()
    if blocks(findings) or ask.acts_for is None:
        return not_done(findings)
    token = str(save_token(ask, ask.acts_for, token_hash, on, maker))
    said: dict[str, Fact] = {"name": name, "acts for": ask.acts_for.id, "as": ask.acts_for.name}
    facts: dict[str, Fact] = {**said, "may": tuple(sorted(ask.abilities)), "home": ask.home, "until": ask.until}
    append_entry(on, "token made", ("token", token), {**facts, "made by": maker} if maker is not None else facts)
    return done(findings, token)


def _check_made(ask: TokenAsk, token_hash: str, on: Occasion, maker: int) -> tuple[Finding, ...]:
    """The maker is looked at once more where nobody else can change it: it may have been revoked since the request was let in."""
    by = lock_token(maker)
    over = check_in_force(revoked=by.revoked_at is not None, until=by.until, today=wall_day(on.at), account_open=by.account_open)
    used = (Finding("custody.key-used", Severity.STOP),) if hash_is_known(token_hash) else ()
    return over + used + check_maker(ask, Maker(by.actor.id, by.abilities, by.actor.home, by.until))

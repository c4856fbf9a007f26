"""Somebody new signs in from now on."""

from dosewright.actions.doing import doing
from dosewright.actions.outcome import Outcome, done, not_done
from dosewright.core.custody.accounts import check_account, check_namesake, check_password
from dosewright.core.custody.event import Occasion
from dosewright.core.custody.rights import Ability
from dosewright.core.units.finding import Fact, blocks
from dosewright.store.accounts import NewAccount, home_is_known, load_accounts, lock_account, save_account, weaknesses
from dosewright.store.ledger import append_entry

__all__ = ["add_account"]


@doing(Ability.SET_UP, "account")
def add_account(username: str, on: Occasion, who: NewAccount, password: str) -> Outcome:
    """The account is there, with its role. The password is kept as an argon2 hash only, and is not in the ledger."""
    taken = lock_account(username) is not None
    has_home = who.home is not None and home_is_known(who.home)
    findings = check_account(who.name, who.role, taken=taken, has_home=has_home) + check_password(weaknesses(password, who))
    findings += check_namesake(who.name, (one.name for one in load_accounts()), who.another_because)
    if blocks(findings):
        return not_done(findings)
    actor = save_account(who, password)
    facts: dict[str, Fact] = {"username": username, "name": who.name, "role": who.role.value, "home": who.home}
    namesake: dict[str, Fact] = {"another person because": why} if (why := who.another_because.strip()) else {}
    append_entry(on, "account added", ("account", actor.id), facts | namesake)
    return done(findings, actor.id)

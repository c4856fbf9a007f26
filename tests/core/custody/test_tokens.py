"""R14: nobody gives a program what they or the person it acts for may not do, and nobody lets it sign in somebody else's name."""

from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from dosewright.core.custody.event import Actor, Role
from dosewright.core.custody.rights import RIGHTS, Ability
from dosewright.core.custody.tokens import GIVEN, LONGEST, Maker, TokenAsk, check_in_force, check_maker, check_token_ask, givable, signs
from dosewright.core.paper.say import say
from dosewright.core.units.finding import blocks
from dosewright.core.units.ids import HomeId

TODAY = date(2026, 3, 2)
# What is somebody's own at the bench: a badge and PIN; and what is only looked at there.
BENCH_ONLY = {Ability.OWN_BADGE, Ability.LOOK_AT_HOME, Ability.LOOK_AT_LEDGER, Ability.INSPECT}
ROLES = st.sampled_from(list(Role))
ASKS = st.builds(
    TokenAsk,
    name=st.sampled_from(["records system", " "]),
    acts_for=st.builds(Actor, st.sampled_from(["1", "2"]), st.just("Priya Raman"), ROLES, st.sampled_from([None, HomeId("lindens")])),
    abilities=st.frozensets(st.sampled_from(list(Ability)), max_size=4),
    home=st.sampled_from([None, HomeId("lindens"), HomeId("saltmarsh")]),
    until=st.dates(TODAY - timedelta(days=9), TODAY + timedelta(days=500)),
)


@given(ASKS, st.sampled_from([Role.PHARMACIST, Role.MANAGER]))
def test_what_is_made_is_within_the_rights_of_the_person_and_signs_for_nobody_else(ask: TokenAsk, role: Role) -> None:
    """The other way round: whatever passes the check is recounted here against the table of rights."""
    assert ask.acts_for is not None
    findings = check_token_ask(ask, Actor("1", "Priya Raman", role), TODAY, home_known=True)
    assert all(say(finding) for finding in findings)
    if blocks(findings):
        return
    assert ask.abilities
    assert all(ask.acts_for.role in RIGHTS[ability] for ability in ask.abilities)
    assert not ask.abilities & BENCH_ONLY
    assert ask.acts_for.id == "1" or all(not RIGHTS[ability] <= {Role.PHARMACIST, Role.CHECKER} for ability in ask.abilities)
    assert ask.home is None or ask.acts_for.home in {None, ask.home}
    assert TODAY <= ask.until <= TODAY + LONGEST


def test_what_is_asked_for_rightly_is_made() -> None:
    priya = Actor("1", "Priya Raman", Role.PHARMACIST)
    mine = TokenAsk("records system", priya, frozenset(givable(Role.PHARMACIST)), None, TODAY + LONGEST)
    assert check_token_ask(mine, priya, TODAY, home_known=False) == ()
    tess = Actor("2", "Tess Aldous", Role.TECHNICIAN)
    hers = TokenAsk("counter", tess, frozenset({Ability.LOOK, Ability.RECEIVE_STOCK}), HomeId("lindens"), TODAY)
    assert check_token_ask(hers, priya, TODAY, home_known=True) == ()


def test_an_account_that_is_not_there_gets_no_token() -> None:
    ask = TokenAsk("records system", None, frozenset({Ability.LOOK}), None, TODAY)
    findings = check_token_ask(ask, Actor("1", "Priya Raman", Role.PHARMACIST), TODAY, home_known=False)
    assert [finding.code for finding in findings] == ["custody.token-for-nobody"]


def test_only_what_checkers_and_pharmacists_may_signs() -> None:
    assert signs(Ability.RELEASE_CARD)
    assert signs(Ability.CHECK_CARD)
    assert not signs(Ability.PLACE_MEDICINE)
    assert {ability for role in Role for ability in givable(role)} == GIVEN
    assert not GIVEN & BENCH_ONLY


@given(
    ASKS,
    st.builds(
        Maker,
        acts_for=st.sampled_from(["1", "2"]),
        abilities=st.frozensets(st.sampled_from(list(Ability)), min_size=len(Ability) - 3),
        home=st.sampled_from([None, HomeId("lindens")]),
        until=st.dates(TODAY, TODAY + timedelta(days=366)),
    ),
)
def test_a_program_makes_no_token_with_more_rights_homes_days_or_names_than_its_own(ask: TokenAsk, maker: Maker) -> None:
    """Counted here the other way round: what the new token may at all, the maker must have been able to do."""
    assert ask.acts_for is not None
    found = check_maker(ask, maker)
    assert all(say(finding) for finding in found)
    within = ask.abilities <= maker.abilities and ask.until <= maker.until and ask.acts_for.id == maker.acts_for
    homes = {None, "lindens", "saltmarsh"}
    reached = homes if ask.home is None else {ask.home}
    may = homes if maker.home is None else {maker.home}
    assert (not found) is (within and reached <= may)


@given(revoked=st.booleans(), days=st.integers(-3, 3), account_open=st.booleans())
def test_a_token_counts_until_the_end_of_its_last_day_and_no_longer(*, revoked: bool, days: int, account_open: bool) -> None:
    found = check_in_force(revoked=revoked, until=TODAY + timedelta(days=days), today=TODAY, account_open=account_open)
    assert (found == ()) is (not revoked and days >= 0 and account_open)

"""R14: a user does only what their role and their home allow. One table; what it says about each role is said here again, by hand."""

import pytest

from dosewright.core.custody.event import Actor, Role
from dosewright.core.custody.rights import RIGHTS, Ability, check_home, check_right
from dosewright.core.units.ids import HomeId


def somebody(role: Role, home: str | None = None) -> Actor:
    return Actor("1", "R. Tamm", role, HomeId(home) if home else None)


def test_every_ability_has_its_line_and_every_line_somebody() -> None:
    assert set(RIGHTS) == set(Ability)
    assert all(RIGHTS.values())


def test_r8_only_a_pharmacist_releases_confirms_stops_withdraws_and_decides() -> None:
    for ability in (
        Ability.RELEASE_CARD,
        Ability.CONFIRM_READING,
        Ability.REJECT_ORDER,
        Ability.REMEMBER_WORDING,
        Ability.REVOKE_WORDING,
        Ability.STOP_ORDER,
        Ability.CHANGE_RULE,
        Ability.WITHDRAW_CARD,
        Ability.DECIDE_CARD,
    ):
        assert RIGHTS[ability] == {Role.PHARMACIST}


def test_technicians_do_not_check_and_managers_do_not_fill() -> None:
    assert Role.TECHNICIAN not in RIGHTS[Ability.CHECK_CARD]
    assert Role.MANAGER not in RIGHTS[Ability.PLACE_MEDICINE]


def test_an_inspector_looks_at_everything_and_changes_nothing() -> None:
    assert {ability for ability in Ability if Role.INSPECTOR in RIGHTS[ability]} == {Ability.LOOK, Ability.INSPECT, Ability.LOOK_AT_LEDGER}


def test_carers_and_drivers_do_not_look_into_the_pharmacy() -> None:
    assert {ability for ability in Ability if Role.CARER in RIGHTS[ability]} == {
        Ability.RECEIVE_CARD,
        Ability.LOOK_AT_HOME,
        Ability.OWN_BADGE,
    }
    assert Ability.LOOK not in {ability for ability in Ability if Role.DRIVER in RIGHTS[ability]}


@pytest.mark.parametrize("ability", Ability)
@pytest.mark.parametrize("role", Role)
def test_whoever_may_not_is_told_so(role: Role, ability: Ability) -> None:
    found = [finding.code for finding in check_right(somebody(role), ability)]
    assert found == ([] if role in RIGHTS[ability] else ["custody.no-right"])


def test_a_homes_people_see_their_home_only_and_the_pharmacys_people_every_home() -> None:
    lindens = somebody(Role.CARER, "lindens")
    assert check_home(lindens, HomeId("lindens")) == ()
    assert [finding.code for finding in check_home(lindens, HomeId("saltmarsh"))] == ["custody.other-home"]
    assert [finding.code for finding in check_home(lindens, None)] == ["custody.other-home"]
    assert check_home(somebody(Role.PHARMACIST), HomeId("saltmarsh")) == ()

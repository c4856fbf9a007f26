"""May this account be made?"""

from collections.abc import Iterator, Sequence

from dosewright.core.custody.event import Role
from dosewright.core.units.finding import Finding, Severity

__all__ = ["check_account", "check_password"]


def check_account(name: str, role: Role, *, taken: bool, has_home: bool) -> tuple[Finding, ...]:
    """Find a username that is taken, a missing printed name, and a carer of no known home."""
    return tuple(_check(name, role, taken=taken, has_home=has_home))


def _check(name: str, role: Role, *, taken: bool, has_home: bool) -> Iterator[Finding]:
    if taken:
        yield Finding("custody.account-taken", Severity.STOP)
    if not name.strip():
        yield Finding("custody.nobody-named", Severity.STOP)
    if role is Role.CARER and not has_home:
        yield Finding("custody.carer-needs-home", Severity.STOP)


def check_password(weaknesses: Sequence[str]) -> tuple[Finding, ...]:
    """A stop for a password that is too weak, with what is wrong with it."""
    return (Finding("custody.weak-password", Severity.STOP, facts={"why": tuple(weaknesses)}),) if weaknesses else ()

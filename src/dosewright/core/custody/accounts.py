"""May this account be made?"""

import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from dosewright.core.custody.event import Role
from dosewright.core.units.finding import Finding, Severity

__all__ = ["check_account", "check_namesake", "check_password", "check_pin"]

_PIN = range(6, 13)  # digits; six and more: the least that a random secret of digits alone has in NIST SP 800-63B (from memory)


def check_account(name: str, role: Role, *, taken: bool, has_home: bool) -> tuple[Finding, ...]:
    """Find a username that is taken, a missing printed name, a carer of no known home, and a home for anybody else:
    their lists are the whole pharmacy's, so that a home would bound only a part of what they see."""
    return tuple(_check(name, role, taken=taken, has_home=has_home))


def _check(name: str, role: Role, *, taken: bool, has_home: bool) -> Iterator[Finding]:
    if taken:
        yield Finding("custody.account-taken", Severity.STOP)
    if not name.strip():
        yield Finding("custody.nobody-named", Severity.STOP)
    if role is Role.CARER and not has_home:
        yield Finding("custody.carer-needs-home", Severity.STOP)
    if role is not Role.CARER and has_home:
        yield Finding("custody.home-is-a-carer-s", Severity.STOP, facts={"role": role.value})


def check_namesake(name: str, known: Iterable[str], another_because: str) -> tuple[Finding, ...]:
    """A stop for a printed name that an account bears already, closed or not, where nobody says why that is another person's.

    Who has two accounts fills by one and checks by the other (R8). Letter case, blanks and ways to write a letter make no other name."""
    if another_because.strip() or _bare(name) not in map(_bare, known):
        return ()
    return (Finding("custody.name-has-account", Severity.STOP),)


def _bare(name: str) -> str:
    return " ".join(unicodedata.normalize("NFKC", name).casefold().split())


def check_password(weaknesses: Sequence[str]) -> tuple[Finding, ...]:
    """A stop for a password that is too weak, with what is wrong with it."""
    return (Finding("custody.weak-password", Severity.STOP, facts={"why": tuple(weaknesses)}),) if weaknesses else ()


def check_pin(pin: str) -> tuple[Finding, ...]:
    """A stop for a PIN that a bystander would guess: too short or long, anything but digits 0 to 9, one digit again and again, a run."""
    digits = pin.isascii() and pin.isdigit()
    if not digits or len(pin) not in _PIN:
        return (Finding("custody.pin-not-digits", Severity.STOP, facts={"least": _PIN.start, "most": _PIN.stop - 1}),)
    steps = {(int(after) - int(before)) % 10 for before, after in pairwise(pin)}
    return (Finding("custody.pin-guessed", Severity.STOP),) if steps in ({0}, {1}, {9}) else ()

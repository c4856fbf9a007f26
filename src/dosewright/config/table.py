"""Every setting of the running system: its name in the environment, its default, what it means. Nothing else is read from outside."""

import os
from collections.abc import Mapping
from dataclasses import dataclass

__all__ = ["CONFIG", "Setting", "read_setting"]


@dataclass(frozen=True, slots=True)
class Setting:
    """One line of the table."""

    name: str
    default: str
    meaning: str


CONFIG: tuple[Setting, ...] = (
    Setting("DOSEWRIGHT_HOME", "var", "folder for the database file, the secret key and other things this pharmacy keeps"),
    Setting("DATABASE_URL", "", "postgres://… where several stations or processes write; empty: one SQLite file in DOSEWRIGHT_HOME"),
    Setting(
        "DOSEWRIGHT_SECRET_KEY",
        "",
        "signs sessions; empty: made at the first start, kept in DOSEWRIGHT_HOME for its owner only",
    ),
    Setting("DOSEWRIGHT_ADDRESS", "127.0.0.1", "address that `serve` listens on"),
    Setting("DOSEWRIGHT_PORT", "8000", "port that `serve` listens on"),
    Setting("DOSEWRIGHT_THREADS", "8", "requests answered at one time by one process"),
    Setting("DOSEWRIGHT_PROCESSES", "1", "processes that `serve` starts; more than one needs PostgreSQL"),
    Setting("DOSEWRIGHT_HOSTS", "localhost,127.0.0.1,[::1]", "names by which browsers may address the bench, parted by commas"),
    Setting("DOSEWRIGHT_HTTPS", "no", "yes: cookies travel by https only, and plain http is sent on to https"),
    Setting("DOSEWRIGHT_IDLE_MINUTES", "15", "minutes without a touch after which a bench locks itself"),
    Setting("DOSEWRIGHT_STATION_HOURS", "12", "hours for which badge and PIN do at a bench once somebody opened it with a password"),
    Setting("DOSEWRIGHT_LOCKOUT_TRIES", "5", "wrong passwords after which an account is locked"),
    Setting("DOSEWRIGHT_LOCKOUT_MINUTES", "15", "minutes for which it stays locked"),
    Setting("DOSEWRIGHT_TIMEZONE", "UTC", "the pharmacy's time zone, as the tz database names it"),
    Setting("DOSEWRIGHT_LANGUAGES", "", "languages beside English in which a reading to confirm is said: fr, es, de, parted by commas"),
    Setting("DOSEWRIGHT_CLOCK_DAYS", "0", "days by which the bench's clock is moved; for demonstrations and training only"),
    Setting("DOSEWRIGHT_DEBUG", "no", "yes: errors are shown in the browser; never where real people's data is"),
)


def read_setting(name: str, environment: Mapping[str, str] | None = None) -> str:
    """The value from the environment, or the default. Raises KeyError for a name that is not in the table."""
    default = {setting.name: setting.default for setting in CONFIG}[name]
    return (os.environ if environment is None else environment).get(name, "") or default

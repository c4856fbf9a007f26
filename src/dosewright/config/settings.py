"""Django's settings, made from the table in `dosewright.config.table`. One database, one pharmacy."""

from datetime import timedelta
from pathlib import Path
from typing import Any

import dj_database_url

from dosewright.config.secret import load_secret
from dosewright.config.table import read_setting
from dosewright.devices.clock import Clock, MovedClock, SystemClock


def _yes(name: str) -> bool:
    return read_setting(name).strip().lower() in {"1", "yes", "true", "on"}


def _database(url: str, folder: Path) -> dict[str, Any]:
    """PostgreSQL by its address, or the SQLite file of `folder`. Connections stay open: threads of the server keep theirs."""
    if not url:
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)  # people's data: nobody else on this machine looks in
    found: dict[str, Any] = {**dj_database_url.parse(url or f"sqlite:///{folder / 'dosewright.sqlite3'}")}
    found |= {"CONN_MAX_AGE": None, "CONN_HEALTH_CHECKS": True}
    if found["ENGINE"] == "django.db.backends.sqlite3":
        # Full sync: the last commit survives a power cut. Immediate: a transaction that will write waits at its start, not midway.
        found["OPTIONS"] = {
            "transaction_mode": "IMMEDIATE",
            "timeout": 20,  # seconds
            "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; PRAGMA foreign_keys=ON",
        }
    return found


HOME_FOLDER = Path(read_setting("DOSEWRIGHT_HOME")).absolute()
DEBUG = _yes("DOSEWRIGHT_DEBUG")
SECRET_KEY = load_secret(read_setting("DOSEWRIGHT_SECRET_KEY"), HOME_FOLDER)
ALLOWED_HOSTS = [name.strip() for name in read_setting("DOSEWRIGHT_HOSTS").split(",") if name.strip()]
DATABASES = {"default": _database(read_setting("DATABASE_URL"), HOME_FOLDER)}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "whitenoise.runserver_nostatic",
    "django.contrib.staticfiles",
    "axes",
    "django_htmx",
    "django_tasks",
    "django_tasks_db",
    "dosewright.store",
    "dosewright.web",
]
MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "dosewright.config.middleware.bench_middleware",
    "dosewright.config.middleware.policy_middleware",
    "axes.middleware.AxesMiddleware",
]
ROOT_URLCONF = "dosewright.config.urls"
WSGI_APPLICATION = "dosewright.config.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": ["django.template.context_processors.request", "django.contrib.messages.context_processors.messages"]
        },
    }
]

# Work that takes longer than a request may: kept in this same database, done by config.worker
TASKS = {"default": {"BACKEND": "django_tasks_db.DatabaseBackend", "QUEUES": ["default"]}}

# Who somebody is
AUTH_USER_MODEL = "store.Account"
AUTHENTICATION_BACKENDS = [
    "axes.backends.AxesStandaloneBackend",
    "django.contrib.auth.backends.ModelBackend",
    "dosewright.store.badges.BadgeBackend",
]
PASSWORD_HASHERS = ["django.contrib.auth.hashers.Argon2PasswordHasher", "django.contrib.auth.hashers.PBKDF2PasswordHasher"]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator", "OPTIONS": {"min_length": 12}},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
    {
        "NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator",
        "OPTIONS": {"user_attributes": ("username", "name")},
    },
]
AXES_FAILURE_LIMIT = int(read_setting("DOSEWRIGHT_LOCKOUT_TRIES"))
AXES_COOLOFF_TIME = timedelta(minutes=int(read_setting("DOSEWRIGHT_LOCKOUT_MINUTES")))
AXES_LOCKOUT_PARAMETERS = ["username"]  # every station of a pharmacy may share one network address
AXES_RESET_ON_SUCCESS = True
AXES_SENSITIVE_PARAMETERS = ["pin", "again", "theirs", "scan", "fields"]  # never kept with a failed try
AXES_ENABLE_ADMIN = False
AXES_VERBOSE = False
AXES_LOCKOUT_CALLABLE = "dosewright.config.lockout.locked_out"
SILENCED_SYSTEM_CHECKS = ["axes.W006"]  # locking by name alone is stricter at a shared address, not laxer
LOGIN_URL = "/sign-in"
LOGIN_REDIRECT_URL = "/"

# A bench locks at idle (web.bench_lock); its session, which a badge opens again, ends with the station's hours at the latest
BENCH_IDLE = timedelta(minutes=int(read_setting("DOSEWRIGHT_IDLE_MINUTES")))
BENCH_OPEN = timedelta(hours=int(read_setting("DOSEWRIGHT_STATION_HOURS")))
SESSION_ENGINE = "dosewright.store.sessions"
SESSION_COOKIE_AGE = int(BENCH_OPEN.total_seconds())
SESSION_EXPIRE_AT_BROWSER_CLOSE = True
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = "Strict"
CSRF_COOKIE_HTTPONLY = True
CSRF_COOKIE_SAMESITE = "Strict"
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = SECURE_SSL_REDIRECT = SECURE_HSTS_INCLUDE_SUBDOMAINS = _yes("DOSEWRIGHT_HTTPS")
SECURE_HSTS_SECONDS = 60 * 60 * 24 * 365 if _yes("DOSEWRIGHT_HTTPS") else 0
if SESSION_COOKIE_SECURE:  # a name by which browsers take the cookie from this very host only
    SESSION_COOKIE_NAME, CSRF_COOKIE_NAME = "__Host-session", "__Host-csrf"
SECURE_CONTENT_TYPE_NOSNIFF = True
SECURE_REFERRER_POLICY = "same-origin"
SECURE_CROSS_ORIGIN_OPENER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
DATA_UPLOAD_MAX_MEMORY_SIZE = 2 * 1024 * 1024  # bytes of form fields; files are bounded by the action that takes them
FILE_UPLOAD_MAX_MEMORY_SIZE = 2 * 1024 * 1024

# Language, day and clock
LANGUAGE_CODE = "en-gb"
USE_I18N = True
USE_TZ = True
TIME_ZONE = read_setting("DOSEWRIGHT_TIMEZONE")
BENCH_LANGUAGES = tuple(name.strip().lower() for name in read_setting("DOSEWRIGHT_LANGUAGES").split(",") if name.strip())
BENCH_CLOCK: Clock = MovedClock(SystemClock(), days=int(read_setting("DOSEWRIGHT_CLOCK_DAYS")))  # the one clock that requests carry

# Files the browser asks for
STATIC_URL = "static/"
STATIC_ROOT = HOME_FOLDER / "static"
STATIC_ROOT.mkdir(parents=True, exist_ok=True)  # files are served from the package; whitenoise warns where this folder is not there
WHITENOISE_USE_FINDERS = True
WHITENOISE_AUTOREFRESH = DEBUG

# No person's data in the log: only what went wrong, and where in the code
LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"plain": {"()": "dosewright.config.log_lines.PlainLines"}},
    "handlers": {"nowhere": {"class": "logging.NullHandler"}, "console": {"class": "logging.StreamHandler", "formatter": "plain"}},
    "root": {"handlers": ["console"], "level": "WARNING"},
    # Somebody who asks for another host's pages is answered with 400; a trace of it would only fill the log.
    "loggers": {"axes": {"level": "ERROR"}, "django.security.DisallowedHost": {"handlers": ["nowhere"], "propagate": False}},
}

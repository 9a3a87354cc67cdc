"""Django's settings: from the environment only, SQLite unless told otherwise.

HALEWRIGHT_HOME           folder for the database, the secret key and what is made ("var")
HALEWRIGHT_DATABASE_URL   another database, as a URL (postgres://…)
HALEWRIGHT_SECRET_KEY     the key that signs sessions; made and kept in HOME when not given
HALEWRIGHT_HOSTS          further names of this server, separated by commas
HALEWRIGHT_TLS            "1" when pages are served over TLS: cookies then never go in the clear
HALEWRIGHT_DEBUG          "1" for people who work on Halewright itself
"""

import os
from importlib.resources import files
from pathlib import Path

import dj_database_url

from halewright.web import secret


def _yes(name: str) -> bool:
    value = os.environ.get(name, "0")
    if value not in {"0", "1", ""}:
        message = f"{name} is “{value}”. Set it to 1 for yes, or leave it out for no."
        raise ValueError(message)
    return value == "1"


HOME = Path(os.environ.get("HALEWRIGHT_HOME", "var")).absolute()
TLS = _yes("HALEWRIGHT_TLS")
DEBUG = _yes("HALEWRIGHT_DEBUG")
HOME.mkdir(parents=True, exist_ok=True)
SECRET_KEY = os.environ.get("HALEWRIGHT_SECRET_KEY") or secret.kept(HOME / "secret-key")
ALLOWED_HOSTS = ["localhost", "127.0.0.1", "[::1]"] + [
    host.strip() for host in os.environ.get("HALEWRIGHT_HOSTS", "").split(",") if host.strip()
]

DATABASES = {
    "default": dj_database_url.config(
        env="HALEWRIGHT_DATABASE_URL",
        default=f"sqlite:///{HOME / 'halewright.sqlite3'}",
        conn_max_age=60,
        conn_health_checks=True,
    )
}
if DATABASES["default"]["ENGINE"] == "django.db.backends.sqlite3":
    # IMMEDIATE takes the write lock when a transaction begins: two devices that save at once
    # then wait for each other (up to `timeout` seconds) instead of one being turned away.
    DATABASES["default"]["OPTIONS"] = {
        "timeout": 10,
        "transaction_mode": "IMMEDIATE",
        "init_command": (
            "PRAGMA journal_mode=WAL; PRAGMA foreign_keys=ON; PRAGMA busy_timeout=10000; "
            "PRAGMA synchronous=FULL;"
        ),
    }

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "halewright.store",
    "halewright.web",
]
MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "halewright.web.middleware.ContentPolicy",
    "halewright.web.middleware.PersonalPagesNeedPrivacy",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.auth.middleware.LoginRequiredMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
]
ROOT_URLCONF = "halewright.web.urls"
WSGI_APPLICATION = "halewright.web.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
            ],
        },
    }
]

# The font is served from the package that carries it; no copy of it is kept with our own files.
STATICFILES_DIRS = [("fonts", str(files("fontpkg_atkinson_hyperlegible") / "files"))]
STATIC_URL = "/static/"
WHITENOISE_USE_FINDERS = True
WHITENOISE_AUTOREFRESH = DEBUG

AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator"},
    {
        "NAME": "django.contrib.auth.password_validation.MinimumLengthValidator",
        "OPTIONS": {"min_length": 12},
    },
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
    {"NAME": "django.contrib.auth.password_validation.NumericPasswordValidator"},
]
LOGIN_URL = "sign-in"

SESSION_COOKIE_AGE = 12 * 60 * 60
"""Half a day: a morning's preparation and the afternoon's session (common practice)."""
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = "Lax"
SESSION_COOKIE_SECURE = TLS
CSRF_COOKIE_HTTPONLY = True
CSRF_COOKIE_SAMESITE = "Lax"
CSRF_COOKIE_SECURE = TLS
CSRF_FAILURE_VIEW = "halewright.web.views.refusals.stale_form"
SECURE_CONTENT_TYPE_NOSNIFF = True
SECURE_REFERRER_POLICY = "same-origin"
SECURE_CROSS_ORIGIN_OPENER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
DATA_UPLOAD_MAX_MEMORY_SIZE = 20 * 1024 * 1024
MESSAGE_STORAGE = "django.contrib.messages.storage.session.SessionStorage"

LANGUAGE_CODE = "en-gb"
USE_I18N = True
USE_TZ = True
TIME_ZONE = os.environ.get("HALEWRIGHT_TIME_ZONE", "Europe/London")

# Request lines and errors only: no form, no parameter and no row is ever logged.
LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"plain": {"format": "%(asctime)s %(levelname)s %(name)s: %(message)s"}},
    "handlers": {"stderr": {"class": "logging.StreamHandler", "formatter": "plain"}},
    "root": {"handlers": ["stderr"], "level": "WARNING"},
    "loggers": {
        "django": {"handlers": ["stderr"], "level": "WARNING", "propagate": False},
        # A refused address may hold somebody's identifier, so only faults are told.
        "django.request": {"handlers": ["stderr"], "level": "ERROR", "propagate": False},
        "django.db.backends": {"handlers": [], "level": "CRITICAL", "propagate": False},
    },
}

# What this installation works with; tests name others.
HALEWRIGHT_PLANNER = "halewright.usecases.drafting"
HALEWRIGHT_IN_BACKGROUND = True

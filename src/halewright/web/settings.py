"""Django's settings: from the environment only, SQLite unless told otherwise."""

import os
from pathlib import Path

import dj_database_url

_HOME = Path(os.environ.get("HALEWRIGHT_HOME", "var")).absolute()
SECRET_KEY = os.environ.get("HALEWRIGHT_SECRET_KEY", "only-for-this-machine")
DEBUG = False
ALLOWED_HOSTS = ["localhost", "127.0.0.1", "[::1]"]
DATABASES = {
    "default": dj_database_url.config(
        env="HALEWRIGHT_DATABASE_URL", default=f"sqlite:///{_HOME / 'halewright.sqlite3'}"
    )
}
INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "halewright.store",
]
USE_TZ = True

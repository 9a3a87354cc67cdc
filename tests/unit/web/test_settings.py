import os
import subprocess
import sys
from importlib import resources
from pathlib import Path

import pytest
from django.contrib.staticfiles import finders
from django.db import connection

ASK = "from halewright.web import settings as s; print(s.{what})"


def _plain_environment() -> dict[str, str]:
    return {name: value for name, value in os.environ.items() if name != "HALEWRIGHT_DATABASE_URL"}


def _asked(what: str, tmp_path: Path, **environment: str) -> str:
    ran = subprocess.run(  # noqa: S603  our own interpreter
        [sys.executable, "-c", ASK.format(what=what)],
        env={**_plain_environment(), "HALEWRIGHT_HOME": str(tmp_path), **environment},
        capture_output=True,
        text=True,
        check=False,
    )
    return ran.stdout.strip() + ran.stderr


def test_one_variable_chooses_postgresql(tmp_path: Path) -> None:
    """The database is SQLite in the home folder unless one variable names another."""
    url = "postgres://hale@db.example:5432/hale"

    assert "sqlite3" in _asked("DATABASES['default']['ENGINE']", tmp_path)
    assert "postgresql" in _asked(
        "DATABASES['default']['ENGINE']", tmp_path, HALEWRIGHT_DATABASE_URL=url
    )


def test_nonsense_is_refused_in_words(tmp_path: Path) -> None:
    """A yes-or-no setting takes no third word."""
    assert "Set it to 1 for yes" in _asked("TLS", tmp_path, HALEWRIGHT_TLS="perhaps")


def test_cookies_are_secure_under_tls(tmp_path: Path) -> None:
    """Under TLS neither cookie ever goes in the clear."""
    what = "SESSION_COOKIE_SECURE and s.CSRF_COOKIE_SECURE and s.SESSION_COOKIE_HTTPONLY"

    assert _asked(what, tmp_path, HALEWRIGHT_TLS="1") == "True"


@pytest.mark.django_db
def test_sqlite_keeps_foreign_keys_and_waits_for_others() -> None:
    """Broken links are refused, and two devices that save at once wait for each other."""
    if connection.vendor != "sqlite":
        pytest.skip("PostgreSQL does both by itself.")
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA foreign_keys")
        keys = cursor.fetchone()
        cursor.execute("PRAGMA busy_timeout")
        waits = cursor.fetchone()

    assert (keys, waits) == ((1,), (10000,))


def test_the_font_comes_from_the_package_that_carries_it() -> None:
    """The low-vision font is found, and no copy of it lies among our own files."""
    found = finders.find("fonts/AtkinsonHyperlegible-Regular.ttf")

    assert found is not None
    assert "fontpkg" in str(found)
    static = resources.files("halewright.web").joinpath("static")
    assert not list(Path(str(static)).rglob("*.ttf"))

import sqlite3
import threading
from contextlib import closing
from pathlib import Path

import pytest
from django.conf import settings as django_settings

NOTE = "INSERT INTO note (said) VALUES (?)"


def test_two_devices_that_save_at_once_lose_nothing(tmp_path: Path) -> None:
    """With the pragmas that the settings give, writers wait for each other and all is kept."""
    options = django_settings.DATABASES["default"].get("OPTIONS", {})
    if "init_command" not in options:
        pytest.skip("PostgreSQL does this by itself.")
    path = tmp_path / "two.sqlite3"
    with closing(sqlite3.connect(path)) as first:
        first.executescript(options["init_command"])
        first.execute("CREATE TABLE note (said TEXT)")
        first.commit()

    def save(who: str) -> None:
        link = sqlite3.connect(path, timeout=options["timeout"], isolation_level=None)
        link.executescript(options["init_command"])
        for turn in range(50):
            link.execute(f"BEGIN {options['transaction_mode']}")
            link.execute(NOTE, (f"{who} {turn}",))
            link.execute("COMMIT")
        link.close()

    writers = [threading.Thread(target=save, args=(who,)) for who in ("hall", "table")]
    for writer in writers:
        writer.start()
    for writer in writers:
        writer.join()

    with closing(sqlite3.connect(path)) as last:
        assert last.execute("SELECT count(*) FROM note").fetchone() == (100,)
        assert last.execute("PRAGMA journal_mode").fetchone() == ("wal",)

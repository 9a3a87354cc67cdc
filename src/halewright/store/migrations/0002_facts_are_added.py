"""Triggers that keep health facts as they were recorded, on SQLite and on PostgreSQL."""

from typing import Any

from django.db import migrations

WORDS = "Health facts are added, never changed or removed."

SQLITE = (
    f"""
    CREATE TRIGGER healthfact_no_update BEFORE UPDATE ON store_healthfact
    BEGIN SELECT RAISE(ABORT, '{WORDS}'); END;
    """,
    f"""
    CREATE TRIGGER healthfact_no_delete BEFORE DELETE ON store_healthfact
    BEGIN SELECT RAISE(ABORT, '{WORDS}'); END;
    """,
)
POSTGRES = (
    f"""
    CREATE FUNCTION healthfact_is_added() RETURNS trigger AS $$
    BEGIN RAISE EXCEPTION '{WORDS}'; END;
    $$ LANGUAGE plpgsql;
    """,
    """
    CREATE TRIGGER healthfact_no_change BEFORE UPDATE OR DELETE ON store_healthfact
    FOR EACH ROW EXECUTE FUNCTION healthfact_is_added();
    """,
)
SQLITE_BACK = (
    "DROP TRIGGER healthfact_no_update;",
    "DROP TRIGGER healthfact_no_delete;",
)
POSTGRES_BACK = (
    "DROP TRIGGER healthfact_no_change ON store_healthfact;",
    "DROP FUNCTION healthfact_is_added();",
)


def _run(editor: Any, *, sqlite: tuple[str, ...], postgres: tuple[str, ...]) -> None:
    vendor = editor.connection.vendor
    statements = {"sqlite": sqlite, "postgresql": postgres}.get(vendor)
    if statements is None:
        message = f"Halewright keeps its rows in SQLite or PostgreSQL, not in {vendor}."
        raise RuntimeError(message)
    for statement in statements:
        editor.execute(statement, params=None)


def add(_apps: Any, editor: Any) -> None:
    """Add the triggers."""
    _run(editor, sqlite=SQLITE, postgres=POSTGRES)


def drop(_apps: Any, editor: Any) -> None:
    """Take the triggers away, for going back a migration."""
    _run(editor, sqlite=SQLITE_BACK, postgres=POSTGRES_BACK)


class Migration(migrations.Migration):
    dependencies = [("store", "0001_first")]
    operations = [migrations.RunPython(add, drop)]

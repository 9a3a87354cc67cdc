"""The key that signs sessions: made once, kept where only this user may read it."""

import os
import secrets
from pathlib import Path


def kept(path: Path) -> str:
    """Return the key kept at `path`; make it, readable by its owner only, if there is none."""
    path.parent.mkdir(parents=True, exist_ok=True)
    try:
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    except FileExistsError:
        return path.read_text(encoding="ascii").strip()
    with os.fdopen(handle, "w", encoding="ascii") as file:
        key = secrets.token_urlsafe(64)
        file.write(key + "\n")
    return key

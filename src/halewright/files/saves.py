"""Saving several files as one: after a stop at any moment all of them are new or all old.

New files are written into `.saving` inside the folder. Its renaming to `.saved` is the moment at
which they count; from then on `finish`, now or after a restart, moves each into its place.
"""

import os
import shutil
import threading
from collections.abc import Callable
from pathlib import Path

LOCK = threading.RLock()
"""Held by whoever reads or saves a folder, so that no thread reads one half moved."""

_SAVING = ".saving"
_SAVED = ".saved"


def commit(
    folder: Path, *, fill: Callable[[Path], None], tidy: Callable[[Path, Path], None]
) -> None:
    """Save what `fill` writes into an empty folder; raises OSError with nothing changed.

    `tidy` is given the folder and the complete new files and takes away what they replace; it may
    be called again after a stop.
    """
    with LOCK:
        finish(folder, tidy=tidy)
        folder.mkdir(parents=True, exist_ok=True)
        saving = folder / _SAVING
        if saving.exists():
            shutil.rmtree(saving)
        saving.mkdir()
        try:
            fill(saving)
            for file in saving.rglob("*"):
                _settle(file)
            saving.rename(folder / _SAVED)
        except BaseException:
            shutil.rmtree(saving, ignore_errors=True)
            raise
        finish(folder, tidy=tidy)


def finish(folder: Path, *, tidy: Callable[[Path, Path], None]) -> None:
    """Complete a save that a stop cut short after the moment at which it counted."""
    saved = folder / _SAVED
    with LOCK:
        if not saved.exists():
            return
        tidy(folder, saved)
        for file in sorted(saved.rglob("*")):
            if file.is_file():
                target = folder / file.relative_to(saved)
                target.parent.mkdir(parents=True, exist_ok=True)
                # Copied beside its place first, so that a second try finds the file again.
                beside = target.with_name(f"{target.name}.new")
                shutil.copyfile(file, beside)
                beside.replace(target)
        shutil.rmtree(saved)


def _settle(file: Path) -> None:
    """Have the machine put a file on its disk before the moment at which it counts."""
    if file.is_file():
        with file.open("rb") as opened:
            os.fsync(opened.fileno())

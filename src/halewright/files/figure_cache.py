"""Figures that were drawn once, kept by what they were drawn from."""

import hashlib
from pathlib import Path

import msgspec

from halewright import __version__
from halewright.core.catalogue.movement import Movement
from halewright.core.session.hall import HallFigure
from halewright.files import hall_document


def read(movement: Movement, *, count: int, folder: Path) -> HallFigure | None:
    """Return the figure kept for exactly this movement, or None; a damaged file counts as none."""
    try:
        return msgspec.json.decode(_place(movement, count, folder).read_bytes(), type=HallFigure)
    except (FileNotFoundError, msgspec.DecodeError):
        return None


def write(figure: HallFigure, movement: Movement, *, count: int, folder: Path) -> None:
    """Keep a figure under what it was drawn from."""
    place = _place(movement, count, folder)
    hall_document.write(path=place, text=msgspec.json.encode(figure))


def _place(movement: Movement, count: int, folder: Path) -> Path:
    """Return the file of a figure: its name changes with the movement and with the programme."""
    drawn_from = msgspec.json.encode((__version__, count, movement), order="sorted")
    return folder / f"{movement.id}-{hashlib.sha256(drawn_from).hexdigest()[:16]}.json"

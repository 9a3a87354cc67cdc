"""The hall screen's document as JSON text, and its place on disk."""

import os
from pathlib import Path

import msgspec

from halewright.core.session.hall import HallDocument

SCHEMA = "halewright.hall"
VERSION = 1


def to_json(document: HallDocument) -> bytes:
    """Return the text that the hall screen loads; the same document gives the same bytes."""
    body = msgspec.to_builtins(document)
    return msgspec.json.encode({"schema": SCHEMA, "version": VERSION, **body}, order="sorted")


def json_schema() -> dict[str, object]:
    """Return the JSON Schema of the document, made from its types."""
    return msgspec.json.schema(HallDocument)


def write(*, path: Path, text: bytes) -> None:
    """Put the text in place whole: a reader sees the old one or the new one, never a part."""
    path.parent.mkdir(parents=True, exist_ok=True)
    beside = path.with_suffix(".new")
    with beside.open("wb") as file:
        file.write(text)
        file.flush()
        os.fsync(file.fileno())
    beside.replace(path)

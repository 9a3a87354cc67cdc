"""Plans and timelines as JSON documents: a schema name, a version, and one-step upgrades.

A document of any age is read for ever: `UPGRADES[schema][n]` turns the content of version n into
version n + 1, as plain dictionaries. Version 1 is the first, so there are none yet.
"""

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any, TypeVar

import msgspec

from halewright.core.errors import BadInput, Problem
from halewright.core.planning.plan import Plan
from halewright.core.session.hall import HallDocument
from halewright.core.session.timeline import Timeline
from halewright.files import hall_document

PLAN = "halewright.plan"
TIMELINE = "halewright.timeline"

Upgrade = Callable[[dict[str, Any]], dict[str, Any]]
UPGRADES: Mapping[str, Mapping[int, Upgrade]] = {PLAN: {}, TIMELINE: {}}

T = TypeVar("T")


def latest(schema: str) -> int:
    """Return the version that is written today."""
    return max(UPGRADES[schema], default=0) + 1


def plan_text(plan: Plan) -> bytes:
    """Return a plan as indented JSON; the same plan gives the same bytes."""
    return _text(PLAN, plan)


def timeline_text(timeline: Timeline) -> bytes:
    """Return a timeline as indented JSON."""
    return _text(TIMELINE, timeline)


def read_plan(path: Path) -> Plan:
    """Read a plan of any version; raises BadInput that says what does not fit."""
    return _read(path, schema=PLAN, kind=Plan)


def read_timeline(path: Path) -> Timeline:
    """Read a timeline of any version; raises BadInput that says what does not fit."""
    return _read(path, schema=TIMELINE, kind=Timeline)


def write(*, path: Path, text: bytes) -> None:
    """Put the text in place whole: a reader sees the old one or the new one, never a part."""
    hall_document.write(path=path, text=text)


def json_schemas() -> Mapping[str, bytes]:
    """Return the JSON Schema of each document by file name, made from the types."""
    return {
        "plan.json": _json_schema(Plan, schema=PLAN, version=latest(PLAN)),
        "timeline.json": _json_schema(Timeline, schema=TIMELINE, version=latest(TIMELINE)),
        "hall.json": _json_schema(
            HallDocument, schema=hall_document.SCHEMA, version=hall_document.VERSION
        ),
    }


def _json_schema(kind: type[Any], *, schema: str, version: int) -> bytes:
    """Return the type's JSON Schema with the two lines that every document begins with."""
    made = msgspec.json.schema(kind)
    whole = made["$defs"][kind.__name__]
    heading = {"schema": {"const": schema}, "version": {"const": version}}
    whole["properties"] = {**heading, **whole["properties"]}
    whole["required"] = [*heading, *whole["required"]]
    return msgspec.json.format(msgspec.json.encode(made), indent=2) + b"\n"


def _text(schema: str, content: object) -> bytes:
    envelope = {"schema": schema, "version": latest(schema)}
    body = {**envelope, **msgspec.to_builtins(content)}
    return msgspec.json.format(msgspec.json.encode(body), indent=1) + b"\n"


def _read(path: Path, *, schema: str, kind: type[T]) -> T:
    try:
        raw = msgspec.json.decode(path.read_bytes(), type=dict[str, Any])
        content = upgraded(raw, schema=schema, steps=UPGRADES[schema], file=path.name)
        return msgspec.convert(content, kind)
    except FileNotFoundError:
        raise _refused(path.name, "no such file", "Give the path of a saved document.") from None
    except msgspec.DecodeError as error:
        mend = f"Give a file that Halewright wrote as {schema}, unchanged."
        raise _refused(path.name, str(error), mend) from error


def upgraded(
    raw: dict[str, Any], *, schema: str, steps: Mapping[int, Upgrade], file: str
) -> dict[str, Any]:
    """Return the content of a document brought to today's version, one step at a time.

    Raises BadInput where it is of another kind, or newer than what this programme writes.
    """
    newest = max(steps, default=0) + 1
    found, version = raw.get("schema"), raw.get("version")
    if found != schema or not isinstance(version, int):
        mend = f"Give a document of the kind {schema}."
        raise _refused(file, f"schema {found}, version {version}", mend)
    if not 1 <= version <= newest:
        mend = "Use the Halewright that wrote it, or a newer one."
        raise _refused(file, f"{schema} version {version}", mend)
    content = {name: value for name, value in raw.items() if name not in {"schema", "version"}}
    for step in range(version, newest):
        content = steps[step](content)
    return content


def _refused(file: str, read: str, mend: str) -> BadInput:
    return BadInput((Problem(file=file, read=read, mend=mend),))

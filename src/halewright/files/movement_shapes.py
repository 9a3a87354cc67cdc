"""Every fault in the shape of a movement file at once, each in a sentence with its place.

The reader of TOML and the converter of documents stop at the first fault; a person who writes a
file wants to see them all. The expected shape is read from the document types themselves.
"""

import difflib
import math
from collections.abc import Iterable, Iterator, Mapping
from enum import Enum
from typing import Any

from msgspec import inspect

from halewright.core.errors import Problem
from halewright.core.mechanics import joints, points
from halewright.files.movement_documents import MovementDoc

_SHAPE = inspect.type_info(MovementDoc)

ANGLE_NAMES = frozenset(joints.NAMES) | frozenset(joints.PAIRED)
"""What a pose may name: a joint with its side, or a paired joint for both sides."""


def problems(*, document: Mapping[str, Any], file: str) -> tuple[Problem, ...]:
    """Return every fault of a parsed file's shape; empty where it can be converted."""
    faults = [*_faults(value=document, expected=_SHAPE, at=""), *_unknown_names(document)]
    return tuple(Problem(file=file, read=read, mend=mend) for read, mend in faults)


def _faults(*, value: Any, expected: inspect.Type, at: str) -> Iterator[tuple[str, str]]:
    match expected:
        case inspect.StructType():
            yield from _struct_faults(value=value, expected=expected, at=at)
        case inspect.UnionType():
            # Every union in the documents is "this or left out"; TOML has no empty value.
            (kind,) = (kind for kind in expected.types if not isinstance(kind, inspect.NoneType))
            yield from _faults(value=value, expected=kind, at=at)
        case inspect.ListType():
            if not isinstance(value, list):
                yield _misread(at, value), "Write a list in square brackets: [ … ]."
                return
            for number, item in enumerate(value, start=1):
                yield from _faults(value=item, expected=expected.item_type, at=f"{at} {number}")
        case inspect.DictType():
            if not isinstance(value, dict):
                yield _misread(at, value), "Write names and numbers in braces: { … }."
                return
            for name, item in value.items():
                yield from _faults(value=item, expected=expected.value_type, at=f"{at}.{name}")
        case _:
            yield from _plain_faults(value=value, expected=expected, at=at)


def _struct_faults(
    *, value: Any, expected: inspect.StructType, at: str
) -> Iterator[tuple[str, str]]:
    if not isinstance(value, dict):
        yield _misread(at, value), "Write named values here."
        return
    fields = {field.name: field for field in expected.fields}
    prefix = f"{at}." if at else ""
    for name in value:
        if name not in fields:
            yield f"{prefix}{name}", _no_such(name, fields)
    for name, field in fields.items():
        if name in value:
            yield from _faults(value=value[name], expected=field.type, at=f"{prefix}{name}")
        elif field.required:
            yield f"no {prefix}{name}", "Add it: it may not be left out."


def _plain_faults(*, value: Any, expected: inspect.Type, at: str) -> Iterator[tuple[str, str]]:
    number = isinstance(value, int | float) and not isinstance(value, bool)
    match expected:
        case inspect.EnumType():
            allowed = [str(member.value) for member in _members(expected.cls)]
            if value not in allowed:
                yield _misread(at, value), f"Use one of: {', '.join(allowed)}."
        case inspect.FloatType() if not number or not math.isfinite(value):
            yield _misread(at, value), "Write a number, without quotation marks."
        case inspect.IntType() if not number or isinstance(value, float):
            yield _misread(at, value), "Write a whole number, without quotation marks."
        case inspect.BoolType() if not isinstance(value, bool):
            yield _misread(at, value), "Write true or false."
        case inspect.StrType() if not isinstance(value, str):
            yield _misread(at, value), "Write words in quotation marks."
        case _:
            return


def _members(cls: type[Enum]) -> Iterable[Enum]:
    return list(cls)


def _unknown_names(document: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    """Yield angles that no joint has and places where no band can lie."""
    for way in ("standard", "gentler", "stronger", "without_band"):
        for number, pose in _tables(document, way, "poses"):
            angles = pose.get("angles_deg")
            for name in angles if isinstance(angles, dict) else ():
                if name not in ANGLE_NAMES:
                    yield f"{way}.poses {number}: {name}", _no_such(name, ANGLE_NAMES)
        for number, path in _tables(document, way, "paths"):
            for _, node in _tables({"path": path}, "path", "nodes"):
                name = node.get("at")
                if isinstance(name, str) and name not in points.NAMES:
                    yield f"{way}.paths {number}: {name}", _no_such(name, points.NAMES)


def _tables(
    document: Mapping[str, Any], way: str, name: str
) -> Iterator[tuple[int, Mapping[str, Any]]]:
    """Yield the numbered tables of a list, passing over whatever is not of that shape."""
    holder = document.get(way)
    listed = holder.get(name) if isinstance(holder, dict) else None
    for number, item in enumerate(listed if isinstance(listed, list) else (), start=1):
        if isinstance(item, dict):
            yield number, item


def _misread(at: str, value: Any) -> str:
    return f"{at or 'file'}: {value}"


def _no_such(name: str, known: Iterable[str]) -> str:
    near = difflib.get_close_matches(name, list(known), n=1)
    guess = f" Did you mean “{near[0]}”?" if near else ""
    return f"There is no such name.{guess}"

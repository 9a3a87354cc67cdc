"""Reads the project's own source, for tests of its shape."""

import ast
import functools
import subprocess
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[2]
SRC = ROOT / "src" / "halewright"
TESTS = ROOT / "tests"


@functools.cache
def tree(path: Path) -> ast.Module:
    """Return a file's syntax tree."""
    return ast.parse(path.read_text(encoding="utf-8"))


def modules(folder: Path) -> list[Path]:
    """Return every Python file under a folder, migrations that Django wrote left out."""
    return sorted(path for path in folder.rglob("*.py") if "migrations" not in path.parts)


def place(path: Path, line: int = 0) -> str:
    """Return a file and line as a person reads it."""
    shown = path.relative_to(ROOT).as_posix()
    return f"{shown}:{line}" if line else shown


def functions(path: Path) -> Iterator[ast.FunctionDef | ast.AsyncFunctionDef]:
    """Yield every function of a file, those in classes and functions included."""
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            yield node


def tracked() -> list[Path]:
    """Return every file that git tracks and that stands in the checkout; empty without git."""
    listed = subprocess.run(
        ["git", "ls-files", "-z"],  # noqa: S607  the one that is installed
        cwd=ROOT,
        capture_output=True,
        check=False,
        text=True,
    )
    found = (ROOT / name for name in listed.stdout.split("\0") if name)
    return [path for path in found if path.is_file()]

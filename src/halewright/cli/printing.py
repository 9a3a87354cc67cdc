"""Printing for people (rich) and for programmes (JSON)."""

from collections.abc import Iterable
from contextlib import AbstractContextManager
from typing import Any

import click
import msgspec
from rich.console import Console
from rich.progress import BarColumn, Progress, SpinnerColumn, TextColumn, TimeElapsedColumn
from rich.table import Table

from halewright.core.errors import BadInput, HalewrightError, Problem

OUT = Console(highlight=False)
ERR = Console(stderr=True, highlight=False)


def say(words: str) -> None:
    """Print a line for a person."""
    OUT.print(words, markup=False, soft_wrap=True)


def say_problem(words: str) -> None:
    """Print what went wrong on the error stream."""
    ERR.print(words, markup=False, style="bold", soft_wrap=True)


def as_json(value: Any) -> None:
    """Print a value as JSON on one stream, for other programmes."""
    click.echo(msgspec.json.format(msgspec.json.encode(value), indent=1).decode())


def problem_row(problem: Problem) -> dict[str, object]:
    """Return a problem as the documented JSON object."""
    return {
        "file": problem.file,
        "sheet": problem.sheet,
        "row": problem.row,
        "column": problem.column,
        "read": problem.read,
        "mend": problem.mend,
    }


def error_as_json(error: HalewrightError) -> None:
    """Print why nothing came of a command, with a row for each problem of what was read."""
    rows = [problem_row(each) for each in error.problems] if isinstance(error, BadInput) else []
    as_json({"reason": str(error), "problems": rows})


def problems(found: Iterable[Problem]) -> None:
    """Print problems, a line each, on the error stream."""
    for problem in found:
        say_problem(problem.sentence())


def table(title: str, headings: Iterable[str], rows: Iterable[Iterable[str]]) -> None:
    """Print a table for a person."""
    drawn = Table(title=title, title_justify="left", show_lines=False)
    for heading in headings:
        drawn.add_column(heading)
    for row in rows:
        drawn.add_row(*row)
    OUT.print(drawn)


def bar() -> Progress:
    """Return a bar that shows how far planning is, on the error stream, so that JSON stays clean.

    Where nobody watches that stream it shows nothing.
    """
    columns = (SpinnerColumn(), TextColumn("{task.description}"), BarColumn())
    return Progress(*columns, TimeElapsedColumn(), console=ERR, transient=True)


def busy(words: str) -> AbstractContextManager[object]:
    """Show on the error stream that something is going on, where a person watches."""
    return ERR.status(words)

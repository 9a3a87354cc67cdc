"""`import` and `demo`: bring people in, and groups to try everything with."""

import os
import sys
from datetime import UTC, datetime
from pathlib import Path

import click

from halewright.cli import printing
from halewright.cli.paths import FOLDER
from halewright.core.errors import BadInput
from halewright.usecases import demo as demos
from halewright.usecases import groups


def home() -> Path:
    """Return the folder in which this installation keeps what is its own."""
    return Path(os.environ.get("HALEWRIGHT_HOME", "var")).absolute()


@click.command("import")
@click.argument("file", type=click.Path(exists=True, path_type=Path))
@click.option("--into", type=FOLDER, help="Also write the people into this group folder.")
@click.option("--group", "name", help="Also write them into this group of the database.")
@click.option("--json", "as_json", is_flag=True, help="Print the result for programmes.")
def import_(file: Path, into: Path | None, name: str | None, as_json: bool) -> None:
    """Read a spreadsheet of people (FILE), or a group folder, and say all that is wrong with it.

    Nothing is written unless --into or --group is given and there is no problem.

    \b
    Example:
      halewright import people.xlsx --into var/demo/marlow-street-hall
    """
    try:
        people, ignored = _brought(file, into=into, name=name)
    except BadInput as error:
        if as_json:
            rows = [printing.problem_row(problem) for problem in error.problems]
            printing.as_json({"people": 0, "problems": rows})
        else:
            printing.problems(error.problems)
            printing.say_problem(f"{len(error.problems)} problems. Nothing was imported.")
        sys.exit(1)
    if as_json:
        printing.as_json({"people": people, "problems": []})
        return
    for column in ignored:
        printing.say(f"Column “{column}” was not understood and left out.")
    written = " They were written." if into or name else " Nothing was written."
    printing.say(f"{people} people, no problems.{written}")


def _brought(file: Path, *, into: Path | None, name: str | None) -> tuple[int, tuple[str, ...]]:
    """Read, and write where asked; raises BadInput with every problem, nothing written."""
    if file.is_dir():
        group = groups.load(file)
        if name is not None:
            _keep(file, name=name)
        return len(group.people), ()
    report = groups.examine(file)
    if report.problems:
        raise BadInput(report.problems)
    if into is not None:
        groups.import_into_folder(path=file, folder=into)
    if name is not None:
        _keep(file, name=name)
    return len(report.people), report.ignored_columns


def _keep(file: Path, *, name: str) -> None:
    """Write into the database; the import is here because most commands need no database."""
    from halewright.usecases import installation  # a late import keeps the other commands quick

    installation.start(home())
    now = datetime.now(tz=UTC)  # noqa: TID251  the edge owns the clock
    installation.import_people(file, group=name, now=now)


@click.group()
def demo() -> None:
    """Invented groups to try everything with.

    \b
    Example:
      halewright demo list
    """


@demo.command("list")
@click.option("--json", "as_json", is_flag=True, help="Print the result for programmes.")
def listing(as_json: bool) -> None:
    """List the demo groups, each copied to a folder that you may change.

    \b
    Example:
      halewright demo list --json
    """
    found = demos.listing(home() / "demo")
    if as_json:
        printing.as_json(
            [
                {
                    "name": each.name,
                    "folder": str(each.folder),
                    "people": each.people,
                    "weeks": each.weeks,
                    "sessions_per_week": each.sessions_per_week,
                }
                for each in found
            ]
        )
        return
    printing.table(
        "Demo groups",
        ("Group", "People", "Weeks", "A week", "Folder"),
        [
            (
                each.name,
                str(each.people),
                str(each.weeks),
                str(each.sessions_per_week),
                str(each.folder),
            )
            for each in found
        ],
    )

"""`session`: one session of a plan as timeline, run sheet or page."""

from pathlib import Path

import click

from halewright.cli.paths import FILE, FOLDER
from halewright.core.errors import HalewrightError
from halewright.files import documents
from halewright.media import sheet_html, sheet_text
from halewright.usecases import groups, plans, sessions


class OtherGroup(HalewrightError):
    """A plan that was made for another group than the folder's: names would be wrong or missing."""

    def __init__(self, *, planned: str, given: str) -> None:
        """Name both groups and say what can be done."""
        super().__init__(
            f"The plan was made for “{planned}”, but the folder holds “{given}”. Give the folder "
            "that it was made for, or plan this group."
        )


@click.command()
@click.argument("plan_file", metavar="PLAN", type=FILE)
@click.option("--group", "folder", required=True, type=FOLDER, help="The group's folder.")
@click.option("--week", required=True, type=int, help="Counted from 1.")
@click.option("--session", "number", required=True, type=int, help="Within the week, from 1.")
@click.option(
    "--format",
    "shape",
    type=click.Choice(["json", "html", "text"]),
    default="text",
    show_default=True,
    help="Timeline for programmes, page for printing, text for the terminal.",
)
@click.option("--wall", is_flag=True, help="The wall copy: no names.")
@click.option("--json", "as_json", is_flag=True, help="The same as --format json.")
def session(
    plan_file: Path,
    folder: Path,
    week: int,
    number: int,
    shape: str,
    wall: bool,
    as_json: bool,
) -> None:
    """Show one session of a PLAN.

    \b
    Example:
      halewright session plan.json --group var/demo/marlow-street-hall --week 3 --session 1
    """
    plan = plans.read(plan_file)
    if as_json or shape == "json":
        timeline = sessions.timeline(plan, week=week, session=number)
        click.echo(documents.timeline_text(timeline).decode(), nl=False)
        return
    maker = sessions.wall_copy if wall else sessions.run_sheet
    group = groups.load(folder)
    if group.name != plan.group:
        raise OtherGroup(planned=plan.group, given=group.name)
    sheet = maker(plan, group, week=week, session=number)
    click.echo(sheet_html.page(sheet) if shape == "html" else sheet_text.text(sheet), nl=False)

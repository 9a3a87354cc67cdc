"""`serve` and `run`: open the pages, to this machine or to a hall."""

from datetime import UTC, datetime
from pathlib import Path

import click

from halewright.cli import glance, printing
from halewright.cli.groups import home
from halewright.core.planning.plan import Plan
from halewright.core.session.outline import SessionOutline
from halewright.media import sheet_text
from halewright.usecases import demo, sessions
from halewright.usecases.installation import Stocked

TRIED = "marlow-street-hall"


def _now() -> datetime:
    return datetime.now(tz=UTC)  # noqa: TID251  the edge owns the clock


@click.command()
@click.option("--port", type=int, help="8000 for this machine, 8443 for a hall.")
@click.option("--plain-port", default=8080, show_default=True, help="For the hall screen alone.")
@click.option("--hall", is_flag=True, help="Serve the local network over TLS.")
def serve(port: int | None, plain_port: int, hall: bool) -> None:
    """Serve the pages, to this machine only unless --hall is given.

    \b
    Example:
      halewright serve --hall
    """
    from halewright.usecases import installation, serving  # Django is loaded only where needed

    where = home()
    installation.start(where)
    if hall:
        serving.serve_hall(
            home=where, say=printing.say, now=_now(), port=port or 8443, plain_port=plain_port
        )
    else:
        serving.serve_here(home=where, say=printing.say, port=port or 8000)


@click.command()
@click.option("--port", default=8000, show_default=True)
@click.option("--no-serve", is_flag=True, help="Plan and print only.")
def run(port: int, no_serve: bool) -> None:
    """Load the demo group, plan it, print the block and tonight's run sheet, and serve.

    \b
    Example:
      halewright run
    """
    from halewright.usecases import installation, serving  # Django is loaded only where needed

    where = home()
    printing.say("Preparing the database.")
    installation.start(where)
    folder = next(each.folder for each in demo.listing(where / "demo") if each.folder.name == TRIED)
    stocked = _stocked(folder)
    glance.block(stocked.plan, stocked.group)
    session = _tonight(stocked.plan)
    sheet = sessions.run_sheet(
        stocked.plan, stocked.group, week=session.week, session=session.number
    )
    printing.say(sheet_text.text(sheet))
    printing.say("Drawing the figures of that session.")
    sessions.hall_document(
        stocked.plan, week=session.week, session=session.number, cache=where / "figures"
    )
    if not no_serve:
        serving.serve_here(home=where, say=printing.say, port=port)


def _stocked(folder: Path) -> Stocked:
    from halewright.usecases import installation

    with printing.bar() as shown:
        task = shown.add_task("Reading the demo group", total=1.0)
        return installation.stock(
            folder=folder,
            now=_now(),
            progress=lambda words, share: shown.update(task, description=words, completed=share),
        )


def _tonight(plan: Plan) -> SessionOutline:
    """Return the next session, or the last one of a block that is over.

    Before a block has begun it is the second: the first is handling alone, and a person who tries
    the programme wants to see what a usual evening looks like.
    """
    today = _now().date()
    coming = [session for session in plan.sessions if session.on >= today]
    if len(coming) == len(plan.sessions) > 1:
        return plan.sessions[1]
    return coming[0] if coming else plan.sessions[-1]

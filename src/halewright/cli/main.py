"""The command `halewright`: every act of the programme from a terminal."""

import sys
from collections.abc import Sequence

import click

from halewright import __version__
from halewright.cli import printing
from halewright.cli.lazily import LazyGroup, Place
from halewright.core.errors import HalewrightError


def _place(module: str, name: str, line: str) -> Place:
    return Place(module=f"halewright.cli.{module}", name=name, line=line)


PLACES = {
    "run": _place("serving", "run", "Load and plan the demo group, and open the app."),
    "demo": _place("groups", "demo", "Invented groups to try everything with."),
    "import": _place("groups", "import_", "Read people, and say all that is wrong with the list."),
    "options": _place("catalogue", "options", "Who may do what, which way, and why."),
    "plan": _place("blocks", "plan", "Plan the block of weeks of a group."),
    "check": _place("blocks", "check", "Hold a plan against every rule."),
    "session": _place("sessions", "session", "One session: run sheet, page or timeline."),
    "catalogue": _place("catalogue", "catalogue", "The movements, and what is wrong with them."),
    "loads": _place("loads", "loads", "What a band asks of each person in a movement."),
    "band": _place("loads", "band", "Fit a measured band."),
    "serve": _place("serving", "serve", "Serve the pages, to this machine or to a hall."),
}


@click.group(
    cls=LazyGroup,
    places=PLACES,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 96},
)
@click.version_option(__version__)
def cli() -> None:
    """Plan and run safe chair-and-band strength sessions for older adults.

    A command that is given a FOLDER reads only that group folder. Exit codes: 0 done,
    1 problems found (they are listed), 2 the command's words are off.

    \b
    Example:
      halewright demo list
      halewright plan var/demo/marlow-street-hall --seed 1 --out plan.json
      halewright session plan.json --group var/demo/marlow-street-hall --week 3 --session 1
    """


def main(arguments: Sequence[str] | None = None) -> None:
    """Run the command line; an error that a person may be shown is shown without a trace.

    With --json the error is also printed for programmes, so that they never read nothing.
    """
    words = list(sys.argv[1:] if arguments is None else arguments)
    try:
        cli(args=words)
    except HalewrightError as error:
        if "--json" in words:
            printing.error_as_json(error)
        printing.say_problem(str(error))
        sys.exit(1)

"""The command `halewright`: every act of the programme from a terminal."""

import sys
from collections.abc import Sequence

import click

from halewright import __version__
from halewright.cli import blocks, catalogue, groups, loads, printing, serving, sessions
from halewright.core.errors import HalewrightError


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 96})
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


for _command in (
    blocks.plan,
    blocks.check,
    sessions.session,
    catalogue.catalogue,
    catalogue.options,
    groups.import_,
    groups.demo,
    loads.loads,
    loads.band,
    serving.serve,
    serving.run,
):
    cli.add_command(_command)


def main(arguments: Sequence[str] | None = None) -> None:
    """Run the command line; an error that a person may be shown is shown without a trace."""
    try:
        cli(args=None if arguments is None else list(arguments))
    except HalewrightError as error:
        printing.say_problem(str(error))
        sys.exit(1)

"""Write docs/commands.md, every command with its help, from the command line itself."""

from collections.abc import Iterator
from pathlib import Path

import click

from halewright.cli.main import cli

PAGE = Path(__file__).resolve().parent.parent / "docs" / "commands.md"

OPENING = """# Commands

Written by `scripts/write_commands_page.py` from the commands' own help; change that and write the
page again. A test compares.

Every command that prints a result can print it for other programmes with `--json`. Exit codes:
0 done, 1 problems found (they are listed), 2 the command's words are off.
"""


def page() -> str:
    """Return the whole page."""
    parts = [OPENING]
    for command, path in commands(cli, path=("halewright",)):
        parts += [f"## {' '.join(path)}\n", f"```text\n{help_of(command, path=path)}\n```\n"]
    return "\n".join(parts)


def commands(
    command: click.Command, *, path: tuple[str, ...]
) -> Iterator[tuple[click.Command, tuple[str, ...]]]:
    """Yield a command and everything below it, each with the words that call it."""
    yield command, path
    if isinstance(command, click.Group):
        context = click.Context(command)
        for name in sorted(command.list_commands(context)):
            below = command.get_command(context, name)
            if below is not None:
                yield from commands(below, path=(*path, name))


def help_of(command: click.Command, *, path: tuple[str, ...]) -> str:
    """Return what `--help` prints, at one width whatever the terminal's."""
    settings = {"terminal_width": 96, "max_content_width": 96}
    context = click.Context(
        command, info_name=" ".join(path), help_option_names=["-h", "--help"], **settings
    )
    return command.get_help(context)


def main() -> None:
    """Write the page."""
    PAGE.write_text(page(), "utf-8")


if __name__ == "__main__":
    main()

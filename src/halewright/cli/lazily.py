"""Commands that are loaded when they are called: `--help` must not wait for a solver."""

import importlib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import click


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where a command is defined, and the line that the list of commands shows of it."""

    module: str
    name: str
    line: str


class LazyGroup(click.Group):
    """A group whose commands are imported one at a time."""

    def __init__(self, *args: Any, places: Mapping[str, Place], **kwargs: Any) -> None:
        """Keep the places; a command is imported when it is asked for."""
        super().__init__(*args, **kwargs)
        self._places = places

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002  click's signature
        """Return the commands in the order in which a leader meets them."""
        return list(self._places)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002
        """Import and return a command, or None for one that does not exist."""
        place = self._places.get(cmd_name)
        if place is None:
            return None
        command: click.Command = getattr(importlib.import_module(place.module), place.name)
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:  # noqa: ARG002
        """Write the list of commands without importing any."""
        with formatter.section("Commands"):
            formatter.write_dl([(name, place.line) for name, place in self._places.items()])

"""The kinds of path and number that commands take."""

import math
from pathlib import Path

import click

FOLDER = click.Path(exists=True, file_okay=False, path_type=Path)
FILE = click.Path(exists=True, dir_okay=False, path_type=Path)

SEED = click.IntRange(min=0, max=2**31 - 1)
"""The solver's seed is a number of 32 bits with a sign."""


class Finite(click.FloatRange):
    """A number in a range; "nan" and "inf", which Python reads as numbers, are refused."""

    def convert(
        self, value: float, param: click.Parameter | None, ctx: click.Context | None
    ) -> float:
        """Return the number, or say which is not one."""
        number = float(super().convert(value, param, ctx))
        if not math.isfinite(number):
            self.fail(f"{value} is not a number that can be measured.", param, ctx)
        return number

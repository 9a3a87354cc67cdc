"""The kinds of path that commands take."""

from pathlib import Path

import click

FOLDER = click.Path(exists=True, file_okay=False, path_type=Path)
FILE = click.Path(exists=True, dir_okay=False, path_type=Path)

"""The page of commands, and what every command's help holds."""

import runpy
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parents[3]
SCRIPT: dict[str, Any] = runpy.run_path(str(ROOT / "scripts" / "write_commands_page.py"))
COMMANDS = [
    (" ".join(path), SCRIPT["help_of"](command, path=path))
    for command, path in SCRIPT["commands"](SCRIPT["cli"], path=("halewright",))
]


def test_the_page_is_that_of_the_commands() -> None:
    """`scripts/write_commands_page.py` has been run since a command last changed."""
    kept = (ROOT / "docs" / "commands.md").read_text(encoding="utf-8")

    assert kept == SCRIPT["page"](), "Run scripts/write_commands_page.py."


@pytest.mark.parametrize(("name", "words"), COMMANDS, ids=[name for name, _ in COMMANDS])
def test_every_help_has_an_example(name: str, words: str) -> None:
    """Each command's help shows a call that begins with its own words."""
    assert f"Example:\n    {name} " in words or f"Example:\n    {name}\n" in words


@pytest.mark.parametrize(
    "name",
    [
        "halewright catalogue check",
        "halewright check",
        "halewright demo list",
        "halewright import",
        "halewright options",
        "halewright plan",
        "halewright session",
    ],
)
def test_every_result_can_be_printed_for_programmes(name: str) -> None:
    """Each command that prints a result has --json."""
    assert "--json" in dict(COMMANDS)[name]

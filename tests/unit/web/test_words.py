import ast
import re
from collections.abc import Iterator
from importlib import resources
from pathlib import Path

import pytest

NEVER = re.compile(
    r"\b(patients?|prescri\w+|cleared|treat\w*|cur(?:e|es|ed|ing)|elderly|easy|fail\w*"
    r"|falls prevention)\b",
    re.IGNORECASE,
)
"""Words that nobody may ever read on a screen (DESIGN, section 4)."""


def _package(name: str) -> Path:
    return Path(str(resources.files(name)))


def _templates() -> list[Path]:
    return sorted((_package("halewright.web") / "templates").rglob("*.html"))


def _modules() -> list[Path]:
    found = [
        *_package("halewright.web").rglob("*.py"),
        *_package("halewright.usecases").glob("*.py"),
    ]
    return sorted(found)


def _read_by_people(source: str) -> Iterator[str]:
    """Yield the texts of a module that have a space in them and are no docstring."""
    tree = ast.parse(source)
    docstrings = {
        id(node.value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
    }
    for node in ast.walk(tree):
        if not isinstance(node, ast.Constant) or id(node) in docstrings:
            continue
        if isinstance(node.value, str) and " " in node.value:
            yield node.value


@pytest.mark.parametrize("path", _templates(), ids=lambda path: path.name)
def test_no_page_has_a_word_that_nobody_may_read(path: Path) -> None:
    """Template text keeps to the trade's own words; tags of the template language do not count."""
    text = re.sub(r"\{[%#].*?[%#]\}", " ", path.read_text(encoding="utf-8"))

    assert NEVER.findall(text) == []


@pytest.mark.parametrize("path", _modules(), ids=lambda path: path.name)
def test_no_message_has_a_word_that_nobody_may_read(path: Path) -> None:
    """What a module says to people keeps to the trade's own words."""
    said = list(_read_by_people(path.read_text(encoding="utf-8")))

    assert [text for text in said if NEVER.search(text)] == []

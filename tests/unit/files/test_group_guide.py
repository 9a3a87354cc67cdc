"""The guide to the group folder is tried: its examples are read as they stand."""

import re
from pathlib import Path

from halewright.files import group_toml, told_limits
from halewright.files.quantities import Unread

GUIDE = Path(__file__).parents[3] / "docs" / "group-folder.md"


def test_the_guides_group_toml_is_read(tmp_path: Path) -> None:
    """The example can be copied and has no problem."""
    (example,) = re.findall(r"```toml\n(.*?)```", GUIDE.read_text("utf-8"), re.S)
    path = tmp_path / "group.toml"
    path.write_text(example, "utf-8")

    head, problems = group_toml.read(path)

    assert problems == ()
    assert head is not None
    assert len(head.schedule.meetings) == 2


def test_the_guides_limits_are_read() -> None:
    """Every limit that the guide shows, in its box and in its list, is understood."""
    text = GUIDE.read_text("utf-8").partition("### Limits")[2].partition("## Health screens")[0]
    shown = re.findall(r"```\n(.*?)```", text, re.S) + re.findall(r"`(\w+ [^`…]+)`", text)
    avoided = re.search(r"Things to avoid: \*no\* (.*?)\.\n", text)
    assert avoided is not None
    shown += [f"no {thing}" for thing in avoided[1].split(", ")]
    angles = re.search(r"Angles, in degrees: (.*?)\.", text)
    assert angles is not None
    shown += [f"{angle} at most 30" for angle in angles[1].split(", ")]

    unread = [item for item in shown if isinstance(told_limits.read(item), Unread)]

    assert len(shown) > 30
    assert unread == []

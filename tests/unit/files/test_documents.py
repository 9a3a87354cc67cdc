"""Plans and timelines as documents: what is written is read again, and nothing else is."""

from importlib import resources
from pathlib import Path
from typing import Any

import msgspec
import pytest
from tests import stories
from tests.fakes.outlines import outline

from halewright.core.errors import BadInput
from halewright.core.session import build
from halewright.core.session.durations import Durations
from halewright.core.session.timeline import Timeline
from halewright.files import documents, movements

FAKE = "halewright.fake"
STEPS = {
    1: lambda content: {**content, "litres": content["pints"] * 0.57},
    2: lambda content: {key: value for key, value in content.items() if key != "pints"},
}
"""Version 2 adds litres; version 3 forgets pints."""


def timeline() -> Timeline:
    return build.timeline(
        outline=outline(main=("seated-row",)),
        catalogue=movements.shipped(),
        durations=Durations(),
    )


def upgraded(version: object, **content: Any) -> dict[str, Any]:
    raw = {"schema": FAKE, "version": version, **content}
    return documents.upgraded(raw, schema=FAKE, steps=STEPS, file="old.json")


def test_a_plan_comes_back_as_it_was(tmp_path: Path) -> None:
    """A plan that is written and read is equal to the one that was made."""
    plan = stories.busy_plan(stories.four_chairs())
    documents.write(path=tmp_path / "plan.json", text=documents.plan_text(plan))

    assert documents.read_plan(tmp_path / "plan.json") == plan


def test_a_timeline_comes_back_as_it_was(tmp_path: Path) -> None:
    """A timeline that is written and read is equal to the one that was made."""
    documents.write(path=tmp_path / "t.json", text=documents.timeline_text(timeline()))

    assert documents.read_timeline(tmp_path / "t.json") == timeline()


def test_the_same_plan_gives_the_same_bytes() -> None:
    """Two plans made alike are written alike, so that a seed can be compared byte for byte."""
    first, second = (stories.plain_plan(stories.four_chairs()) for _ in range(2))

    assert documents.plan_text(first) == documents.plan_text(second)


def test_a_document_says_what_it_is() -> None:
    """Each document begins with its schema's name and its version."""
    for text, schema in (
        (documents.timeline_text(timeline()), documents.TIMELINE),
        (documents.plan_text(stories.plain_plan(stories.four_chairs())), documents.PLAN),
    ):
        assert list(msgspec.json.decode(text).items())[:2] == [("schema", schema), ("version", 1)]


@pytest.mark.parametrize(
    "text",
    [
        b"",
        b"not json",
        b"\xff\xfe\x00",
        b"[1, 2]",
        b"{}",
        b'{"schema": "halewright.plan"}',
        b'{"schema": "halewright.plan", "version": "1"}',
        b'{"schema": "halewright.plan", "version": 0}',
        b'{"schema": "halewright.plan", "version": 999}',
        b'{"schema": "halewright.timeline", "version": 1}',
        b'{"schema": "halewright.plan", "version": 1, "group": 7}',
        b'{"schema": "halewright.plan", "version": true}',
    ],
)
def test_anything_else_is_refused_in_a_sentence(tmp_path: Path, text: bytes) -> None:
    """Garbage, other kinds, and versions from the future are refused by file and with a mend."""
    path = tmp_path / "broken.json"
    path.write_bytes(text)

    with pytest.raises(BadInput) as caught:
        documents.read_plan(path)

    (problem,) = caught.value.problems
    assert problem.file == "broken.json"
    assert problem.mend.endswith(".")


def test_a_missing_file_is_refused_in_a_sentence(tmp_path: Path) -> None:
    """A path without a file is named and the mend says what to give."""
    with pytest.raises(BadInput, match=r"nowhere\.json.*no such file"):
        documents.read_timeline(tmp_path / "nowhere.json")


def test_an_old_document_goes_up_one_step_at_a_time() -> None:
    """Version 1 with 2 pints gains 1.14 litres in version 2 and loses pints in version 3."""
    assert upgraded(1, pints=2) == {"litres": 1.14}


def test_a_document_of_the_middle_takes_the_last_step_only() -> None:
    """Version 2 keeps its own litres."""
    assert upgraded(2, pints=2, litres=5) == {"litres": 5}


def test_todays_document_is_left_alone() -> None:
    """Version 3 takes no step, and loses only its heading."""
    assert upgraded(3, litres=5) == {"litres": 5}


@pytest.mark.parametrize("version", [0, 4, "3", None, 2.0])
def test_a_version_that_never_was_is_refused(version: object) -> None:
    """Below 1, beyond the newest, and what is no whole number is refused."""
    with pytest.raises(BadInput, match="version"):
        upgraded(version)


def test_the_committed_schemas_are_those_of_the_types() -> None:
    """`scripts/write_schemas.py` has been run since the types last changed."""
    folder = resources.files("halewright") / "data" / "schema"

    for name, text in documents.json_schemas().items():
        assert (folder / name).read_bytes() == text, f"Run scripts/write_schemas.py for {name}."


def test_a_written_document_has_what_its_schema_requires() -> None:
    """Every name that the plan's JSON Schema requires stands in a written plan."""
    schema = msgspec.json.decode(documents.json_schemas()["plan.json"])
    plan = msgspec.json.decode(documents.plan_text(stories.plain_plan(stories.four_chairs())))

    assert set(schema["$defs"]["Plan"]["required"]) <= plan.keys()
    assert schema["$defs"]["Plan"]["properties"]["schema"] == {"const": plan["schema"]}

"""This installation: bringing people into a group that it keeps, and stocking it."""

import shutil
from datetime import UTC, datetime
from importlib import resources
from pathlib import Path

import pytest
from tests import stories
from tests.cast import KEPT_AT, Cast

from halewright.core.errors import BadInput
from halewright.store import models, queries
from halewright.usecases import blocks, demo, groups, groups_kept, installation

pytestmark = pytest.mark.django_db
NOW = datetime(2026, 11, 25, 12, 0, tzinfo=UTC)


def table(folder: Path, rows: str) -> Path:
    path = folder / "people.csv"
    path.write_text("id,name\n" + rows, encoding="utf-8")
    return path


def test_people_come_into_a_kept_group(cast: Cast, tmp_path: Path) -> None:
    """A spreadsheet of one new person makes the kept group one larger."""
    before = len(queries.whole(cast.group).people)

    count = installation.import_people(
        table(tmp_path, "new1,Newcomer\n"), group=cast.group.name, now=NOW
    )

    assert count == 1
    assert len(queries.whole(cast.group).people) == before + 1


def test_a_group_that_is_not_kept_is_named(cast: Cast, tmp_path: Path) -> None:  # noqa: ARG001
    """A spreadsheet for a group that is not there is refused with the group's name."""
    with pytest.raises(installation.NoGroupNamed, match="“Nobody Here”"):
        installation.import_people(table(tmp_path, "a,Ann\n"), group="Nobody Here", now=NOW)


def test_a_broken_table_changes_nothing(cast: Cast, tmp_path: Path) -> None:
    """With a problem in one row nobody of the table is brought in."""
    before = queries.whole(cast.group)

    with pytest.raises(BadInput):
        installation.import_people(
            table(tmp_path, "new1,Newcomer\nnew1,Twice\n"), group=cast.group.name, now=NOW
        )

    assert queries.whole(cast.group) == before


def test_a_whole_folder_becomes_a_kept_group(site: None, tmp_path: Path) -> None:  # noqa: ARG001
    """A demo folder is kept under the name that was asked for, with everybody in it."""
    name = demo.names()[0]
    folder = tmp_path / name
    with resources.as_file(resources.files("halewright") / "data" / "demo" / name) as shipped:
        shutil.copytree(shipped, folder)

    count = installation.import_people(folder, group="Friday lounge", now=NOW)

    row = models.Group.objects.get()
    assert row.name == "Friday lounge"
    assert len(queries.whole(row).people) == count


def test_stocking_twice_keeps_one_group_and_one_plan(cast: Cast, tmp_path: Path) -> None:
    """A group that is kept with a plan in use is found again: nothing is planned or kept anew."""
    name = demo.names()[0]
    folder = tmp_path / name
    with resources.as_file(resources.files("halewright") / "data" / "demo" / name) as shipped:
        shutil.copytree(shipped, folder)
    group = groups.load(folder)
    row = groups_kept.keep(group, organisation=cast.alma.organisation, by=cast.alma, at=KEPT_AT)
    blocks.keep(stories.plain_plan(group), group=row, by=cast.alma, at=KEPT_AT)
    said: list[str] = []

    stocked = installation.stock(
        folder=folder, now=NOW, progress=lambda words, share: said.append(f"{words} {share}")
    )

    assert stocked.plan == stories.plain_plan(group)
    assert models.Group.objects.filter(name=group.name).count() == 1
    assert said == []

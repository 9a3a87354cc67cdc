from datetime import date
from pathlib import Path

import pytest

from halewright.core.errors import BadInput
from halewright.usecases import demo, groups


def demo_folder(tmp_path: Path, name: str) -> Path:
    """Return the folder of a demo group that may be changed."""
    return next(item.folder for item in demo.listing(tmp_path) if item.name == name)


def contents(folder: Path) -> dict[str, bytes]:
    """Return every file of a folder with its bytes."""
    return {
        str(file.relative_to(folder)): file.read_bytes()
        for file in folder.rglob("*")
        if file.is_file()
    }


def test_the_demo_groups_are_listed_with_their_size(tmp_path: Path) -> None:
    """Both load with no problem: 14 people for 12 weeks, 8 people for 8, twice a week."""
    found = {
        item.name: (item.people, item.weeks, item.sessions_per_week)
        for item in demo.listing(tmp_path)
    }

    assert demo.names() == ("fernleigh-lounge", "marlow-street-hall")
    assert found == {"Marlow Street Hall": (14, 12, 2), "Fernleigh Lounge": (8, 8, 2)}


def test_a_demo_that_was_changed_is_kept(tmp_path: Path) -> None:
    """Listing again does not put the shipped folder over the person's own changes."""
    folder = demo_folder(tmp_path, "Marlow Street Hall")
    text = (folder / "group.toml").read_text("utf-8")
    renamed = text.replace('name = "Marlow Street Hall"', 'name = "My hall"', 1)
    (folder / "group.toml").write_text(renamed, "utf-8")

    assert "My hall" in [item.name for item in demo.listing(tmp_path)]


def test_a_demo_copy_that_cannot_be_read_says_what_is_wrong(tmp_path: Path) -> None:
    """A copy spoilt by hand is told with its problems, never replaced."""
    folder = demo_folder(tmp_path, "Marlow Street Hall")
    (folder / "group.toml").write_text("", "utf-8")

    with pytest.raises(BadInput, match=r"group\.toml"):
        demo.listing(tmp_path)


def test_a_look_through_a_list_saves_nothing(tmp_path: Path) -> None:
    """With any problem there are no people to import, only problems and ignored columns."""
    path = tmp_path / "list.csv"
    path.write_text("Id,Name,Born,Room\n1,Joan,1941,4\n2,Raj,never,5\n", "utf-8")

    report = groups.examine(path, on=date(2027, 1, 12))

    assert report.people == ()
    assert [(item.row, item.read) for item in report.problems] == [(3, "never")]
    assert report.ignored_columns == ("Room",)


def test_people_are_brought_in_by_their_ids(tmp_path: Path) -> None:
    """Somebody known is replaced, somebody new is added, nobody is taken out."""
    folder = demo_folder(tmp_path, "Marlow Street Hall")
    path = tmp_path / "list.csv"
    path.write_text("Id,Name,Born\nm02,Del,1941\nm99,Nia,1950\n", "utf-8")

    groups.import_into_folder(path=path, folder=folder)

    people = {person.id: person.preferred_name for person in groups.load(folder).people}
    assert len(people) == 15
    assert (people["m01"], people["m02"], people["m99"]) == ("Joan", "Del", "Nia")


def test_one_problem_keeps_everybody_out(tmp_path: Path) -> None:
    """With one bad row in the list not one byte of the folder changes."""
    folder = demo_folder(tmp_path, "Marlow Street Hall")
    before = contents(folder)
    path = tmp_path / "list.csv"
    path.write_text("Id,Name,Born\nm98,Nia,1950\nm99,Ola,2020\n", "utf-8")

    with pytest.raises(BadInput, match="age of 7"):
        groups.import_into_folder(path=path, folder=folder)

    assert contents(folder) == before

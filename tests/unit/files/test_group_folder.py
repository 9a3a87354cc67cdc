import shutil
from dataclasses import replace
from importlib import resources
from pathlib import Path

import openpyxl
import pytest

from halewright.core.errors import BadInput
from halewright.core.people.kit import BandLabel
from halewright.files import group_folder, saves

SHIPPED = Path(str(resources.files("halewright"))) / "data" / "demo"
DEMOS = ("fernleigh-lounge", "marlow-street-hall")


def demo(tmp_path: Path, name: str = "marlow-street-hall") -> Path:
    """Copy a demo folder to where it can be changed."""
    return Path(shutil.copytree(SHIPPED / name, tmp_path / name))


def contents(folder: Path) -> dict[str, bytes]:
    """Return every file of a folder with its bytes."""
    return {
        str(file.relative_to(folder)): file.read_bytes()
        for file in folder.rglob("*")
        if file.is_file()
    }


@pytest.mark.parametrize("name", DEMOS)
def test_a_demo_folder_comes_back_the_same(tmp_path: Path, name: str) -> None:
    """Reading, writing and reading again changes nothing, in a new folder or in the same one."""
    folder = demo(tmp_path, name)
    group = group_folder.read(folder)

    group_folder.write(group, tmp_path / "elsewhere" / "new")
    group_folder.write(group, folder)

    assert group_folder.read(tmp_path / "elsewhere" / "new") == group
    assert group_folder.read(folder) == group


def test_problems_of_all_files_are_told_at_once(tmp_path: Path) -> None:
    """One fault in each of six files gives six problems that name their files."""
    folder = demo(tmp_path)
    for name, old, new in (
        ("group.toml", "weeks = 12", "weeks = 120"),
        ("people.csv", "1946-03-14", "once"),
        ("screens.csv", "m14,", "m99,"),
        ("decisions.csv", "go ahead", "perhaps"),
        ("bands.csv", "Oak,latex,", "Oak,wood,"),
        ("bands/Oak.csv", "1,1.2", "1,4.2"),
    ):
        text = (folder / name).read_text("utf-8-sig")
        assert old in text
        (folder / name).write_text(text.replace(old, new, 1), "utf-8")

    with pytest.raises(BadInput) as caught:
        group_folder.read(folder)

    assert sorted({item.file for item in caught.value.problems}) == [
        "bands.csv",
        "bands/Oak.csv",
        "decisions.csv",
        "group.toml",
        "people.csv",
        "screens.csv",
    ]


def test_an_empty_folder_says_what_belongs_in_it(tmp_path: Path) -> None:
    """A folder without group.toml and people is told both."""
    with pytest.raises(BadInput) as caught:
        group_folder.read(tmp_path)

    assert [item.file for item in caught.value.problems] == ["group.toml", "people.csv"]


def test_two_files_of_people_are_a_problem(tmp_path: Path) -> None:
    """With people.csv and people.xlsx nobody can tell which counts."""
    folder = demo(tmp_path)
    openpyxl.Workbook().save(folder / "people.xlsx")

    with pytest.raises(BadInput, match=r"people\.csv and people\.xlsx"):
        group_folder.read(folder)


def test_readings_of_a_band_that_is_not_there_are_a_problem(tmp_path: Path) -> None:
    """A file of points whose name is no band's label is not silently left out."""
    folder = demo(tmp_path)
    (folder / "bands" / "Oak.csv").rename(folder / "bands" / "Oke.csv")

    with pytest.raises(BadInput, match=r"bands/Oke\.csv"):
        group_folder.read(folder)


def test_a_workbook_that_is_replaced_is_kept(tmp_path: Path) -> None:
    """The leader's own spreadsheet, with its other columns, moves among the originals."""
    folder = demo(tmp_path, "fernleigh-lounge")
    before = (folder / "people.xlsx").read_bytes()

    group_folder.write(group_folder.read(folder), folder)

    assert (folder / "originals" / "people.xlsx").read_bytes() == before
    assert not (folder / "people.xlsx").exists()


def test_files_that_are_not_the_groups_stay(tmp_path: Path) -> None:
    """A plan or a photograph in the folder is none of the writer's business."""
    folder = demo(tmp_path)
    (folder / "plan.json").write_text("{}", "utf-8")

    group_folder.write(group_folder.read(folder), folder)

    assert (folder / "plan.json").read_text("utf-8") == "{}"


def test_readings_of_a_band_taken_out_go_with_it(tmp_path: Path) -> None:
    """After a band has gone its points file would be a problem, so it goes too."""
    folder = demo(tmp_path)
    group = group_folder.read(folder)
    fewer = replace(group, bands=tuple(band for band in group.bands if band.label != "Oak"))

    group_folder.write(fewer, folder)

    assert group_folder.read(folder) == fewer


def test_labels_that_no_file_may_have_come_back(tmp_path: Path) -> None:
    """Labels with signs that machines forbid, and that become alike without them, stay apart."""
    group = group_folder.read(demo(tmp_path))
    bands = [replace(band, label=BandLabel(f"{band.label}")) for band in group.bands]
    bands[0] = replace(bands[0], label=BandLabel("a/b"))
    bands[1] = replace(bands[1], label=BandLabel("a:b"))
    bands[2] = replace(bands[2], label=BandLabel("a-b"))
    changed = replace(group, bands=tuple(bands))

    group_folder.write(changed, tmp_path / "new")

    assert group_folder.read(tmp_path / "new") == changed


def test_a_group_that_could_not_be_read_again_is_not_written(tmp_path: Path) -> None:
    """A stature of 3 m would be refused on reading, so it is refused before anything changes."""
    folder = demo(tmp_path)
    before = contents(folder)
    group = group_folder.read(folder)
    giant = replace(group.people[0], stature_m=3.0)

    with pytest.raises(BadInput, match=r"people\.csv, row 2, column E"):
        group_folder.write(replace(group, people=(giant, *group.people[1:])), folder)

    assert contents(folder) == before


class StopHere(Exception):
    """Stands for the power going."""


def test_a_stop_while_writing_changes_nothing(tmp_path: Path) -> None:
    """When the new files are not complete, the folder is as it was."""
    folder = demo(tmp_path)
    before = contents(folder)

    def stopping(saving: Path) -> None:
        (saving / "group.toml").write_text("half", "utf-8")
        raise StopHere

    with pytest.raises(StopHere):
        saves.commit(folder, fill=stopping, tidy=lambda _folder, _fresh: None)

    assert contents(folder) == before


def test_a_stop_while_moving_is_made_good(tmp_path: Path) -> None:
    """When the new files are complete but only some in place, the next reading finishes it."""
    folder = demo(tmp_path)
    group = replace(group_folder.read(folder), name="Renamed")
    fewer = replace(group, people=group.people[1:], screens=group.screens[1:])

    def stopping(_folder: Path, _fresh: Path) -> None:
        raise StopHere

    def fill(saving: Path) -> None:
        group_folder.write(fewer, saving)

    with pytest.raises(StopHere):
        saves.commit(folder, fill=fill, tidy=stopping)
    shutil.copyfile(folder / ".saved" / "people.csv", folder / "people.csv")

    assert group_folder.read(folder) == fewer
    assert not (folder / ".saved").exists()

"""Every command from its words to what it prints and its exit code, on a small demo group."""

import re
import shutil
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import msgspec
import pytest

from halewright.cli import main
from halewright.files import documents
from halewright.usecases import demo, groups


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """What a command left behind."""

    code: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        return msgspec.json.decode(self.out)


class Terminal:
    """Calls commands in this process, as the installed programme does."""

    def __init__(self, capsys: pytest.CaptureFixture[str]) -> None:
        self.capsys = capsys

    def __call__(self, *words: object) -> Said:
        self.capsys.readouterr()
        with pytest.raises(SystemExit) as ended:
            main.main([str(word) for word in words])
        seen = self.capsys.readouterr()
        return Said(code=int(ended.value.code or 0), out=seen.out, err=seen.err)


@pytest.fixture
def call(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, home: Path
) -> Terminal:
    monkeypatch.setenv("HALEWRIGHT_HOME", str(home))
    return Terminal(capsys)


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("home")


@pytest.fixture(scope="module")
def folder(home: Path) -> Path:
    """A demo group with a block of two weeks, so that planning is quick."""
    (found,) = (
        each.folder
        for each in demo.listing(home / "demo")
        if each.folder.name == "fernleigh-lounge"
    )
    toml = found / "group.toml"
    told = toml.read_text(encoding="utf-8")
    for name, value in (("weeks", "2"), ("test_weeks", "[1, 2]"), ("keep_weeks", "2")):
        told = re.sub(rf"(?m)^{name} = .*$", f"{name} = {value}", told)
    toml.write_text(told, encoding="utf-8")
    return found


@pytest.fixture(scope="module")
def plan_file(folder: Path, home: Path) -> Path:
    """A plan of that block, made by the command."""
    path = home / "plan.json"
    with pytest.raises(SystemExit) as ended:
        main.main(["plan", str(folder), "--seed", "1", "--work", "1", "--out", str(path)])
    assert not ended.value.code
    return path


def test_demo_list(call: Terminal, folder: Path) -> None:
    """The demo groups are told with their folders, which hold a group."""
    said = call("demo", "list", "--json")

    assert said.code == 0
    assert {each["name"] for each in said.json} == {"Fernleigh Lounge", "Marlow Street Hall"}
    assert all((Path(each["folder"]) / "group.toml").is_file() for each in said.json)
    assert str(folder) in {each["folder"] for each in said.json}


def test_demo_list_for_people(call: Terminal) -> None:
    """Without --json the same is a table."""
    assert "Fernleigh Lounge" in call("demo", "list").out


def test_plan_tells_its_objective(call: Terminal, folder: Path, tmp_path: Path) -> None:
    """A plan of two weeks is saved and summed up: objective, bound, seconds, sessions."""
    out = tmp_path / "plan.json"

    said = call("plan", folder, "--seed", 1, "--work", 1, "--out", out, "--json")

    assert said.code == 0
    assert said.json.keys() == {"objective", "bound", "seconds", "sessions"}
    assert said.json["sessions"] == len(documents.read_plan(out).sessions) == 4
    assert said.json["bound"] <= said.json["objective"]


def test_the_same_seed_and_work_give_the_same_plan(
    call: Terminal, folder: Path, plan_file: Path, tmp_path: Path
) -> None:
    """A second run with the same seed and work writes the same bytes."""
    again = tmp_path / "again.json"

    call("plan", folder, "--seed", 1, "--work", 1, "--out", again, "--json")

    assert again.read_bytes() == plan_file.read_bytes()


def test_check_of_a_sound_plan(call: Terminal, folder: Path, plan_file: Path) -> None:
    """A plan as it was made has no breach: exit code 0 and an empty list."""
    said = call("check", plan_file, "--group", folder, "--json")

    assert said.code == 0
    assert said.json == {"violations": [], "accepted": []}


def test_check_of_a_broken_plan(
    call: Terminal, folder: Path, plan_file: Path, tmp_path: Path
) -> None:
    """A plan whose work intervals were stretched is told breach by breach: exit code 1."""
    broken = tmp_path / "broken.json"
    broken.write_text(plan_file.read_text("utf-8").replace('"work_ms": 40000', '"work_ms": 99000'))

    said = call("check", broken, "--group", folder, "--json")
    for_people = call("check", broken, "--group", folder)

    assert said.code == for_people.code == 1
    assert said.json["violations"]
    assert said.json["violations"][0].keys() == {
        "rule",
        "week",
        "session",
        "station",
        "person",
        "words",
        "incurable",
    }
    assert f"{len(said.json['violations'])} breaches" in for_people.out


def test_session_as_text(call: Terminal, folder: Path, plan_file: Path) -> None:
    """The run sheet is printed for a terminal, with its heading."""
    said = call("session", plan_file, "--group", folder, "--week", 1, "--session", 2)

    assert said.code == 0
    assert said.out.startswith("Week 1, session 2.")
    assert "COOL-DOWN" in said.out


def test_session_as_a_page(call: Terminal, folder: Path, plan_file: Path) -> None:
    """The same sheet is one page that needs nothing else."""
    said = call(
        "session", plan_file, "--group", folder,
        "--week", 1, "--session", 2, "--format", "html",
    )  # fmt: skip

    assert said.code == 0
    assert said.out.startswith("<!doctype html>")
    assert "http" not in said.out


def test_session_for_programmes(
    call: Terminal, folder: Path, plan_file: Path, tmp_path: Path
) -> None:
    """The timeline is a document that can be read again, by either spelling."""
    words = ("session", plan_file, "--group", folder, "--week", 1, "--session", 2)
    said = call(*words, "--format", "json")
    kept = tmp_path / "timeline.json"
    kept.write_text(said.out, encoding="utf-8")

    assert documents.read_timeline(kept).events[0].start_ms == 0
    assert call(*words, "--json").out == said.out


def test_the_wall_copy_has_no_names(call: Terminal, folder: Path, plan_file: Path) -> None:
    """With --wall nobody expected is named."""
    words = ("session", plan_file, "--group", folder, "--week", 1, "--session", 2)
    named, wall = call(*words).out, call(*words, "--wall").out

    expected = named.split("): ", 1)[1].split("\n", 1)[0]
    names = [name.strip() for name in expected.split(",") if name.strip()]
    assert len(names) >= 4
    assert not [name for name in names if name in wall]


def test_a_session_outside_the_block(call: Terminal, folder: Path, plan_file: Path) -> None:
    """Week 99 is refused in a sentence, without a trace."""
    said = call("session", plan_file, "--group", folder, "--week", 99, "--session", 1)

    assert said.code == 1
    assert said.err.startswith("The block has no session 1 in week 99.")
    assert "Traceback" not in said.err


def test_a_plan_that_is_no_plan(call: Terminal, folder: Path, tmp_path: Path) -> None:
    """A file of another kind is refused in a sentence, without a trace."""
    other = tmp_path / "shopping.json"
    other.write_text("[]", encoding="utf-8")

    said = call("check", other, "--group", folder)

    assert said.code == 1
    assert "shopping.json" in said.err
    assert "Traceback" not in said.err


def test_a_folder_that_is_no_group(call: Terminal, tmp_path: Path) -> None:
    """An empty folder is refused in a sentence, without a trace."""
    said = call("plan", tmp_path)

    assert said.code == 1
    assert said.err.strip().endswith(".")
    assert "Traceback" not in said.err


def test_catalogue_check(call: Terminal) -> None:
    """All that ships is sound: exit code 0, 60 movements or more."""
    said = call("catalogue", "check", "--json")

    assert said.code == 0
    assert said.json["problems"] == []
    assert said.json["movements"] >= 60


def test_catalogue_check_of_a_broken_file(call: Terminal, tmp_path: Path) -> None:
    """A file with a fault is named with what was read and how to mend it: exit code 1."""
    broken = tmp_path / "odd.toml"
    broken.write_text('id = "odd"\n', encoding="utf-8")

    said = call("catalogue", "check", broken, "--json")

    assert said.code == 1
    assert {problem["file"] for problem in said.json["problems"]} == {"odd.toml"}
    assert all(problem["mend"] for problem in said.json["problems"])


def test_import_of_sound_people(call: Terminal, folder: Path) -> None:
    """The demo group's own table of people is read without a problem."""
    said = call("import", folder / "people.xlsx", "--json")

    assert said.code == 0
    assert said.json == {"people": 8, "problems": []}


def test_import_of_broken_people(call: Terminal, tmp_path: Path) -> None:
    """Every problem has its row; nobody is brought in; exit code 1."""
    table = tmp_path / "people.csv"
    table.write_text("id,name,born\na1,Ann,1890-99-99\na1,Ann,1950\n", encoding="utf-8")

    said = call("import", table, "--json")

    assert said.code == 1
    assert said.json["people"] == 0
    assert {problem["row"] for problem in said.json["problems"]} >= {2}
    assert "Nothing was imported." in call("import", table).err


def test_import_into_a_folder(call: Terminal, folder: Path, tmp_path: Path) -> None:
    """With --into a new person is in the folder's group afterwards, beside those who were."""
    mine = tmp_path / "mine"
    shutil.copytree(folder, mine)
    table = tmp_path / "new.csv"
    table.write_text("id,name\nnew1,Newcomer\n", encoding="utf-8")

    said = call("import", table, "--into", mine)

    assert said.code == 0, said.err
    assert len(groups.load(mine).people) == len(groups.load(folder).people) + 1


def test_options_for_programmes(call: Terminal, folder: Path) -> None:
    """Each person, movement and way has a verdict, and each that is not suitable a reason."""
    rows = call("options", folder, "--json").json

    assert {row["verdict"] for row in rows} == {"suitable", "with_care", "not_suitable"}
    assert all(row["reasons"] for row in rows if row["verdict"] == "not_suitable")
    assert all(reason["source"] for row in rows for reason in row["reasons"]), (
        "every reason has its source"
    )


def test_options_of_one_person(call: Terminal, folder: Path) -> None:
    """With --person the rows are that person's alone."""
    rows = call("options", folder, "--json").json
    one = rows[0]["person"]

    only = call("options", folder, "--person", one, "--json").json

    assert only == [row for row in rows if row["person"] == one]


def test_strange_words_are_refused(call: Terminal) -> None:
    """A command that there is not ends with code 2 and says so."""
    said = call("dance")

    assert said.code == 2
    assert "dance" in said.err


@pytest.mark.parametrize(
    "words",
    [
        ("--seed", str(10**30)),
        ("--seed", "-1"),
        ("--work", "0"),
        ("--seconds", "nan"),
        ("--seconds", "-1"),
    ],
)
def test_limits_that_make_no_sense_are_refused(
    call: Terminal, folder: Path, words: tuple[str, str]
) -> None:
    """A seed no solver takes, no work at all and no number of seconds: the words are off (2)."""
    said = call("plan", folder, *words)

    assert said.code == 2
    assert words[0] in said.err


@pytest.mark.parametrize("value", ["nan", "inf"])
@pytest.mark.parametrize("option", ["--grip", "--tension"])
def test_what_is_no_number_is_no_grip(
    call: Terminal, folder: Path, option: str, value: str
) -> None:
    """Python reads "nan" and "inf" as numbers; nobody can grip there."""
    said = call("loads", folder, "--movement", "seated-row", option, value)

    assert said.code == 2
    assert option in said.err


def test_options_of_nobody_are_an_error(call: Terminal, folder: Path) -> None:
    """A mistyped person is named; an empty list would read as "may do nothing"."""
    said = call("options", folder, "--person", "f99")

    assert said.code == 1
    assert "f99" in said.err


def test_a_run_sheet_of_another_group_is_refused(
    call: Terminal, folder: Path, plan_file: Path
) -> None:
    """Somebody else's names must not be put to a plan: both groups are named, nothing printed."""
    other = folder.parent / "marlow-street-hall"

    said = call("session", plan_file, "--group", other, "--week", 1, "--session", 1)

    assert (said.code, said.out) == (1, "")
    assert "Fernleigh Lounge" in said.err
    assert "Marlow Street Hall" in said.err


def test_programmes_are_told_why(call: Terminal, plan_file: Path, folder: Path) -> None:
    """With --json an error is JSON too: its words, and a row for each problem in a file."""
    outside = call("session", plan_file, "--group", folder, "--week", 99, "--session", 1, "--json")
    unread = call("plan", folder.parent, "--json")

    assert (outside.code, unread.code) == (1, 1)
    assert "week 99" in outside.json["reason"]
    assert {row["file"] for row in unread.json["problems"]} >= {"group.toml"}

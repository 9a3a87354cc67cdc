from pathlib import Path

import pytest

from halewright.core.catalogue import movement, words
from halewright.files import movements

SOUND = """
schema = "halewright.movement"
version = 1
id = "foot-lift"
name = "Foot lift"
part = "main"
pattern = "knee_extension"
prime_movers = ["quadriceps"]
helper_muscles = []
goals = ["stairs"]
source = "common practice"

[teaching]
start = "Sit tall."
set_up = "No band."
points = ["Toes up."]
breath = "Breathe out as you lift."
faults = []
safety = "Stop short of pain."
daily_life = "Steps."

[standard]
how = "Lift one foot."
position = "seated"
set_up = "none"
support = "none"
sides = "each"
tempo = { out_s = 2, hold_s = 1, back_s = 3 }
poses = [
  { phase = 0, angles_deg = {} },
  { phase = 1, angles_deg = { knee_flexion_right = 10, ankle_dorsiflexion = 5 } },
]

[gentler]
how = "Lift it halfway."
range_share = 0.5
"""


def write(folder: Path, text: str, name: str = "foot-lift.toml") -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def sentences(folder: Path, text: str) -> str:
    outcome = movements.read(write(folder, text))
    assert not isinstance(outcome, movement.Movement)
    return "\n".join(problem.sentence() for problem in outcome)


def test_a_sound_file_is_read_whole(tmp_path: Path) -> None:
    """Ways that leave things out get them from the standard way; degrees become radians."""
    outcome = movements.read(write(tmp_path, SOUND))

    assert isinstance(outcome, movement.Movement)
    gentler = outcome.option(words.OptionKind.GENTLER)
    assert gentler.sides is words.Sides.EACH
    # An unsided name is both sides: 5 degrees = 0.0872665 rad.
    assert outcome.standard.poses[1].angles_rad["ankle_dorsiflexion_left"] == pytest.approx(
        0.0872665, abs=1e-7
    )


def test_half_the_range_begins_at_the_seat(tmp_path: Path) -> None:
    """Half of 90 to 10 degrees is 50: an angle that the first pose leaves out is the seat's."""
    outcome = movements.read(write(tmp_path, SOUND))

    assert isinstance(outcome, movement.Movement)
    gentler = outcome.option(words.OptionKind.GENTLER)
    # 90 + 0.5 * (10 - 90) = 50 degrees = 0.8726646 rad.
    assert gentler.poses[1].angles_rad["knee_flexion_right"] == pytest.approx(0.8726646, abs=1e-7)


def test_all_faults_of_a_file_are_told_at_once(tmp_path: Path) -> None:
    """Six slips in one file give six sentences, each with its place."""
    text = (
        SOUND.replace('position = "seated"', 'position = "sitting"')
        .replace("out_s = 2", 'out_s = "two"')
        .replace('breath = "Breathe out as you lift."', "")
        .replace("knee_flexion_right", "knee_bend_right")
        .replace("range_share", "range_shares")
        .replace("version = 1", "version = 1.5")
    )

    found = sentences(tmp_path, text)

    assert len(found.splitlines()) == 6
    assert "standard.position: sitting”. Use one of: seated, supported_standing, rising." in found
    assert "standard.tempo.out_s: two”. Write a number" in found
    assert "no teaching.breath”. Add it" in found
    assert "knee_bend_right”. There is no such name." in found
    assert "gentler.range_shares”. There is no such name. Did you mean “range_share”?" in found
    assert "version: 1.5”. Write a whole number" in found
    assert all(line.startswith("foot-lift.toml: ") for line in found.splitlines())


@pytest.mark.parametrize(
    ("old", "new", "mend"),
    [
        ('points = ["Toes up."]', 'points = "Toes up."', "Write a list"),
        ("angles_deg = {}", "angles_deg = 3", "Write names and numbers"),
        ("tempo = { out_s = 2, hold_s = 1, back_s = 3 }", "tempo = 3", "Write named values"),
        ('name = "Foot lift"', "name = 3", "Write words in quotation marks"),
        ('source = "common practice"', 'source = "common practice"\npower = 1', "true or false"),
        ("out_s = 2", "out_s = nan", "Write a number"),
        ("out_s = 2", "out_s = true", "Write a number"),
    ],
)
def test_each_kind_of_slip_says_how_to_mend_it(
    tmp_path: Path, old: str, new: str, mend: str
) -> None:
    """A value of the wrong kind is answered with the right kind."""
    assert mend in sentences(tmp_path, SOUND.replace(old, new))


def test_a_band_at_no_place_is_found(tmp_path: Path) -> None:
    """A misspelt place of the band is answered with the nearest that there is."""
    path = '\npaths = [{ nodes = [{ kind = "clamp", at = "grip_rigth" }] }]\n'

    found = sentences(tmp_path, SOUND + path)

    assert "grip_rigth”. There is no such name. Did you mean “grip_right”?" in found


def test_a_file_that_is_not_toml_is_told_with_its_line(tmp_path: Path) -> None:
    """A slip of the pen is reported with line and column."""
    assert "line 2" in sentences(tmp_path, "\nname = Foot lift\n")


def test_a_file_named_otherwise_or_of_another_version_is_refused(tmp_path: Path) -> None:
    """The id is the file's name, and a future version is not guessed at."""
    found = sentences(
        tmp_path, SOUND.replace("version = 1", "version = 2").replace('"foot-lift"', '"lift"')
    )

    assert "halewright.movement version 2" in found
    assert "Name the file as its id" in found


def test_a_folder_gives_what_it_can_and_every_problem(tmp_path: Path) -> None:
    """Sound files are kept in order of id, broken ones reported, other files passed over."""
    write(tmp_path, SOUND)
    write(tmp_path, SOUND.replace('"foot-lift"', '"arm-lift"'), "arm-lift.toml")
    write(tmp_path, SOUND.replace('"main"', '"middle"'), "broken.toml")
    write(tmp_path, "not a movement", "notes.txt")

    catalogue, problems = movements.read_folder(tmp_path)

    assert list(catalogue) == ["arm-lift", "foot-lift"]
    assert [problem.file for problem in problems] == ["broken.toml"]


def test_a_folder_that_is_not_there_is_a_problem(tmp_path: Path) -> None:
    """A mistyped folder is told, not taken for an empty catalogue."""
    catalogue, problems = movements.read_folder(tmp_path / "nowhere")

    assert dict(catalogue) == {}
    assert [problem.file for problem in problems] == ["nowhere"]

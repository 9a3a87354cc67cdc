"""Every movement file that is shipped, one by one, and the catalogue that they make together."""

import math
from collections import Counter
from importlib import resources
from pathlib import Path

import pytest

from halewright.core.catalogue import checks, movement, words
from halewright.core.mechanics import demand_rules, pose_checks
from halewright.core.people.limits import Measure
from halewright.files import movements

FOLDER = resources.files("halewright").joinpath("data", "movements")
FILES = sorted(entry.name for entry in FOLDER.iterdir() if entry.name.endswith(".toml"))


def read(name: str) -> movement.Movement:
    outcome = movements.read(FOLDER.joinpath(name))
    assert isinstance(outcome, movement.Movement), "\n".join(
        problem.sentence() for problem in outcome
    )
    return outcome


@pytest.mark.parametrize("name", FILES)
def test_file_has_the_shape(name: str) -> None:
    """The file is read without a fault and is named as its id."""
    assert f"{read(name).id}.toml" == name


@pytest.mark.parametrize("name", FILES)
def test_file_means_what_it_must(name: str) -> None:
    """The file keeps every rule that a movement can keep by itself."""
    problems = checks.check_alone(read(name))

    assert [problem.sentence() for problem in problems] == []


@pytest.mark.parametrize("name", FILES)
def test_file_can_be_done_by_a_body(name: str) -> None:
    """Ranges, floor, chair and band allow every way of the movement."""
    problems = pose_checks.check(read(name))

    assert [problem.sentence() for problem in problems] == []


def test_the_catalogue_is_whole() -> None:
    """All files together keep every rule, links and patterns included."""
    catalogue, problems = movements.read_folder(FOLDER)

    found = problems + checks.check(catalogue)

    assert [problem.sentence() for problem in found] == []


def test_shipped_is_in_order_of_id() -> None:
    """The shipped catalogue holds every file, in order of id, so that plans are repeatable."""
    catalogue = movements.shipped()

    assert [f"{key}.toml" for key in catalogue] == sorted(
        FILES, key=lambda name: name.removesuffix(".toml")
    )


def test_a_session_can_be_filled() -> None:
    """A year need not go stale: 100 movements, 70 of them main, 16 warm-up and 14 cool-down."""
    parts = Counter(item.part for item in movements.shipped().values())

    assert parts.total() >= 100
    assert parts[words.Part.WARM_UP] >= 16
    assert parts[words.Part.MAIN] >= 70
    assert parts[words.Part.COOL_DOWN] >= 14


@pytest.mark.parametrize("pattern", checks.MAIN_PATTERNS, ids=lambda pattern: pattern.value)
def test_every_pattern_has_four_movements(pattern: words.Pattern) -> None:
    """Each main pattern has four movements or more, so that four weeks can differ."""
    found = [item for item in movements.shipped().values() if item.pattern is pattern]

    assert len(found) >= 4


def test_the_main_part_has_every_kind_of_work() -> None:
    """Banded and bandless, seated and standing, both sides, by turns, one side, and still holds."""
    main = [item for item in movements.shipped().values() if item.part is words.Part.MAIN]

    assert Counter(item.standard.set_up is words.SetUp.NONE for item in main)[False] >= 30
    assert Counter(item.standard.position for item in main)[words.Position.SUPPORTED_STANDING] >= 10
    sides = Counter(item.standard.sides for item in main)
    assert min(sides[way] for way in words.Sides) >= 10
    assert len([item for item in main if item.standard.tempo.hold_s >= 3.0]) >= 10
    assert len([item for item in main if item.power]) >= 4


def test_everybody_standing_can_sit_down_instead() -> None:
    """The gentler way of every movement that stands behind a chair is done on it."""
    standing = [
        item
        for item in movements.shipped().values()
        if item.standard.position is words.Position.SUPPORTED_STANDING
    ]

    assert standing
    for item in standing:
        gentler = item.option(words.OptionKind.GENTLER)
        assert gentler.position is words.Position.SEATED, item.id


def test_every_main_movement_is_on_a_ladder() -> None:
    """Each main movement has a neighbour that is gentler or stronger, in its file or another's."""
    catalogue = movements.shipped()
    linked = {
        link
        for item in catalogue.values()
        for link in (item.gentler_movement, item.stronger_movement)
        if link is not None
    }
    alone = [
        item.id
        for item in catalogue.values()
        if item.part is words.Part.MAIN
        and item.id not in linked
        and item.gentler_movement is None
        and item.stronger_movement is None
    ]

    assert alone == []


def test_every_muscle_group_is_somebodys_prime_mover() -> None:
    """No muscle group is left without a main movement of its own but the adductors' squeeze."""
    worked = {
        muscle
        for item in movements.shipped().values()
        if item.part is words.Part.MAIN
        for muscle in item.prime_movers
    }

    assert set(words.Muscle) - worked <= {words.Muscle.HIP_ADDUCTORS}


def test_every_goal_has_main_movements() -> None:
    """Each goal is served by five main movements or more, so that a block can vary."""
    served = Counter(
        goal
        for item in movements.shipped().values()
        if item.part is words.Part.MAIN
        for goal in item.goals
    )

    assert {goal: served[goal] >= 5 for goal in words.Goal} == dict.fromkeys(words.Goal, True)


def test_json_schema_is_up_to_date() -> None:
    """The committed JSON Schema is the one that the reader's types give."""
    kept = resources.files("halewright").joinpath("data", "schema", "movement.json")

    assert kept.read_text(encoding="utf-8") == movements.json_schema()


def test_the_guides_example_is_sound(tmp_path: Path) -> None:
    """The file shown in the guide for authors is itself read and keeps every rule."""
    guide = Path(__file__).parents[2] / "docs" / "adding-a-movement.md"
    example = guide.read_text(encoding="utf-8").split("```toml\n")[1].split("```")[0]
    file = tmp_path / "knee-straighten.toml"
    file.write_text(example, encoding="utf-8")

    outcome = movements.read(file)

    assert isinstance(outcome, movement.Movement)
    assert checks.check_alone(outcome) == ()
    assert list(pose_checks.check(outcome)) == []


def test_a_hip_that_may_not_pass_a_right_angle_still_works() -> None:
    """With the hip kept to 90 degrees every main pattern has two movements or more."""
    right_angle_rad = math.pi / 2 + 1e-6
    left = Counter(
        item.pattern
        for item in movements.shipped().values()
        if item.part is words.Part.MAIN
        and any(
            demand_rules.of(option=option, power=item.power).most(Measure.HIP_FLEXION)
            <= right_angle_rad
            for option in item.options
        )
    )

    assert [pattern for pattern in checks.MAIN_PATTERNS if left[pattern] < 2] == []

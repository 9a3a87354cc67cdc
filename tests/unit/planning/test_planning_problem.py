"""The planning problem: people turned into constants."""

from dataclasses import replace

import pytest
from tests.fakes import small_block
from tests.fakes.small_block import ANN, BARRED, BOB, CYD, PLAIN

from halewright.core.catalogue.movement import MovementId
from halewright.core.catalogue.words import HandSupport, OptionKind, Position
from halewright.core.people.person import Weekday
from halewright.core.planning import problem
from halewright.core.planning.problem import Shape
from halewright.core.session.durations import Durations

NAMES = ("push-1", "pull-1", "rise-1", "trunk-1")
PUSH = MovementId("push-1")
BOTH = (Weekday.TUESDAY, Weekday.FRIDAY)


def build(*people: small_block.Person, **changes: object) -> problem.Problem:
    return small_block.build(
        small_block.group(*people, weeks=2, days=BOTH),
        small_block.catalogue(*NAMES),
        **changes,  # type: ignore[arg-type]
    )


@pytest.mark.parametrize(
    ("slot_minutes", "rounds", "expected"),
    [
        (60, None, (3, 8)),
        (45, None, (2, 9)),
        (30, None, (2, 5)),
        (25, None, (1, 6)),
        (45, 1, (1, 8)),
        (30, 3, (3, 7)),
        (10, None, (1, 4)),
    ],
)
def test_shape_chosen_for_a_slot(
    slot_minutes: int, rounds: int | None, expected: tuple[int, int]
) -> None:
    """Two rounds before many stations; what was asked for is kept; at least something is tried."""
    group = small_block.group(slot_minutes=slot_minutes, rounds=rounds)
    first = problem.shapes(group, durations=Durations())[0]
    assert (first.rounds, first.stations) == expected


def test_rounds_rise_from_learning_to_full_with_an_easier_week() -> None:
    """Of two rounds: one for two weeks to learn and in weeks 4 and 8, two else; one for tests."""
    made = small_block.build(
        small_block.group(weeks=8, test_weeks=(7,)),
        small_block.catalogue(*NAMES),
        shape=Shape(rounds=2, stations=3),
    )
    assert [made.rounds_of(meet) for meet in made.meets] == [1, 1, 2, 1, 2, 2, 1, 1]


def test_cells_are_phases_by_days() -> None:
    """Two weeks in one phase of two weekdays are two cells of two sessions."""
    made = build()
    assert [(cell.phase, cell.slot, len(cell.meets)) for cell in made.cells] == [
        (0, 0, 2), (0, 1, 2),
    ]  # fmt: skip


def test_cue_points_by_hand() -> None:
    """Ann's and Bob's other way of the push: 10 for the way, 2 for each, in each session.

    Tuesday's cell holds the handling session, in which nothing counts: 14 once. Friday's: twice.
    """
    told = {(name, "push-1", OptionKind.STANDARD): BARRED for name in ("ann", "bob")}
    tuesday, friday = build(verdicts=told).cells
    assert tuesday.choices[PUSH].cue_points == 14
    assert friday.choices[PUSH].cue_points == 28
    assert friday.choices[PUSH].different == {ANN: 2, BOB: 2}


def test_two_ways_are_two_cues() -> None:
    """Ann takes the gentler, Bob the bandless way: 2 × 10 and 2 × 2 in each of two sessions."""
    told = {
        ("ann", "push-1", OptionKind.STANDARD): BARRED,
        ("bob", "push-1", OptionKind.STANDARD): BARRED,
        ("bob", "push-1", OptionKind.GENTLER): BARRED,
    }
    assert build(verdicts=told).cells[1].choices[PUSH].cue_points == 48


def test_movement_without_a_way_for_somebody_cannot_stand() -> None:
    """Only where Ann comes: on Fridays."""
    ann = small_block.person("ann", days=(Weekday.FRIDAY,))
    made = build(ann, small_block.person("bob"), barred=[("ann", "push-1")])
    assert [PUSH in cell.choices for cell in made.cells] == [True, False]


def test_last_resorts_are_named_by_person_and_date() -> None:
    """Allowed, the push stands: Ann sits out in both of Friday's sessions."""
    made = build(barred=[("ann", "push-1")], allow_last_resorts=True)
    found = made.cells[1].choices[PUSH]
    assert found.resorts == 2
    assert found.instead == {(ANN, meet.on): None for meet in made.cells[1].meets}
    # A last resort is another way to cue as well: 10 and 2 in each session.
    assert found.cue_points == 24


def test_two_may_need_a_last_resort_and_three_may_not() -> None:
    """A leader can look after two."""
    two = [(name, "push-1") for name in (ANN, BOB)]
    assert PUSH in build(barred=two, allow_last_resorts=True).cells[0].choices
    assert (
        PUSH not in build(barred=[*two, (CYD, "push-1")], allow_last_resorts=True).cells[0].choices
    )


def test_open_flag_counts_for_nothing() -> None:
    """Bob waits for an answer: his missing ways keep nothing out and cost nothing."""
    made = build(barred=[("bob", name) for name in NAMES], asked=["bob"])
    found = made.cells[1].choices[PUSH]
    assert (found.cue_points, found.resorts) == (0, 0)


def test_nobody_stands_in_a_seated_group() -> None:
    """A rise does not stand in a group in which nobody stands, though it suits all."""
    group = replace(small_block.group(), seated_only=True)
    movements = small_block.catalogue(*NAMES)
    rise = movements[MovementId("rise-1")]
    assert rise.standard.position is Position.RISING
    found = small_block.build(group, movements).cells[0].choices
    # Its way without a band is seated in this catalogue, so it stands with that alone.
    assert found[rise.id].different == {}
    made = small_block.build(group, movements, allow_last_resorts=False)
    assert not made.matrix[ANN, rise.id, OptionKind.STANDARD].fit.value.startswith("suit")


def test_a_rise_by_the_chairs_arms_needs_chairs_with_arms() -> None:
    """Where the hall has none, or nobody has said so, the movement cannot stand."""
    movements = small_block.catalogue(*NAMES)
    old = movements[MovementId("rise-1")]
    helped = replace(old.standard, support=HandSupport.TWO_HANDS)
    movements[old.id] = replace(old, options=(helped, *old.options[1:]))
    group = small_block.group()

    for has_arms, stands in ((None, False), (False, False), (True, True)):
        venue = replace(group.venue, chairs_with_arms=has_arms)
        made = small_block.build(replace(group, venue=venue), movements)
        assert (old.id in made.cells[0].choices) is stands


def test_settings_come_through() -> None:
    """The problem carries the rules it was given."""
    assert build().settings == PLAIN

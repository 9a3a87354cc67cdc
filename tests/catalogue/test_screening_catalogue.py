"""What the screening rules make of the movements that ship: safe, and nobody left with nothing."""

from collections.abc import Mapping
from datetime import date
from functools import cache
from pathlib import Path

import pytest
from tests.fakes import screening_cast as cast

import halewright
from halewright.core.catalogue.movement import Movement, MovementId
from halewright.core.catalogue.words import OptionKind, Part
from halewright.core.mechanics import demand_rules
from halewright.core.mechanics.demands import Demands
from halewright.core.people.group import Decision
from halewright.core.people.limits import Measure
from halewright.core.screening import judge, questions, rules
from halewright.core.screening.assess import assess
from halewright.core.screening.verdict import Fit, Matrix, Outcome
from halewright.files import movements
from halewright.files import screening as screening_files

BOOK = screening_files.shipped()
LEAST_OPEN_SHARE = 0.6
"""Of the main movements, for a person with one caution: our own bar."""

AGREED = tuple(
    Decision(
        person=cast.person().id,
        flag=rule.id,
        go_ahead=True,
        by="Dr Imrie",
        on=date(2026, 11, 10),
    )
    for rule in BOOK.rules
    if isinstance(rule.gives, rules.GivesFlag)
)


@cache
def catalogue() -> Mapping[MovementId, Movement]:
    folder = Path(halewright.__file__).parent / "data" / "movements"
    read = (movements.read(path) for path in sorted(folder.glob("*.toml")))
    return {movement.id: movement for movement in read if isinstance(movement, Movement)}


@cache
def demands() -> Mapping[tuple[MovementId, OptionKind], Demands]:
    return {
        (movement.id, option.kind): demand_rules.of(option=option, power=movement.power)
        for movement in catalogue().values()
        for option in movement.options
    }


def judged(outcome: Outcome) -> Matrix:
    return judge.matrix(
        people=(cast.person(),),
        outcomes={cast.person().id: outcome},
        catalogue=catalogue(),
        demands=demands(),
        latex_free=True,
    )


def outcome_of(decisions: tuple[Decision, ...] = AGREED, **answers: str) -> Outcome:
    return assess(
        person=cast.person(),
        screen=cast.screen(**answers),
        decisions=decisions,
        rules=BOOK.rules,
        local_rules=(),
        on=cast.ON,
    )


def open_movements(matrix: Matrix) -> set[MovementId]:
    return {
        movement
        for (_, movement, _), verdict in matrix.items()
        if verdict.fit is not Fit.NOT_SUITABLE
    }


@pytest.mark.parametrize("question", [question.id for question in questions.QUESTIONS])
def test_one_caution_leaves_most_main_movements_open(question: str) -> None:
    """Whoever has one caution, and a doctor's go-ahead, can still do most of the circuit."""
    main = {name for name, movement in catalogue().items() if movement.part is Part.MAIN}

    left = open_movements(judged(outcome_of(**{question: "yes"}))) & main

    assert len(left) >= LEAST_OPEN_SHARE * len(main), sorted(main - left)


def test_open_flag_leaves_seated_work_without_a_band() -> None:
    """With chest pain undecided, what is left is seated and bandless, and there is enough of it."""
    matrix = judged(outcome_of(decisions=(), chest_pain="yes"))
    left = [
        catalogue()[movement].option(kind)
        for (_, movement, kind), verdict in matrix.items()
        if verdict.fit is not Fit.NOT_SUITABLE
    ]

    assert len(left) >= 20
    assert {(option.position.value, option.set_up.value) for option in left} == {("seated", "none")}


def test_replaced_hip_does_nothing_past_its_limits() -> None:
    """Every option open to a replaced hip bends at most 90.75°, crosses and turns in at most 0.75°.

    The 0.75° is the rounding allowed for in computed angles.
    """
    matrix = judged(outcome_of(hip_replacement="yes"))
    rounding_rad = judge.ANGLE_ROUNDING_RAD

    for (_, movement, kind), verdict in matrix.items():
        if verdict.fit is not Fit.NOT_SUITABLE:
            asked = demands()[movement, kind]
            assert asked.most(Measure.HIP_FLEXION) <= cast.rad(90) + rounding_rad
            assert asked.most(Measure.HIP_ADDUCTION) <= rounding_rad
            assert asked.most(Measure.HIP_INTERNAL_ROTATION) <= rounding_rad


def test_knee_straightening_stays_open_to_a_replaced_hip() -> None:
    """Straightening a knee while seated keeps the thigh level, so a replaced hip allows it."""
    matrix = judged(outcome_of(hip_replacement="yes, left, posterior"))

    told = matrix[cast.person().id, MovementId("knee-straighten"), OptionKind.STANDARD]

    assert told.fit is Fit.SUITABLE

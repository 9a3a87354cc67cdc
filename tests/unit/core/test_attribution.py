from dataclasses import replace

import numpy as np
import pytest
from tests.fakes import sample_options as samples

from halewright.core.catalogue.movement import Movement
from halewright.core.catalogue.words import Muscle
from halewright.core.mechanics import attribution, joints, loads, moments, rubber
from halewright.core.mechanics.loads import Load
from halewright.core.mechanics.skeleton import REFERENCE_BODY
from halewright.files import movements

LAW = rubber.Estimate(
    curve=rubber.Curve(linear_n=9.0, softening_n=9.0, stiffening_n=0.0, most_ratio=3.5),
    draws_n=np.array([[9.0, 9.0, 0.0]]),
)


def _movement(option_name: str, *muscles: Muscle) -> Movement:
    return samples.movement(samples.SAMPLES[option_name], prime_movers=muscles)


@pytest.mark.parametrize(
    ("option", "muscle"),
    [
        ("curl", Muscle.BICEPS),
        ("rotation", Muscle.ROTATOR_CUFF),
        ("knees-apart", Muscle.HIP_ABDUCTORS),
        ("row", Muscle.UPPER_BACK),
    ],
)
def test_a_declared_prime_mover_that_is_loaded_passes(option: str, muscle: Muscle) -> None:
    """A curl loads the front of the arm, turning out the cuff, a loop the sides of the hips."""
    assert list(attribution.check(_movement(option, muscle))) == []


@pytest.mark.parametrize(
    ("option", "muscle"),
    [
        ("curl", Muscle.TRICEPS),
        ("rotation", Muscle.QUADRICEPS),
        ("knees-apart", Muscle.HIP_ADDUCTORS),
        ("rotation", Muscle.TRUNK),
    ],
)
def test_a_declared_prime_mover_that_is_nowhere_loaded_is_a_problem(
    option: str, muscle: Muscle
) -> None:
    """The opposite muscle, another joint's, or a trunk between two hands: each is a problem."""
    (problem,) = attribution.check(_movement(option, muscle))

    assert muscle.value in problem.read
    assert "prime_mover_not_loaded" in problem.mend


def test_every_shipped_movement_loads_what_it_declares() -> None:
    """No banded option of the catalogue names a prime mover that its band does not load."""
    problems = [each for one in movements.shipped().values() for each in attribution.check(one)]

    assert [problem.sentence() for problem in problems] == []


def test_every_action_is_about_an_axis_that_is_computed() -> None:
    """Each muscle group has an action, and each action an axis of the body's joints."""
    plain = {joints.plain(axis) for axis in moments.AXES}

    assert set(attribution.ACTIONS) == set(Muscle)
    assert {axis for actions in attribution.ACTIONS.values() for axis, _ in actions} <= plain


def test_what_is_trained_names_axis_peak_and_share() -> None:
    """The curl's biceps: elbow flexion on the working side, loaded through most of the range."""
    option = replace(samples.CURL_RIGHT)
    load = loads.of(body=REFERENCE_BODY, option=option, law=LAW, target_tension_n=20.0)
    assert isinstance(load, Load)

    (biceps,) = attribution.trained(movement=_movement("curl", Muscle.BICEPS), load=load)

    assert biceps.axis == "elbow_flexion_right"
    assert biceps.peak_nm == pytest.approx(load.joints["elbow_flexion_right"].net_nm.max())
    assert biceps.loaded_share > 0.8

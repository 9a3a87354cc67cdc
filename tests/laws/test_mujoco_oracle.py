"""MuJoCo as an oracle: the same body written for a general rigid-body engine gives the same."""

import numpy as np
import pytest

from halewright.core import units
from halewright.core.catalogue.movement import BandPath, NodeKind, PathNode
from halewright.core.mechanics import (
    gravity,
    joints,
    kinematics,
    moments,
    path,
    points,
    skeleton,
    spans,
)
from halewright.core.mechanics.chair import Chair
from halewright.core.people.person import Sex

mujoco = pytest.importorskip("mujoco")

PEOPLE, POSES, PATHS = 50, 24, 5
BODY_POINTS = sorted(points.NAMES - points.CHAIR_POINTS - {"sole_left", "sole_right"})
HINGES = [
    (segment, turn, f"{segment}.{k}")
    for segment in skeleton.SEGMENTS
    for k, turn in enumerate(kinematics.TURNS[segment])
]


def _numbers(values: object) -> str:
    return " ".join(f"{float(value):.17g}" for value in values)  # type: ignore[attr-defined]


def _model_words(body: skeleton.Body, paths: list[list[str]]) -> str:
    """Write a body as a model: hinges in the chain's own order, our points as sites."""
    places = points.places(body=body, chair=Chair(x_m=0.0, seat_height_m=0.4))

    def told(segment: skeleton.Segment) -> str:
        inner = "".join(
            f'<joint name="{segment.name}.{k}" type="hinge" '
            f'axis="{_numbers(turn.sign * np.eye(3)[turn.axis])}"/>'
            for k, turn in enumerate(kinematics.TURNS[segment.name])
        )
        inner += (
            f'<inertial pos="{_numbers(segment.centre_m)}" mass="{segment.mass_kg:.17g}" '
            'diaginertia="0.01 0.01 0.01"/>'
        )
        inner += "".join(
            f'<site name="{name}" pos="{_numbers(places[name].at_m)}"/>'
            for name in BODY_POINTS
            if places[name].owner == segment.name
        )
        inner += "".join(told(each) for each in body.segments if each.parent == segment.name)
        return f'<body name="{segment.name}" pos="{_numbers(segment.joint_m)}">{inner}</body>'

    tendons = "".join(
        f'<spatial name="t{k}">' + "".join(f'<site site="{name}"/>' for name in way) + "</spatial>"
        for k, way in enumerate(paths)
    )
    return (
        '<mujoco><compiler angle="radian" autolimits="true" boundmass="0" boundinertia="0"/>'
        f'<option gravity="0 0 {-units.STANDARD_GRAVITY_M_PER_S2!r}">'
        '<flag contact="disable"/></option>'
        f"<worldbody>{told(body.segments[0])}</worldbody><tendon>{tendons}</tendon></mujoco>"
    )


def _person(chance: np.random.Generator) -> skeleton.Body:
    return skeleton.body(
        stature_m=float(chance.uniform(1.4, 1.95)),
        mass_kg=float(chance.uniform(40.0, 120.0)),
        sex=list(Sex)[int(chance.integers(len(Sex)))],
    )


def _posture(*, body: skeleton.Body, chance: np.random.Generator) -> kinematics.Posture:
    """Turn every joint at random within its published range."""
    angles_rad = {}
    for name in joints.NAMES:
        limit = joints.RANGES_RAD[joints.plain(name)]
        angles_rad[name] = chance.uniform(limit.low_rad, limit.high_rad, POSES)
    origins_m, axes = kinematics.chain(body=body, angles_rad=angles_rad)
    return kinematics.Posture(
        body=body,
        chair=Chair(x_m=0.0, seat_height_m=0.4),
        phase_ratios=np.zeros(POSES),
        angles_rad=angles_rad,
        origins_m=origins_m,
        axes=axes,
    )


def _set(*, model: object, data: object, posture: kinematics.Posture, frame: int) -> None:
    for _, turn, name in HINGES:
        angle_rad = turn.share * posture.angles_rad[turn.angle][frame]
        data.qpos[model.joint(name).id] = angle_rad  # type: ignore[attr-defined]
    data.qvel[:] = 0.0  # type: ignore[attr-defined]
    mujoco.mj_forward(model, data)


def _row(*, model: object, data: object, tendon: int) -> np.ndarray:
    """Return a tendon's Jacobian, which is kept sparse since version 3.6."""
    row = np.zeros(model.nv)  # type: ignore[attr-defined]
    start, count = model.ten_J_rowadr[tendon], model.ten_J_rownnz[tendon]  # type: ignore[attr-defined]
    row[model.ten_J_colind[start : start + count]] = data.ten_J[start : start + count]  # type: ignore[attr-defined]
    return row


def _random_paths(chance: np.random.Generator) -> list[list[str]]:
    return [
        [str(name) for name in chance.choice(BODY_POINTS, int(chance.integers(2, 5)), False)]
        for _ in range(PATHS)
    ]


def _laid(*, posture: kinematics.Posture, way: list[str]) -> spans.Laid:
    kinds = [NodeKind.CLAMP, *[NodeKind.SLIDE] * (len(way) - 2), NodeKind.CLAMP]
    nodes = tuple(PathNode(kind=kind, at=at) for kind, at in zip(kinds, way, strict=True))
    return spans.lay(posture=posture, path=BandPath(nodes=nodes))


def test_lengths_moment_arms_and_weight_agree_with_a_rigid_body_engine() -> None:
    """1,200 poses of 50 people, 250 band paths: length and lever to 1e-9, weight to 1e-6 Nm."""
    chance = np.random.default_rng(2026)
    worst_m, worst_lever_m, worst_nm = 0.0, 0.0, 0.0
    owners = {segment: joint for joint, segment in moments.JOINTS.items()}
    for _ in range(PEOPLE):
        body, ways = _person(chance), _random_paths(chance)
        posture = _posture(body=body, chance=chance)
        model = mujoco.MjModel.from_xml_string(_model_words(body, ways))
        data = mujoco.MjData(model)
        laid = [_laid(posture=posture, way=way) for way in ways]
        pulled = [
            moments.of_pulls(
                posture=posture,
                pulls=[pull for region in band.runs[0].regions for pull in region.pulls],
            )
            for band in laid
        ]
        weight = {
            segment: -gravity.moment_nm(posture=posture, segment=segment)
            for segment in skeleton.SEGMENTS
        }
        for frame in range(POSES):
            _set(model=model, data=data, posture=posture, frame=frame)
            for k, band in enumerate(laid):
                off_m = abs(band.runs[0].length_m[frame] - data.ten_length[k])
                worst_m = max(worst_m, float(off_m))
                row = _row(model=model, data=data, tendon=k)
                for segment, _, name in HINGES:
                    place = model.joint(name).id
                    if segment in owners:
                        vector = pulled[k].get(owners[segment], np.zeros((3, POSES)))[:, frame]
                        lever_m = float(data.xaxis[place] @ vector)
                        worst_lever_m = max(worst_lever_m, abs(lever_m - row[place]))
            for segment, _, name in HINGES:
                place = model.joint(name).id
                asked_nm = float(data.xaxis[place] @ weight[segment][:, frame])
                worst_nm = max(worst_nm, abs(asked_nm - data.qfrc_bias[place]))
    assert worst_m < 1e-9
    assert worst_lever_m < 1e-9
    assert worst_nm < 1e-6


def test_a_wrap_round_a_cylinder_agrees_with_a_rigid_body_engine() -> None:
    """500 bands from random ends over the given side of a cylinder: length to 1e-9 m."""
    chance = np.random.default_rng(7)
    radius_m, worst_m, wrapped = 0.07, 0.0, 0
    for _ in range(500):
        # Ends on either side, low enough that the band bends over +x by less than half a turn.
        start = np.array([chance.uniform(-0.3, 0.06), -chance.uniform(0.1, 0.5), 0.0])
        end = np.array([chance.uniform(-0.3, 0.06), chance.uniform(0.1, 0.5), 0.0])
        end[2] = chance.uniform(-0.3, 0.3)
        data = _wrapped(start=start, end=end, radius_m=radius_m)
        found = path.wrap(
            start_m=start[:, None], end_m=end[:, None], radius_m=radius_m, over=(1.0, 0.0)
        )
        length_m = (
            np.linalg.norm(found.on_m[:, 0] - start)
            + found.arc_m[0]
            + np.linalg.norm(end - found.off_m[:, 0])
        )
        wrapped += int(found.arc_m[0] > 0.0)
        worst_m = max(worst_m, abs(float(length_m) - float(data.ten_length[0])))
    assert wrapped > 400
    assert worst_m < 1e-9


def _wrapped(*, start: np.ndarray, end: np.ndarray, radius_m: float) -> object:
    model = mujoco.MjModel.from_xml_string(
        "<mujoco><worldbody>"
        f'<site name="a" pos="{_numbers(start)}"/><site name="b" pos="{_numbers(end)}"/>'
        '<site name="over" pos="0.3 0 0"/>'
        f'<geom name="c" type="cylinder" size="{radius_m} 0.5" contype="0" conaffinity="0"/>'
        '<body><joint type="slide" axis="1 0 0"/><geom size="0.01" pos="5 5 5"/></body>'
        '</worldbody><tendon><spatial><site site="a"/><geom geom="c" sidesite="over"/>'
        '<site site="b"/></spatial></tendon></mujoco>'
    )
    data = mujoco.MjData(model)
    mujoco.mj_forward(model, data)
    return data

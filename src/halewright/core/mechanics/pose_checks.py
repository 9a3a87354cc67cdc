"""What must hold for every movement before it is shown to a leader; each breach is a Problem.

The safety rules are DESIGN's first truth and the trade's own: nobody rises, stands or walks with a
loop on the legs or a band underfoot, save in a resisted sit-to-stand with its own safety line; a
chair holds a band only while somebody sits on it; no band underfoot flies towards the face without
another way of doing the movement.
"""

from collections.abc import Iterator

import numpy as np

from halewright.core import units
from halewright.core.catalogue.movement import BandPath, Movement, NodeKind, Option
from halewright.core.catalogue.words import Pattern, Position, SetUp
from halewright.core.errors import Problem
from halewright.core.mechanics import angles as angle_rules
from halewright.core.mechanics import demand_rules, joints, kinematics, path, points
from halewright.core.mechanics.skeleton import REFERENCE_BODY

TOLERANCE_RAD = units.radians(0.5)
"""Beyond a published range: rounding of degrees in files, not movement."""
SUNK_RAD = units.radians(15.0)
"""A thigh that must yield more than this to keep the sole off the floor was not meant so."""
LENGTHENS_M = 0.02
"""A band that lengthens by less trains nothing that can be felt: our rule."""


def check(movement: Movement) -> Iterator[Problem]:
    """Yield every problem of a movement, each with its option and how to mend it."""
    for option in movement.options:
        unknown = list(_unknown_names(movement=movement, option=option))
        yield from unknown
        yield from _phases(movement=movement, option=option)
        yield from _ranges(movement=movement, option=option)
        yield from _safety(movement=movement, option=option)
        if not unknown and option.poses:
            yield from _contacts(movement=movement, option=option)
            yield from _band_ways(movement=movement, option=option)
    yield from _face(movement)


def _problem(*, movement: Movement, option: Option, read: str, mend: str) -> Problem:
    return Problem(file=f"{movement.id}.toml", read=f"{option.kind.value}: {read}", mend=mend)


def _unknown_names(*, movement: Movement, option: Option) -> Iterator[Problem]:
    for name in sorted(angle_rules.named(option) - frozenset(joints.NAMES)):
        yield _problem(
            movement=movement,
            option=option,
            read=name,
            mend="No joint angle has this name; use one of core.mechanics.joints.",
        )
    at = {(node.at, node.kind) for band in option.paths for node in band.nodes}
    for name, kind in sorted(at):
        if name not in points.NAMES:
            yield _problem(
                movement=movement,
                option=option,
                read=name,
                mend="No point has this name; use one of core.mechanics.points.",
            )
        elif kind is NodeKind.WRAP and name not in points.WRAPPABLE:
            yield _problem(
                movement=movement,
                option=option,
                read=f"wrap at {name}",
                mend="A band wraps only round a thigh, a shank or an ankle; clamp or slide here.",
            )


def _phases(*, movement: Movement, option: Option) -> Iterator[Problem]:
    phases = [pose.phase_ratio for pose in option.poses]
    if not phases or phases[0] != 0.0 or phases[-1] != 1.0 or phases != sorted(set(phases)):
        yield _problem(
            movement=movement,
            option=option,
            read=f"phases {phases}",
            mend="Give poses in order, the first at phase 0 and the last at phase 1.",
        )


def _ranges(*, movement: Movement, option: Option) -> Iterator[Problem]:
    for pose in option.poses:
        for name, angle_rad in pose.angles_rad.items():
            limit = joints.RANGES_RAD.get(joints.plain(name))
            if limit is None:
                continue
            low_rad = limit.low_rad if limit.older_low_rad is None else limit.older_low_rad
            high_rad = limit.high_rad if limit.older_high_rad is None else limit.older_high_rad
            if not low_rad - TOLERANCE_RAD <= angle_rad <= high_rad + TOLERANCE_RAD:
                yield _problem(
                    movement=movement,
                    option=option,
                    read=f"{name} {units.degrees(angle_rad):.0f}° at phase {pose.phase_ratio:g}",
                    mend=f"Stay within {units.degrees(low_rad):.0f}° and "
                    f"{units.degrees(high_rad):.0f}° ({limit.source}).",
                )


def _contacts(*, movement: Movement, option: Option) -> Iterator[Problem]:
    """Compare the thighs as authored with those that keep the soles above the floor."""
    if option.position is not Position.SEATED:
        return
    phases = demand_rules.PHASES
    meant = angle_rules.at_phases(option=option, phase_ratios=phases)
    stood = kinematics.posture(body=REFERENCE_BODY, option=option, phase_ratios=phases)
    for side in joints.SIDES:
        name = f"hip_flexion_{side}"
        yielded_rad = float((stood.angles_rad[name] - meant[name]).max())
        if yielded_rad > SUNK_RAD:
            yield _problem(
                movement=movement,
                option=option,
                read=f"{side} foot below the floor",
                mend=f"Bend the {side} hip {units.degrees(yielded_rad):.0f}° more, or the knee "
                "differently, so that the foot stays on the floor.",
            )


def _safety(*, movement: Movement, option: Option) -> Iterator[Problem]:
    upright = option.position is not Position.SEATED
    resisted_rise = (
        movement.pattern is Pattern.SIT_TO_STAND
        and option.position is Position.RISING
        and bool(movement.teaching.safety.strip())
    )
    if upright and not resisted_rise and _holds_the_legs(option):
        yield _problem(
            movement=movement,
            option=option,
            read=f"{option.set_up.value} while {option.position.value}",
            mend="Nobody stands, rises or walks with a loop on the legs or a band underfoot; "
            "sit, or place the band elsewhere.",
        )
    at = {node.at for band in option.paths for node in band.nodes}
    if upright and (option.set_up is SetUp.CHAIR or at & points.CHAIR_POINTS):
        yield _problem(
            movement=movement,
            option=option,
            read=f"band on the chair while {option.position.value}",
            mend="A chair holds a band only while somebody sits on it; sit, or move the band.",
        )
    if (option.set_up is SetUp.NONE) is bool(option.paths):
        yield _problem(
            movement=movement,
            option=option,
            read=f"set-up {option.set_up.value} with {len(option.paths)} band ways",
            mend="Give the band's way where there is a band, and none where there is none.",
        )


def _holds_the_legs(option: Option) -> bool:
    on_legs = option.set_up in (SetUp.ROUND_THIGHS, SetUp.UNDER_FEET)
    looped = any(
        joints.plain(node.at) in ("thigh_low", "thigh_mid", "thigh_top", "shank", "ankle")
        for band in option.paths
        if band.closed
        for node in band.nodes
    )
    return on_legs or looped or demand_rules.anchored_at_foot(option)


def _band_ways(*, movement: Movement, option: Option) -> Iterator[Problem]:
    posture = kinematics.posture(
        body=REFERENCE_BODY, option=option, phase_ratios=demand_rules.PHASES
    )
    longest_gain_m = 0.0
    for band in option.paths:
        unlike = [node.at for node in band.nodes if node.kind is NodeKind.CLAMP]
        if band.closed and unlike:
            yield _problem(
                movement=movement,
                option=option,
                read=f"closed loop clamped at {', '.join(unlike)}",
                mend="A closed loop only wraps or slides.",
            )
        gain_m, reason = _gain_m(posture=posture, band=band)
        longest_gain_m = max(longest_gain_m, gain_m)
        if reason:
            yield _problem(
                movement=movement, option=option, read=reason, mend="Mend the band's nodes."
            )
    moves = any(pose.angles_rad != option.poses[0].angles_rad for pose in option.poses)
    if option.paths and moves and longest_gain_m < LENGTHENS_M:
        yield _problem(
            movement=movement,
            option=option,
            read=f"the band lengthens by {1000.0 * longest_gain_m:.0f} mm",
            mend="Let the band be longer at the far end than at the start; else it trains nothing.",
        )


def _gain_m(*, posture: kinematics.Posture, band: BandPath) -> tuple[float, str]:
    """Return how much the span that lengthens most is longer than at the start, or why not."""
    try:
        spans = path.lengths(posture=posture, path=band)
    except path.NoBandWay as error:
        return LENGTHENS_M, str(error)
    return max(float(np.max(span.length_m - span.length_m[0])) for span in spans), ""


def _face(movement: Movement) -> Iterator[Problem]:
    """Ask for another anchor where a band underfoot is drawn towards the face."""
    flying = []
    for option in movement.options:
        known = angle_rules.named(option) <= frozenset(joints.NAMES)
        if not option.poses or not known or not demand_rules.anchored_at_foot(option):
            continue
        if any(node.at not in points.NAMES for band in option.paths for node in band.nodes):
            continue
        posture = kinematics.posture(
            body=REFERENCE_BODY, option=option, phase_ratios=demand_rules.PHASES
        )
        if demand_rules.pulls_towards_face(posture=posture, option=option):
            flying.append(option)
    others = [option for option in movement.options if not demand_rules.anchored_at_foot(option)]
    if flying and not others:
        yield _problem(
            movement=movement,
            option=flying[0],
            read="a band held underfoot is drawn towards the face",
            mend="Add an option with another anchor, or without a band.",
        )

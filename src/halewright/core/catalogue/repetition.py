"""Checks of how each way is written down: the band's path, the poses, the sides and the tempo."""

import itertools
from collections.abc import Iterator

from halewright.core.catalogue.movement import Catalogue, Movement, NodeKind, Option
from halewright.core.catalogue.wording import problem
from halewright.core.catalogue.words import OptionKind, SetUp, Sides
from halewright.core.errors import Problem

_TURNS = ("pelvis_list", "pelvis_rotation", "trunk_side_bend", "trunk_rotation", "neck_rotation")
_SAME_RAD = 1e-9


def ways(catalogue: Catalogue) -> Iterator[tuple[Movement, Option]]:
    """Yield every way of every movement with the movement that it belongs to."""
    for movement in catalogue.values():
        for option in movement.options:
            yield movement, option


def check_set_up_and_paths(catalogue: Catalogue) -> Iterator[Problem]:
    """A band has a way through at least two places, and no set-up has no band."""
    for movement, option in ways(catalogue):
        if (option.set_up is SetUp.NONE) is bool(option.paths):
            yield problem(
                movement,
                read=f"{option.kind}: set-up {option.set_up} with {len(option.paths)} band paths",
                mend="Give the band's path, or the set-up “none” where there is no band.",
            )
        if option.kind is OptionKind.WITHOUT_BAND and option.set_up is not SetUp.NONE:
            yield problem(movement, read=f"{option.kind}: a band", mend="Leave the band out here.")
        for path in option.paths:
            if len(path.nodes) < 2:
                yield problem(
                    movement,
                    read=f"{option.kind}: a band path of {len(path.nodes)} places",
                    mend="A band needs at least two places.",
                )
            if path.closed and any(node.kind is NodeKind.CLAMP for node in path.nodes):
                yield problem(
                    movement,
                    read=f"{option.kind}: a closed loop with a clamp",
                    mend="A loop slides or wraps everywhere; use slide or wrap.",
                )


def check_phases(catalogue: Catalogue) -> Iterator[Problem]:
    """Poses run from phase 0 to phase 1, each later than the one before."""
    for movement, option in ways(catalogue):
        phases = [pose.phase_ratio for pose in option.poses]
        rising = all(a < b for a, b in itertools.pairwise(phases))
        if len(phases) < 2 or phases[0] != 0.0 or phases[-1] != 1.0 or not rising:
            yield problem(
                movement,
                read=f"{option.kind}: phases {', '.join(f'{phase:g}' for phase in phases)}",
                mend="Begin at 0, end at 1 and go up from pose to pose.",
            )


def check_sides(catalogue: Catalogue) -> Iterator[Problem]:
    """Sides that work by turns differ in the poses or the band; sides that work together do not."""
    for movement, option in ways(catalogue):
        differ = _sides_differ(option)
        if option.sides is Sides.BOTH and differ:
            yield problem(
                movement,
                read=f"{option.kind}: sides “both”, but left and right differ",
                mend="Write “each” or “alternate”, or give both sides the same angles.",
            )
        if option.sides is not Sides.BOTH and not differ:
            yield problem(
                movement,
                read=f"{option.kind}: sides “{option.sides}”, but left and right are alike",
                mend="Give the right side its own angles, or write “both”.",
            )


def _sides_differ(option: Option) -> bool:
    for pose in option.poses:
        for name, angle_rad in pose.angles_rad.items():
            if name in _TURNS and abs(angle_rad) > _SAME_RAD:
                return True
            if name.endswith("_right"):
                other = name.removesuffix("_right") + "_left"
            elif name.endswith("_left"):
                other = name.removesuffix("_left") + "_right"
            else:
                continue
            if other not in pose.angles_rad or (
                abs(pose.angles_rad[other] - angle_rad) > _SAME_RAD
            ):
                return True
    return False


def check_tempo(catalogue: Catalogue) -> Iterator[Problem]:
    """Going out and coming back take time; holds and pauses are not negative."""
    for movement, option in ways(catalogue):
        tempo = option.tempo
        if min(tempo.out_s, tempo.back_s) <= 0.0 or min(tempo.hold_s, tempo.pause_s) < 0.0:
            yield problem(
                movement,
                read=f"{option.kind}: tempo {tempo.out_s:g}, {tempo.hold_s:g}, {tempo.back_s:g}",
                mend="Give seconds above 0 out and back, and 0 or more for hold and pause.",
            )

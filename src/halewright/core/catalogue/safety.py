"""Checks that keep people safe: bands and standing, pulls towards the face, honest demands."""

from collections.abc import Iterator

from halewright.core.catalogue.movement import Catalogue, Option
from halewright.core.catalogue.repetition import ways
from halewright.core.catalogue.wording import problem
from halewright.core.catalogue.words import HandSupport, OptionKind, Pattern, Position
from halewright.core.errors import Problem

HAND_PULLS = frozenset(
    {
        Pattern.HORIZONTAL_PULL,
        Pattern.VERTICAL_PULL,
        Pattern.SHOULDER_RAISE,
        Pattern.ELBOW_FLEXION,
    }
)
"""Patterns whose hands bring the band nearer the face when it is held underfoot."""

_FEET = ("sole_", "toe_", "heel_")
_LEGS = ("thigh_", "under_thigh_", "knee_", "shank_", "ankle_")
_CHAIR = ("seat_", "chair_")
_MOST_TO_LEAST_SUPPORT = tuple(HandSupport)


def check_declared(catalogue: Catalogue) -> Iterator[Problem]:
    """What is declared fits the position: a seat needs no balance, a rise is counted."""
    for movement, option in ways(catalogue):
        declared, seated = option.declared, option.position is Position.SEATED
        if seated is (declared.balance_score > 0.0):
            yield problem(
                movement,
                read=f"{option.kind}: {option.position} with balance_score "
                f"{declared.balance_score:g}",
                mend="Balance is 0 when seated and at least 1 when standing or rising.",
            )
        if (option.position is Position.RISING) is not (declared.rises_per_rep_count > 0.0):
            yield problem(
                movement,
                read=f"{option.kind}: {option.position} with rises_per_rep_count "
                f"{declared.rises_per_rep_count:g}",
                mend="Count one rise for a rising repetition, none otherwise.",
            )


def check_gentler_is_gentler(catalogue: Catalogue) -> Iterator[Problem]:
    """The gentler way asks for no more balance, grip, load or breath, and no less support."""
    scores = ("knee_load_score", "balance_score", "grip_score", "breath_hold_score")
    for movement, option in ways(catalogue):
        if option.kind is not OptionKind.GENTLER:
            continue
        standard = movement.standard
        more = [
            name
            for name in scores
            if getattr(option.declared, name) > getattr(standard.declared, name)
        ]
        rank = _MOST_TO_LEAST_SUPPORT.index
        if rank(option.support) > rank(standard.support):
            more.append("support")
        for name in more:
            yield problem(
                movement,
                read=f"gentler: {name} beyond the standard way's",
                mend="Lower it, or exchange the two ways.",
            )


def check_no_band_on_standing_legs(catalogue: Catalogue) -> Iterator[Problem]:
    """Nobody stands with a band on legs or feet but in a resisted sit-to-stand, safety line given.

    Even there the chair is no anchor: it holds a band only under the person's weight.
    """
    for movement, option in ways(catalogue):
        if option.position is Position.SEATED:
            continue
        places = [node.at for path in option.paths for node in path.nodes]
        if any(place.startswith(_CHAIR) for place in places):
            yield problem(
                movement,
                read=f"{option.kind}: a band on the chair while {option.position}",
                mend="A chair holds a band only under a seated person's weight; anchor elsewhere.",
            )
        if any(place.startswith(_LEGS + _FEET) for place in places):
            resisted = (
                movement.pattern is Pattern.SIT_TO_STAND and option.position is Position.RISING
            )
            if not resisted:
                yield problem(
                    movement,
                    read=f"{option.kind}: a band on legs or feet while {option.position}",
                    mend="Do this seated, or without the band.",
                )
            elif "band" not in movement.teaching.safety.lower():
                yield problem(
                    movement,
                    read="a resisted sit-to-stand whose safety line leaves out the band",
                    mend="Say how the band stays put and when it comes off the feet.",
                )


def check_face_has_another_anchor(catalogue: Catalogue) -> Iterator[Problem]:
    """A pull with the band underfoot has a way without a foot anchor: a slip strikes the face.

    Source: common practice, after a reported eye injury by a band that slipped off the foot in a
    class.
    """
    for movement in catalogue.values():
        if movement.pattern not in HAND_PULLS or not _foot_anchored(movement.standard):
            continue
        others = [
            option for option in movement.options if option.paths and not _foot_anchored(option)
        ]
        if not others:
            yield problem(
                movement,
                read="a pull with the band underfoot and no other anchor",
                mend="Give one of its ways another set-up, such as under_thighs or in_hands.",
            )


def _foot_anchored(option: Option) -> bool:
    return any(node.at.startswith(_FEET) for path in option.paths for node in path.nodes)

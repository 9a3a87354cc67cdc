"""A figure in words: how the person sits or stands, where the band is, and what moves how far."""

from halewright.core import units
from halewright.core.catalogue.movement import Movement, Option
from halewright.core.catalogue.words import HandSupport, Position, SetUp, Sides
from halewright.core.mechanics import angles, joints

_POSITIONS = {
    Position.SEATED: "A person sits on a chair",
    Position.SUPPORTED_STANDING: "A person stands behind a chair",
    Position.RISING: "A person rises from a chair",
}
_HOLDS = {
    HandSupport.TWO_HANDS: "holding on with both hands",
    HandSupport.ONE_HAND: "holding on with one hand",
    HandSupport.FINGERTIPS: "with fingertips resting on the chair",
    HandSupport.NONE: "",
}
_BANDS = {
    SetUp.NONE: "There is no band.",
    SetUp.UNDER_FEET: "The band is held underfoot.",
    SetUp.IN_HANDS: "The band is held between the hands.",
    SetUp.ACROSS_THIGHS: "The band lies across the thighs.",
    SetUp.ROUND_THIGHS: "The band is looped round the legs.",
    SetUp.UNDER_THIGHS: "The band lies under the thighs.",
    SetUp.BEHIND_BACK: "The band goes behind the back.",
    SetUp.CHAIR: "The band is held by the chair the person sits on.",
}
_TURNS = {
    Sides.BOTH: "",
    Sides.ALTERNATE: "The sides take turns; the right one is shown.",
    Sides.EACH: "One side works, then the other; the right one is shown.",
}
_ANGLES = {
    "pelvis_tilt": ("The body", "leans forward", "comes upright"),
    "pelvis_list": ("The pelvis", "tips to the left", "tips to the right"),
    "pelvis_rotation": ("The whole body", "turns left", "turns right"),
    "trunk_flexion": ("The back", "bends forward", "straightens"),
    "trunk_side_bend": ("The back", "bends to the left", "bends to the right"),
    "trunk_rotation": ("The chest", "turns left", "turns right"),
    "neck_flexion": ("The head", "bends forward", "comes up"),
    "neck_side_bend": ("The head", "tilts to the left", "tilts to the right"),
    "neck_rotation": ("The head", "turns left", "turns right"),
    "shoulder_flexion": ("arm", "swings forward and up", "swings down and back"),
    "shoulder_abduction": ("arm", "opens to the side", "comes in"),
    "shoulder_rotation": ("arm", "turns outward", "turns inward"),
    "elbow_flexion": ("elbow", "bends", "straightens"),
    "forearm_supination": ("palm", "turns up", "turns down"),
    "wrist_flexion": ("wrist", "bends", "bends back"),
    "hip_flexion": ("thigh", "lifts", "goes down and back"),
    "hip_abduction": ("knee", "moves outward", "moves inward"),
    "hip_rotation": ("leg", "turns outward", "turns inward"),
    "knee_flexion": ("knee", "bends", "straightens"),
    "ankle_dorsiflexion": ("foot", "draws up", "points down"),
}
"""Who moves, and what it does where the angle grows and where it shrinks."""
_TOLD_RAD = units.radians(5.0)


def describe(*, movement: Movement, option: Option) -> str:
    """Return a few plain sentences; angles are rounded to five degrees."""
    hold = _HOLDS[option.support]
    place = _POSITIONS[option.position] + (f", {hold}" if hold else "")
    sentences = [
        f"{movement.name}.",
        f"{place}.",
        _BANDS[option.set_up],
        *_moves(option),
        _TURNS[option.sides],
    ]
    return " ".join(sentence for sentence in sentences if sentence)


def _moves(option: Option) -> list[str]:
    if not option.poses:
        return []
    base = angles.BASES_RAD[option.position]
    first, last = option.poses[0].angles_rad, option.poses[-1].angles_rad
    changes = {
        name: (first.get(name, base.get(name, 0.0)), last.get(name, base.get(name, 0.0)))
        for name in joints.NAMES
    }
    told = {
        name: change for name, change in changes.items() if abs(change[1] - change[0]) >= _TOLD_RAD
    }
    sentences = []
    for name in _ANGLES:
        if name in joints.UNPAIRED:
            if name in told:
                sentences.append(_sentence(name=name, who=_ANGLES[name][0], change=told[name]))
            continue
        left, right = told.get(f"{name}_left"), told.get(f"{name}_right")
        part = _ANGLES[name][0]
        if left and right and abs(left[1] - right[1]) < _TOLD_RAD:
            plural = {"foot": "feet"}.get(part, f"{part}s")
            sentences.append(_sentence(name=name, who=f"Both {plural}", change=right, many=True))
            continue
        for side, change in (("left", left), ("right", right)):
            if change:
                sentences.append(_sentence(name=name, who=f"The {side} {part}", change=change))
    return sentences or ["The person holds still."]


def _sentence(*, name: str, who: str, change: tuple[float, float], many: bool = False) -> str:
    start, end = change
    does = _ANGLES[name][1] if end > start else _ANGLES[name][2]
    if many:
        verb, _, rest = does.partition(" ")
        verb = {"goes": "go"}.get(verb, verb.removesuffix("s"))
        does = f"{verb} {rest}".strip()
    by = 5 * round(units.degrees(abs(end - start)) / 5)
    return f"{who} {does} by about {by} degrees."

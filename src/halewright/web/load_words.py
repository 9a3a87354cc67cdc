"""Loads as people read them: grips in centimetres, tension in steps of 5 N, codes in words."""

import numpy as np

from halewright.core.mechanics import loads, rubber
from halewright.core.mechanics.angles import Array
from halewright.core.mechanics.loads import Code, JointLoad, Load
from halewright.core.people.kit import Band, Material, Shape

JointLine = tuple[str, str, str, str, str]

CODES = {
    Code.SLACK_AT_START: "slack at the start: the pull begins on the way",
    Code.OVER_STRETCH: "stretched beyond the limit: do not use it so",
    Code.BEYOND_MEASURED: "stretched beyond the last reading: its pull there is not known",
    Code.INFEASIBLE: "this band cannot give that",
    Code.LIGHT: "light: less than can be told from nothing with any trust",
    Code.NO_BAND: "this way has no band",
    Code.TOO_SHORT: "the band is too short for this grip",
}
_AXES = {
    "trunk_flexion": ("Back", "bending forward", "holding upright"),
    "trunk_side_bend": ("Back", "bending to the left", "bending to the right"),
    "trunk_rotation": ("Back", "turning to the left", "turning to the right"),
    "shoulder_flexion": ("Shoulder", "lifting the arm forward", "drawing the arm back"),
    "shoulder_abduction": ("Shoulder", "lifting the arm sideways", "drawing the arm in"),
    "shoulder_horizontal_abduction": (
        "Shoulder",
        "opening the arm outwards",
        "bringing the arm across",
    ),
    "shoulder_rotation": ("Shoulder", "turning the arm out", "turning the arm in"),
    "elbow_flexion": ("Elbow", "bending", "straightening"),
    "forearm_supination": ("Forearm", "turning the palm up", "turning the palm down"),
    "wrist_flexion": ("Wrist", "bending towards the palm", "bending back"),
    "wrist_deviation": ("Wrist", "tilting to the thumb", "tilting to the little finger"),
    "hip_flexion": ("Hip", "lifting the thigh", "pressing the thigh down or back"),
    "hip_abduction": ("Hip", "taking the thigh outwards", "bringing the thigh in"),
    "hip_rotation": ("Hip", "turning the thigh out", "turning the thigh in"),
    "knee_flexion": ("Knee", "bending", "straightening"),
    "ankle_dorsiflexion": ("Ankle", "lifting the foot", "pressing the foot down"),
}
_LEAST_NM = 1.0
_PLACES = (
    (0.06, "at the start"),
    (0.37, "about a third of the way"),
    (0.62, "about half way"),
    (0.94, "well on the way"),
    (1.01, "at the far end"),
)


def tension(load: Load) -> str:
    """Return start and peak: "10 to 20 N (15–25)"; light and slack are said so."""
    if load.tension_peak_n is None or load.tension_interval_n is None:
        return "not known"
    told = loads.shown(tension_n=load.tension_peak_n, interval_n=load.tension_interval_n)
    # "15 N (10 to 20 N)" as "15 N (10–20)": the line has to fit a printed sheet.
    peak = told.replace(" to ", "–").replace(" N)", ")")
    start_n = load.tension_start_n or 0.0
    if load.tension_peak_n <= 0.0:
        return "slack throughout"
    if load.tension_peak_n < loads.LIGHT_N:
        return peak
    if Code.SLACK_AT_START in load.codes:
        return f"slack to {peak}"
    if start_n < loads.LIGHT_N:
        return f"light to {peak}"
    return f"{rubber.shown_n(start_n)} to {peak}"


def grip(load: Load, *, doubled: bool) -> str:
    """Return the grip length in whole centimetres, hand to hand where it does not say otherwise."""
    if load.closed:
        return "the loop as it is"
    where = {0: " from anchor to anchor", 1: " from anchor to hand"}.get(load.hands, "")
    folded = "folded double, " if doubled else ""
    return f"{folded}{round(load.grip_length_m * 100)} cm{where}"


def where(load: Load) -> str:
    """Return how a grip is measured, or what a loop's tension means."""
    if load.closed:
        return "each limb inside it feels twice the tension of the loop"
    return "slack band from hand to hand, unless it says otherwise"


def codes(found: tuple[Code, ...]) -> tuple[str, ...]:
    """Return what must be known of a load besides its numbers.

    Light and slack at the start are said beside the numbers already.
    """
    said = (Code.LIGHT, Code.SLACK_AT_START)
    return tuple(CODES[code] for code in found if code not in said)


def band(value: Band) -> str:
    """Return what a band is, as on a list of kit."""
    material = {
        Material.LATEX: "latex",
        Material.LATEX_FREE: "latex-free",
        Material.NOT_KNOWN: "material not known",
    }[value.material]
    shape = "loop" if value.shape is Shape.LOOP else "strip"
    return f"{material} {shape}"


def place(phase_ratio: float) -> str:
    """Return where in the range something falls, in words."""
    return next(words for most, words in _PLACES if phase_ratio <= most)


def joints(load: Load) -> tuple[JointLine, ...]:
    """Return the net joint moments of the working side: joint, way, peak, where, band's part there.

    The largest first; below 1 Nm nothing is shown, and nothing where a peak is not known.
    """
    found = []
    for axis, joint in load.joints.items():
        plain = axis.removesuffix("_right")
        if not axis.endswith("_left") and plain in _AXES:
            found += _joint(plain, joint=joint, phase_ratios=load.phase_ratios)
    found.sort(key=lambda each: -each[0])
    return tuple(each[1] for each in found)


def _joint(plain: str, *, joint: JointLoad, phase_ratios: Array) -> list[tuple[float, JointLine]]:
    """Return a line for each direction in which a joint is loaded: it may turn round on the way."""
    net_nm, name = joint.net_nm, _AXES[plain]
    if bool(np.isnan(net_nm).any()):
        return []
    lines = []
    for sign, words in ((1.0, name[1]), (-1.0, name[2])):
        at = int(np.argmax(sign * net_nm))
        peak_nm = float(sign * net_nm[at])
        if peak_nm >= _LEAST_NM:
            own_nm = sign * float(joint.band_nm[at])
            against = " the other way" if own_nm <= -0.5 else ""
            band_nm = f"{abs(own_nm):.0f} Nm{against}"
            where = place(float(phase_ratios[at]))
            lines.append((peak_nm, (name[0], words, f"{peak_nm:.0f} Nm", where, band_nm)))
    return lines

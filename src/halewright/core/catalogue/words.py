"""The closed sets of words that movement files may use."""

from enum import StrEnum


class Part(StrEnum):
    """Which part of a session a movement belongs to."""

    WARM_UP = "warm_up"
    MAIN = "main"
    COOL_DOWN = "cool_down"


class Pattern(StrEnum):
    """What the body does, in the trade's terms; a session is balanced over these."""

    KNEE_EXTENSION = "knee_extension"
    KNEE_FLEXION = "knee_flexion"
    HIP_EXTENSION = "hip_extension"
    SIT_TO_STAND = "sit_to_stand"
    HIP_ABDUCTION = "hip_abduction"
    HIP_FLEXION = "hip_flexion"
    ANKLE = "ankle"
    HORIZONTAL_PULL = "horizontal_pull"
    VERTICAL_PULL = "vertical_pull"
    PUSH = "push"
    SHOULDER_RAISE = "shoulder_raise"
    EXTERNAL_ROTATION = "external_rotation"
    ELBOW_FLEXION = "elbow_flexion"
    ELBOW_EXTENSION = "elbow_extension"
    TRUNK = "trunk"
    GRIP = "grip"
    BALANCE = "balance"
    PULSE_RAISER = "pulse_raiser"
    MOBILITY = "mobility"
    STRETCH = "stretch"


class SetUp(StrEnum):
    """Where the band is."""

    NONE = "none"
    UNDER_FEET = "under_feet"
    IN_HANDS = "in_hands"
    ACROSS_THIGHS = "across_thighs"
    ROUND_THIGHS = "round_thighs"
    UNDER_THIGHS = "under_thighs"
    BEHIND_BACK = "behind_back"
    CHAIR = "chair"


class Position(StrEnum):
    """How the body is held up."""

    SEATED = "seated"
    SUPPORTED_STANDING = "supported_standing"
    RISING = "rising"
    """Sits and stands within the movement: a sit-to-stand."""


class HandSupport(StrEnum):
    """How much the hands hold on, from most to least."""

    TWO_HANDS = "two_hands"
    ONE_HAND = "one_hand"
    FINGERTIPS = "fingertips"
    NONE = "none"


class Sides(StrEnum):
    """Whether the sides work together, by turns, or one after the other."""

    BOTH = "both"
    ALTERNATE = "alternate"
    EACH = "each"
    """One whole work interval for each side: takes twice the time."""


class Side(StrEnum):
    """A side of the person who moves, never the leader's mirror side."""

    LEFT = "left"
    RIGHT = "right"
    BOTH = "both"
    ALTERNATE = "alternate"


class Muscle(StrEnum):
    """Muscle groups as leaders name them."""

    QUADRICEPS = "quadriceps"
    HAMSTRINGS = "hamstrings"
    GLUTEALS = "gluteals"
    HIP_ABDUCTORS = "hip_abductors"
    HIP_ADDUCTORS = "hip_adductors"
    HIP_FLEXORS = "hip_flexors"
    CALVES = "calves"
    SHINS = "shins"
    CHEST = "chest"
    UPPER_BACK = "upper_back"
    SHOULDERS = "shoulders"
    ROTATOR_CUFF = "rotator_cuff"
    BICEPS = "biceps"
    TRICEPS = "triceps"
    TRUNK = "trunk"
    FOREARMS = "forearms"


class OptionKind(StrEnum):
    """The way of doing a movement. Every main movement has all four, where they differ."""

    STANDARD = "standard"
    GENTLER = "gentler"
    STRONGER = "stronger"
    WITHOUT_BAND = "without_band"


class Goal(StrEnum):
    """What a group wants to be able to do; each movement says which it serves."""

    RISING = "rising"
    STAIRS = "stairs"
    REACHING = "reaching"
    CARRYING = "carrying"
    POSTURE = "posture"
    STEADINESS = "steadiness"


class FigureView(StrEnum):
    """From where a movement file may ask to be shown; sides are those of the person drawn."""

    RIGHT_QUARTER = "right_quarter"
    LEFT_QUARTER = "left_quarter"
    RIGHT_SIDE = "right_side"
    LEFT_SIDE = "left_side"
    FRONT = "front"

"""The rules of a plan as values: each with its sentence and its source."""

from dataclasses import dataclass, field

from halewright.core.catalogue.movement import COMMON_PRACTICE, Movement
from halewright.core.catalogue.words import Muscle, Pattern, Position, SetUp

NSCA = "NSCA position statement 2019 (Fragala et al., J Strength Cond Res 33:2019-2052)"
CORRIDOR = f"{NSCA}: 2-3 sets, 2-3 times a week; the corridor's width is {COMMON_PRACTICE}"
WHO = "WHO guideline 2020 (Bull et al., Br J Sports Med 54:1451-1462)"


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """A rule that a plan must keep. A rule that is not curable by accepting is `incurable`."""

    name: str
    sentence: str
    source: str = COMMON_PRACTICE
    incurable: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Requirement:
    """Patterns of which each session holds at least one station, in a leader's words."""

    name: str
    words: str
    patterns: frozenset[Pattern]


_P = Pattern

EACH_SESSION: tuple[Requirement, ...] = (
    Requirement(
        name="legs",
        words="straightening the knees and hips",
        patterns=frozenset({_P.SIT_TO_STAND, _P.KNEE_EXTENSION, _P.HIP_EXTENSION}),
    ),
    Requirement(
        name="hips",
        words="moving the hip",
        patterns=frozenset({_P.HIP_ABDUCTION, _P.HIP_FLEXION, _P.HIP_EXTENSION, _P.KNEE_FLEXION}),
    ),
    Requirement(
        name="pull",
        words="pulling",
        patterns=frozenset({_P.HORIZONTAL_PULL, _P.VERTICAL_PULL}),
    ),
    Requirement(name="push", words="pushing", patterns=frozenset({_P.PUSH})),
    Requirement(
        name="ankle_or_balance",
        words="working the ankles or the balance",
        patterns=frozenset({_P.ANKLE, _P.BALANCE}),
    ),
)
"""Every session works the body's main patterns: all major groups on two or more days a week is
the published recommendation (WHO 2020); the grouping into five is common practice."""

EACH_WEEK: tuple[Requirement, ...] = (
    Requirement(name="trunk", words="working the trunk", patterns=frozenset({_P.TRUNK})),
    Requirement(
        name="shoulder_turn",
        words="turning the shoulder out or raising the arm",
        patterns=frozenset({_P.EXTERNAL_ROTATION, _P.SHOULDER_RAISE}),
    ),
    Requirement(
        name="hip_out",
        words="taking the legs apart",
        patterns=frozenset({_P.HIP_ABDUCTION}),
    ),
    Requirement(
        name="elbow",
        words="bending or straightening the elbow",
        patterns=frozenset({_P.ELBOW_FLEXION, _P.ELBOW_EXTENSION}),
    ),
)
"""What a full week must hold at least once (common practice)."""

MAJOR_MUSCLES: tuple[Muscle, ...] = (
    Muscle.QUADRICEPS,
    Muscle.GLUTEALS,
    Muscle.UPPER_BACK,
    Muscle.CHEST,
    Muscle.SHOULDERS,
    Muscle.TRUNK,
)
"""The groups whose weekly sets have a lower bound."""

PRIME_HALF_SETS = 2
HELPER_HALF_SETS = 1
"""A prime mover gets a whole set for each round, a helper half a set (common practice)."""

LEAST_HALF_SETS_PER_ROUND = 1
MOST_HALF_SETS_PER_ROUND = 9
"""The corridor for one session and one round, in half sets. With 2 sessions of 2 to 3 rounds a
week it spans 2 to 27 sets; NSCA 2019 asks 2-3 sets of 1-2 movements per major group, 2-3 times a
week (4 to 18), and our lower bound counts helpers too."""

PUSHES = frozenset({Muscle.CHEST, Muscle.TRICEPS})
PULLS = frozenset({Muscle.UPPER_BACK, Muscle.BICEPS})
FRONTS = frozenset({Muscle.QUADRICEPS, Muscle.HIP_FLEXORS})
BACKS = frozenset({Muscle.GLUTEALS, Muscle.HAMSTRINGS})
BALANCES: tuple[tuple[frozenset[Muscle], frozenset[Muscle]], ...] = (
    (PUSHES, PULLS),
    (FRONTS, BACKS),
)
"""What should get about as many sets as each other over a phase (common practice). Left and right
are even by construction: a one-sided movement is always done on both sides."""

GOAL_STATIONS = 2
"""Stations in each session that should serve each of the group's goals (common practice)."""

VARIETY_STATIONS = 3
"""Movements to meet in a block, as a multiple of the stations in a session (common practice)."""

LEAST_GENTLE_COUNT = 3
"""Items of a warm-up or a cool-down, at least (common practice)."""

LEAST_LOADED_SHARE = 0.5
"""Of a session's stations this share works against a band or body weight: resistance that can be
raised is what makes a strength session (expert consensus on chair-based exercise, 46 statements,
BMC Geriatr 14:65; the share is common practice)."""

MOST_SAME_PATTERN_COUNT = 2
"""Stations of one pattern in a session, at most (common practice)."""

MOST_GRIP_COUNT = 1
"""Stations for the grip alone, at most: banded stations train it too (common practice)."""

MOST_SAME_PRIME_COUNT = 3
"""Stations with one prime mover in a session, at most (common practice)."""

RULES: tuple[Rule, ...] = (
    Rule(
        name="calendar",
        sentence="Sessions are held on the group's days, without the dates off, each once.",
    ),
    Rule(name="expected", sentence="Everybody expected has something to do at every station."),
    Rule(
        name="option",
        sentence="Nobody is given a way of moving that is not suitable for them.",
    ),
    Rule(
        name="set_up",
        sentence="Everybody uses the group's set-up or no band.",
    ),
    Rule(
        name="last_resort",
        sentence="Another movement, or sitting out, is a last resort that the leader must accept.",
    ),
    Rule(
        name="ask_first",
        sentence="A person with an open ask-first flag does seated mobility without a band.",
        incurable=True,
    ),
    Rule(name="latex", sentence="A session is latex-free where a person needs it.", incurable=True),
    Rule(name="retired_band", sentence="A retired band is never counted on.", incurable=True),
    Rule(name="told_limit", sentence="A limit told by a clinician is kept.", incurable=True),
    Rule(
        name="chairs",
        sentence="Rising with the hands on the chair's arms needs chairs that have them.",
    ),
    Rule(name="stock", sentence="There are enough bands of the kind for everybody expected."),
    Rule(name="slot", sentence="The session fits its slot, with a little time to spare."),
    Rule(name="patterns", sentence="Every session holds every required pattern.", source=WHO),
    Rule(name="week_patterns", sentence="Every full week holds every weekly pattern."),
    Rule(name="neighbours", sentence="Neighbouring stations have different prime movers."),
    Rule(name="repeat", sentence="A movement stands once in a session."),
    Rule(
        name="pattern_repeat",
        sentence="A pattern stands at most twice in a session, grip alone once.",
    ),
    Rule(
        name="loaded",
        sentence="At least half the stations work against a band or body weight.",
    ),
    Rule(
        name="corridor",
        sentence="Weekly sets for each muscle group stay inside the corridor.",
        source=CORRIDOR,
    ),
    Rule(
        name="corridor_person",
        sentence="So do they for each person, on the days they come.",
        source=CORRIDOR,
    ),
    Rule(name="dose", sentence="Rounds rise over the weeks, with an easier week.", source=NSCA),
    Rule(
        name="consecutive_days",
        sentence="Strength on two days running does not repeat a movement.",
        source="NSCA 2019: 48 hours for the same muscle group (from memory)",
    ),
    Rule(
        name="handling",
        sentence="The first session with bands is handling and anchor drill, without load.",
    ),
    Rule(name="catch_up", sentence="Whoever joins or comes back has a step of their own."),
    Rule(name="tests", sentence="Test weeks hold test sessions of one round."),
    Rule(
        name="shape",
        sentence="Within a phase a weekday's session keeps its shape; then part is renewed.",
    ),
    Rule(
        name="stand_up",
        sentence="Nobody rises, stands or walks with a loop on the legs or a band underfoot.",
    ),
    Rule(name="work", sentence="A work interval is under a minute, in one to three rounds."),
    Rule(name="warm_up", sentence="Every session has a warm-up and a cool-down for everybody."),
    Rule(name="score", sentence="The plan's objective is what its parts come to."),
)
BY_NAME = {rule.name: rule for rule in RULES}


@dataclass(frozen=True, slots=True, kw_only=True)
class Weights:
    """What a plan is scored by, in points; a leader's to change. All common practice.

    `cue_points` for each further way to cue at a station in a session, `different_points` for
    each person with another way, `changeover_points` for each second of changeover beyond the
    rest, `balance_points` for each half set between what should be even in a phase,
    `variety_points` for each movement short of the number to be met in the block, `goal_points`
    for each station short of what a goal should get, `fairness_points` for each time that the
    person who is most often different is so, `load_points` for each station in a session that
    works against neither band nor body weight, `last_resort_points` for each last resort.
    """

    cue_points: int = 10
    different_points: int = 2
    changeover_points: int = 1
    balance_points: int = 2
    variety_points: int = 30
    goal_points: int = 10
    fairness_points: int = 4
    load_points: int = 25
    last_resort_points: int = 500


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """Rules and weights as one value."""

    weights: Weights = field(default_factory=Weights)
    each_session: tuple[Requirement, ...] = EACH_SESSION
    each_week: tuple[Requirement, ...] = EACH_WEEK
    major_muscles: tuple[Muscle, ...] = MAJOR_MUSCLES
    least_half_sets: int = LEAST_HALF_SETS_PER_ROUND
    most_half_sets: int = MOST_HALF_SETS_PER_ROUND
    most_same_prime_count: int = MOST_SAME_PRIME_COUNT
    most_same_pattern_count: int = MOST_SAME_PATTERN_COUNT
    most_grip_count: int = MOST_GRIP_COUNT
    least_loaded_share: float = LEAST_LOADED_SHARE

    def most_of(self, pattern: Pattern) -> int:
        """Return how many stations of a pattern a session may hold."""
        return self.most_grip_count if pattern is Pattern.GRIP else self.most_same_pattern_count


def is_loaded(movement: Movement) -> bool:
    """Whether a movement's own way works against a band or the body's own weight."""
    standard = movement.standard
    return standard.set_up is not SetUp.NONE or standard.position is not Position.SEATED

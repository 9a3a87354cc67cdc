"""May this person do this, this way? Limits held against demands, with every reason."""

import math
from collections.abc import Iterable, Mapping, Sequence

from halewright.core import units
from halewright.core.catalogue.movement import Catalogue, Movement, MovementId, Option
from halewright.core.catalogue.words import HandSupport, OptionKind, Position, SetUp
from halewright.core.errors import HalewrightError
from halewright.core.mechanics.demands import Demands
from halewright.core.people.group import LocalRule
from halewright.core.people.limits import BodySide, Limit, Measure, Strength
from halewright.core.people.person import LatexReaction, Person, PersonId
from halewright.core.screening import locally
from halewright.core.screening.rules import FileUnit, amount_words, file_unit, to_file
from halewright.core.screening.verdict import AskFirst, Fit, Matrix, Outcome, Reason, Verdict

LATEX_SOURCE = "Anaphylaxis charity factsheet on latex (2019) [verified (secondary page)]"
CROSS_REACTING_FOODS = ("banana", "avocado", "kiwi", "chestnut")
"""Foods whose reaction often goes with one to latex (the same factsheet)."""

ROUNDING = 1e-6
"""Allowed for in every comparison (in the measure's own unit): exactly at the limit is within."""

ANGLE_ROUNDING_RAD = units.radians(0.75)
"""Allowed for in angles. Keeping feet on the floor moves a computed joint angle by up to 0.7°
(computed here, over the movements that ship); nobody measures a joint that finely (common
practice). 91° is still more than 90°."""

_SUITABLE = Verdict(fit=Fit.SUITABLE)

_SIDED = frozenset(
    (
        Measure.SHOULDER_ELEVATION,
        Measure.SHOULDER_EXTENSION,
        Measure.SHOULDER_EXTERNAL_ROTATION,
        Measure.ELBOW_FLEXION,
        Measure.HIP_FLEXION,
        Measure.HIP_ADDUCTION,
        Measure.HIP_INTERNAL_ROTATION,
        Measure.HIP_EXTENSION,
        Measure.KNEE_FLEXION,
    )
)
"""Only the angles of paired joints are held to a side; every other demand counts on both."""

_STANDING_COUNT: Mapping[HandSupport, float] = {
    HandSupport.TWO_HANDS: 1.0,
    HandSupport.ONE_HAND: 2.0,
    HandSupport.FINGERTIPS: 3.0,
    HandSupport.NONE: 4.0,
}


class NothingToJudge(HalewrightError):
    """A person without a judged screen, or an option without demands: no verdict can be given."""

    def __init__(self, *, what: str) -> None:
        """Name what is missing."""
        super().__init__(f"There is nothing to judge {what} by. Work it out first, then judge.")


def judge(
    *,
    outcome: Outcome,
    person: Person,
    movement: Movement,
    option: Option,
    demands: Demands,
    latex_free: bool,
) -> Verdict:
    """Return the fit of one option for one person, with every reason, the gravest first.

    `latex_free` says that the bands to be used are known to be free of latex. A tension limit
    with no known load gives "with care", because it could not be checked.
    """
    return _judged(
        person=person,
        held=tuple(_Held(limit) for limit in outcome.limits),
        waiting=_waiting(outcome),
        asked=_Asked(movement=movement, option=option, demands=demands),
        latex_free=latex_free,
    )


def is_seated_mobility(*, movement: Movement, option: Option) -> bool:
    """Whether an option is what a person with an open ask-first flag may still do.

    Seated throughout, no band, the legs at most their own weight, no fast work, no held breath
    and no rising (common practice).
    """
    return (
        option.set_up is SetUp.NONE
        and option.position is Position.SEATED
        and option.declared.knee_load_score <= 1
        and option.declared.breath_hold_score == 0
        and option.declared.rises_per_rep_count == 0
        and not movement.power
    )


class _Asked:
    """What one option asks, laid out once for everybody: by side, and the larger of the two.

    Standing, band, power and the declared scores are also read from the option itself, so that a
    demand left out of the table can never free anybody.
    """

    __slots__ = ("banded", "left", "load_known", "most", "right", "seated_mobility")

    def __init__(self, *, movement: Movement, option: Option, demands: Demands) -> None:
        floor = _floor(movement=movement, option=option)
        self.left = _raised(demands.left, floor)
        self.right = _raised(demands.right, floor)
        self.most = _raised(self.left, self.right)
        self.banded = option.set_up is not SetUp.NONE
        self.load_known = demands.load_known
        self.seated_mobility = is_seated_mobility(movement=movement, option=option)


def _raised(
    first: Mapping[Measure, float], second: Mapping[Measure, float]
) -> dict[Measure, float]:
    return {
        measure: max(first.get(measure, 0.0), second.get(measure, 0.0))
        for measure in {**first, **second}
    }


def _floor(*, movement: Movement, option: Option) -> dict[Measure, float]:
    """Return the least that an option can ask, whatever its table of demands says."""
    declared = option.declared
    stands = option.position is not Position.SEATED
    return {
        Measure.STANDING: _STANDING_COUNT[option.support] if stands else 0.0,
        Measure.BAND: float(option.set_up is not SetUp.NONE),
        Measure.POWER: float(movement.power),
        Measure.KNEE_LOAD: declared.knee_load_score,
        Measure.BALANCE: declared.balance_score,
        Measure.GRIP: declared.grip_score,
        Measure.BREATH_HOLD: declared.breath_hold_score,
        Measure.STEPS_TO_REMEMBER: declared.steps_to_remember_count,
        Measure.RISES: declared.rises_per_rep_count,
    }


class _Held:
    """One limit made ready to be held against many options; its sentences are made once."""

    __slots__ = ("at_most", "avoids", "limit", "measure", "said", "side")

    def __init__(self, limit: Limit) -> None:
        self.limit = limit
        self.measure = limit.measure
        angle = file_unit(limit.measure) is FileUnit.DEGREES
        self.at_most = limit.at_most + (ANGLE_ROUNDING_RAD if angle else ROUNDING)
        self.avoids = limit.strength is Strength.AVOID
        # Only the angles of paired joints are held to a side.
        self.side = limit.side if limit.measure in _SIDED else BodySide.BOTH
        self.said: dict[int, Reason] = {}

    def amount(self, asked: _Asked) -> float:
        """Return what is asked of this limit's measure, on its side."""
        if self.side is BodySide.BOTH:
            return asked.most.get(self.measure, 0.0)
        side = asked.left if self.side is BodySide.LEFT else asked.right
        return side.get(self.measure, 0.0)

    def unchecked(self, asked: _Asked) -> bool:
        """Whether the load is needed and not known."""
        return self.measure is Measure.TENSION and asked.banded and not asked.load_known

    def exceeded(self, amount: float) -> Reason:  # unit: the measure's
        """Say that this limit is exceeded, and by what is asked."""
        # Rounded up, so that what is asked never reads the same as what is allowed.
        needs = math.ceil(to_file(measure=self.measure, value=amount) - 0.01)
        reason = self.said.get(needs)
        if reason is None:
            reason = self.reason(_exceeded(limit=self.limit, needs=needs))
            self.said[needs] = reason
        return reason

    def reason(self, words: str) -> Reason:
        """Return a reason from this limit's source."""
        told = self.limit.told_by is not None
        return Reason(words=words, source=self.limit.source, incurable=told)


def _judged(
    *,
    person: Person,
    held: tuple[_Held, ...],
    waiting: tuple[Reason, ...],
    asked: _Asked,
    latex_free: bool,
) -> Verdict:
    graver: list[Reason] = []
    lighter: list[Reason] = []
    if asked.banded and not latex_free:
        _latex(person=person, graver=graver, lighter=lighter)
    if waiting and not asked.seated_mobility:
        graver.extend(waiting)
    for limit in held:
        if limit.unchecked(asked):
            reason = _sentence(limit.limit.reason)
            words = f"{reason} Load not checked: the band has not been measured."
            lighter.append(limit.reason(words))
            continue
        amount = limit.amount(asked)
        if amount > limit.at_most:
            (graver if limit.avoids else lighter).append(limit.exceeded(amount))
    if graver:
        return Verdict(fit=Fit.NOT_SUITABLE, reasons=(*graver, *lighter))
    if lighter:
        return Verdict(fit=Fit.WITH_CARE, reasons=tuple(lighter))
    return _SUITABLE


def _exceeded(*, limit: Limit, needs: int) -> str:
    unit = file_unit(limit.measure)
    if unit is FileUnit.SCORE or unit is FileUnit.COUNT:
        return _sentence(limit.reason)
    sign = "°" if unit is FileUnit.DEGREES else " N"
    most = amount_words(measure=limit.measure, value=limit.at_most)
    return f"{_sentence(limit.reason)} This asks for {needs}{sign}; at most {most}."


def _sentence(words: str) -> str:
    """Return words that a person wrote as a sentence: a capital first and a full stop last."""
    told = words.strip()
    if not told:
        return told
    return told[0].upper() + told[1:] + ("" if told[-1] in ".!?" else ".")


def _latex(*, person: Person, graver: list[Reason], lighter: list[Reason]) -> None:
    match person.latex:
        case LatexReaction.IMMEDIATE:
            words = "Reacts to latex at once: only bands known to be free of latex."
            graver.append(Reason(words=words, source=LATEX_SOURCE, incurable=True))
        case LatexReaction.NOT_KNOWN:
            words = "Nobody has asked about latex: only bands known to be free of latex until then."
            graver.append(Reason(words=words, source=LATEX_SOURCE, incurable=True))
        case LatexReaction.SKIN:
            words = "Skin reacts to latex: a band free of latex is better."
            lighter.append(Reason(words=words, source=LATEX_SOURCE))
        case LatexReaction.NONE:
            foods = [food for food in CROSS_REACTING_FOODS if _names(person, food)]
            if foods:
                words = f"Reacts to {', '.join(foods)}, which often goes with latex: ask first."
                lighter.append(Reason(words=words, source=LATEX_SOURCE))


def _names(person: Person, food: str) -> bool:
    return any(food in told.lower() for told in person.food_reactions)


def _waiting(outcome: Outcome) -> tuple[Reason, ...]:
    return tuple(_undecided(flag) for flag in outcome.flags if flag.decided is not True)


def _undecided(flag: AskFirst) -> Reason:
    state = "no answer is recorded yet" if flag.decided is None else f"{flag.decided_by} said wait"
    return Reason(
        words=f"{flag.words} ({state}.) Until then: seated movement without a band.",
        source=flag.source,
        incurable=True,
    )


def matrix(
    *,
    people: Sequence[Person],
    outcomes: Mapping[PersonId, Outcome],
    catalogue: Catalogue,
    demands: Mapping[tuple[MovementId, OptionKind], Demands],
    latex_free: bool,
) -> Matrix:
    """Judge every option of every movement for every person.

    Raises `NothingToJudge` where a person has no outcome or an option no demands.
    """
    for person in people:
        if person.id not in outcomes:
            raise NothingToJudge(what=person.preferred_name)
    asks = _all_asked(catalogue=catalogue, demands=demands)
    judged: dict[tuple[PersonId, MovementId, OptionKind], Verdict] = {}
    for person in people:
        outcome = outcomes[person.id]
        held = tuple(_Held(limit) for limit in outcome.limits)
        waiting = _waiting(outcome)
        for (movement, kind), asked in asks.items():
            judged[person.id, movement, kind] = _judged(
                person=person, held=held, waiting=waiting, asked=asked, latex_free=latex_free
            )
    return judged


def _all_asked(
    *, catalogue: Catalogue, demands: Mapping[tuple[MovementId, OptionKind], Demands]
) -> dict[tuple[MovementId, OptionKind], _Asked]:
    asks: dict[tuple[MovementId, OptionKind], _Asked] = {}
    for movement in catalogue.values():
        for option in movement.options:
            key = (movement.id, option.kind)
            if key not in demands:
                raise NothingToJudge(what=f"{movement.name} ({option.kind.value})")
            asks[key] = _Asked(movement=movement, option=option, demands=demands[key])
    return asks


def session_latex_free(*, people: Iterable[Person], local_rules: Sequence[LocalRule]) -> bool:
    """Whether a session with these people expected uses only bands free of latex.

    One person who reacts at once, or whom nobody has asked, makes it so, unless the local rule
    "latex_policy" (signed, with a source) switches it off. Each person is judged on their own
    latex record either way.
    """
    local = locally.in_force(local_rules).get(locally.LATEX_POLICY)
    if local is not None and local.off:
        return False
    at_risk = (LatexReaction.IMMEDIATE, LatexReaction.NOT_KNOWN)
    return any(person.latex in at_risk for person in people)

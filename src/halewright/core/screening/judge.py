"""May this person do this, this way? Limits held against demands, with every reason."""

import math
from collections.abc import Iterable, Mapping, Sequence

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

LATEX_SOURCE = "Anaphylaxis charity factsheet on latex (2019) (verified (secondary page))"
CROSS_REACTING_FOODS = ("banana", "avocado", "kiwi", "chestnut")
"""Foods whose reaction often goes with one to latex (the same factsheet)."""

ROUNDING = 1e-6
"""Allowed for in every comparison (in the measure's own unit): exactly at the limit is within."""

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
    graver: list[Reason] = []
    lighter: list[Reason] = []
    if option.set_up is not SetUp.NONE and not latex_free:
        _latex(person=person, graver=graver, lighter=lighter)
    if outcome.undecided and not is_seated_mobility(movement=movement, option=option):
        graver.extend(_undecided(flag) for flag in outcome.flags if flag.decided is not True)
    for limit in outcome.limits:
        _hold_against(
            limit=limit,
            asked=asked(limit=limit, movement=movement, option=option, demands=demands),
            graver=graver,
            lighter=lighter,
        )
    if graver:
        return Verdict(fit=Fit.NOT_SUITABLE, reasons=(*graver, *lighter))
    if lighter:
        return Verdict(fit=Fit.WITH_CARE, reasons=tuple(lighter))
    return _SUITABLE


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


def asked(*, limit: Limit, movement: Movement, option: Option, demands: Demands) -> float | None:
    """Return what an option asks of a limit's measure and side; None where the load is not known.

    Standing, band and power are also read from the option itself, so that a demand left out of
    the table can never free anybody.
    """
    measure = limit.measure
    if measure is Measure.TENSION and not demands.load_known:
        return 0.0 if option.set_up is SetUp.NONE else None
    if limit.side is BodySide.BOTH or measure not in _SIDED:
        amount = demands.most(measure)
    else:
        side = demands.left if limit.side is BodySide.LEFT else demands.right
        amount = side.get(measure, 0.0)
    return max(amount, _of_option(measure=measure, movement=movement, option=option))


def _of_option(*, measure: Measure, movement: Movement, option: Option) -> float:
    declared = option.declared
    match measure:
        case Measure.STANDING if option.position is not Position.SEATED:
            return _STANDING_COUNT[option.support]
        case Measure.BAND:
            return float(option.set_up is not SetUp.NONE)
        case Measure.POWER:
            return float(movement.power)
        case Measure.KNEE_LOAD:
            return declared.knee_load_score
        case Measure.BALANCE:
            return declared.balance_score
        case Measure.GRIP:
            return declared.grip_score
        case Measure.BREATH_HOLD:
            return declared.breath_hold_score
        case Measure.STEPS_TO_REMEMBER:
            return declared.steps_to_remember_count
        case Measure.RISES:
            return declared.rises_per_rep_count
        case _:
            return 0.0


def _hold_against(
    *, limit: Limit, asked: float | None, graver: list[Reason], lighter: list[Reason]
) -> None:
    told = limit.told_by is not None
    if asked is None:
        words = f"{limit.reason} Load not checked: the band has not been measured."
        lighter.append(Reason(words=words, source=limit.source, incurable=told))
        return
    if asked <= limit.at_most + ROUNDING:
        return
    reason = Reason(words=_exceeded(limit=limit, asked=asked), source=limit.source, incurable=told)
    (graver if limit.strength is Strength.AVOID else lighter).append(reason)


def _exceeded(*, limit: Limit, asked: float) -> str:
    unit = file_unit(limit.measure)
    if unit is FileUnit.SCORE or unit is FileUnit.COUNT:
        return limit.reason
    # Rounded up, so that what is asked never reads the same as what is allowed.
    needs = math.ceil(to_file(measure=limit.measure, value=asked) - 0.01)
    sign = "°" if unit is FileUnit.DEGREES else " N"
    most = amount_words(measure=limit.measure, value=limit.at_most)
    return f"{limit.reason} This asks for {needs}{sign}; at most {most}."


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
    judged: dict[tuple[PersonId, MovementId, OptionKind], Verdict] = {}
    for person in people:
        if person.id not in outcomes:
            raise NothingToJudge(what=person.preferred_name)
        for movement in catalogue.values():
            for option in movement.options:
                if (movement.id, option.kind) not in demands:
                    raise NothingToJudge(what=f"{movement.name} ({option.kind.value})")
                judged[person.id, movement.id, option.kind] = judge(
                    outcome=outcomes[person.id],
                    person=person,
                    movement=movement,
                    option=option,
                    demands=demands[movement.id, option.kind],
                    latex_free=latex_free,
                )
    return judged


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

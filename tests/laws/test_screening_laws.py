"""Laws of screening, on random screens, people and demands."""

from dataclasses import replace
from datetime import date
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.fakes import screening_cast as cast

from halewright.core.catalogue.movement import Declared, Movement, Option
from halewright.core.catalogue.words import HandSupport, OptionKind, Position, SetUp
from halewright.core.mechanics.demands import Demands
from halewright.core.people.group import Decision, LocalRule, RawScreen
from halewright.core.people.limits import BodySide, Limit, Measure, Strength
from halewright.core.people.person import LatexReaction, Person, Standing
from halewright.core.screening import judge, questions
from halewright.core.screening.assess import assess
from halewright.core.screening.rules import FileUnit, GivesFlag, Rule, file_unit
from halewright.core.screening.verdict import Fit, Outcome, Verdict
from halewright.files import screening as screening_files

pytestmark = pytest.mark.laws

STRICTNESS = list(Fit)
PERSON = cast.person().id
IDS = [question.id for question in questions.QUESTIONS]

SIDED_LADDER = ("no", "", "yes, left", "yes")
RED_LADDER = ("no", "")
PLAIN_LADDER = ("no", "", "yes")


@cache
def rules() -> tuple[Rule, ...]:
    return screening_files.shipped().rules


def ladder(identifier: str) -> tuple[str, ...]:
    """Return the answers to a question from the mildest to the worst."""
    question = questions.BY_ID[identifier]
    if question.red_flag:
        return RED_LADDER
    if identifier == "hip_replacement":
        return ("no", "", "yes, left, anterior", "yes, left", "yes")
    return SIDED_LADDER if question.sided else PLAIN_LADDER


@st.composite
def screens(draw: st.DrawFn) -> dict[str, str]:
    """Return a screen that is mostly "no", as most people's are, so that much stays open."""
    answers = dict.fromkeys(IDS, "no")
    for name in draw(st.sets(st.sampled_from(IDS), max_size=5)):
        answers[name] = draw(st.sampled_from(ladder(name)))
    return answers


@st.composite
def worsened(draw: st.DrawFn) -> tuple[dict[str, str], dict[str, str]]:
    """Return a screen and one with some of its answers worse."""
    better = draw(screens())
    worse = dict(better)
    for name in draw(st.sets(st.sampled_from(IDS), min_size=1, max_size=3)):
        steps = ladder(name)
        worse[name] = draw(st.sampled_from(steps[steps.index(better[name]) :]))
    return better, worse


def amounts(measure: Measure) -> st.SearchStrategy[float]:
    if file_unit(measure) is FileUnit.DEGREES:
        return st.floats(0, cast.rad(170))
    if measure is Measure.TENSION:
        return st.floats(0, 150)
    return st.integers(0, 4).map(float)


def sides() -> st.SearchStrategy[dict[Measure, float]]:
    """Return a few demands, so that one limit more or less decides the verdict."""
    one = st.sampled_from(Measure).flatmap(
        lambda measure: st.tuples(st.just(measure), amounts(measure))
    )
    return st.lists(one, max_size=4).map(dict)


ASKS = st.builds(Demands, left=sides(), right=sides(), load_known=st.booleans())
OPTIONS = st.builds(
    cast.option,
    kind=st.sampled_from(OptionKind),
    set_up=st.sampled_from(SetUp),
    position=st.sampled_from(Position),
    support=st.sampled_from(HandSupport),
    declared=st.builds(
        Declared,
        knee_load_score=st.sampled_from((0.0, 1.0, 2.0)),
        breath_hold_score=st.sampled_from((0.0, 0.0, 1.0, 2.0)),
        grip_score=st.sampled_from((0.0, 1.0, 2.0)),
    ),
)
MOVEMENTS = st.builds(
    lambda option, power: cast.movement(option, power=power), OPTIONS, st.booleans()
)
PEOPLE = st.builds(
    cast.person, latex=st.sampled_from(LatexReaction), standing=st.sampled_from(Standing)
)
LIMITS = st.sampled_from(Measure).flatmap(
    lambda measure: st.builds(
        Limit,
        measure=st.just(measure),
        at_most=amounts(measure),
        strength=st.sampled_from(Strength),
        reason=st.just("Told."),
        source=st.just("a letter"),
        rule=st.just("told"),
        side=st.sampled_from(BodySide),
        told_by=st.sampled_from((None, "Ms Rae")),
    )
)
RULE_IDS = st.sampled_from([rule.id for rule in screening_files.shipped().rules])


def decided(flag: str, *, go_ahead: bool = True) -> Decision:
    return Decision(
        person=PERSON, flag=flag, go_ahead=go_ahead, by="Dr Imrie", on=date(2026, 11, 10)
    )


ALL_FLAGS_AGREED = tuple(
    decided(rule.id)
    for rule in screening_files.shipped().rules
    if isinstance(rule.gives, GivesFlag)
)
DECISIONS = st.builds(
    lambda agreed, more: (*agreed, *more),
    st.sampled_from(((), ALL_FLAGS_AGREED)),
    st.lists(
        st.builds(lambda flag, go: decided(flag, go_ahead=go), RULE_IDS, st.booleans()),
        max_size=4,
    ),
)
LOCAL = st.lists(
    st.builds(
        LocalRule,
        rule=RULE_IDS,
        who=st.sampled_from(("Ann", "")),
        why=st.just("so"),
        source=st.sampled_from(("a leaflet", " ")),
        at_most=st.none() | st.floats(0, 200),
        off=st.booleans(),
    ),
    max_size=6,
).map(tuple)


def outcome_of(
    answers: dict[str, str],
    *,
    person: Person | None = None,
    decisions: tuple[Decision, ...] = (),
    local: tuple[LocalRule, ...] = (),
) -> Outcome:
    screen = RawScreen(
        person=PERSON,
        answered_on=date(2026, 11, 1),
        completed_by="self",
        answers=tuple(answers.items()),
    )
    return assess(
        person=person or cast.person(),
        screen=screen,
        decisions=decisions,
        rules=rules(),
        local_rules=local,
        on=cast.ON,
    )


def verdict(
    outcome: Outcome, *, movement: Movement, asks: Demands, person: Person, latex_free: bool
) -> Verdict:
    return judge.judge(
        outcome=outcome,
        person=person,
        movement=movement,
        option=movement.options[0],
        demands=asks,
        latex_free=latex_free,
    )


def how_strict(told: Verdict) -> int:
    return STRICTNESS.index(told.fit)


@settings(max_examples=150, deadline=None)
@given(
    pair=worsened(),
    movement=MOVEMENTS,
    asks=ASKS,
    person=PEOPLE,
    decisions=DECISIONS,
    local=LOCAL,
    latex_free=st.booleans(),
)
def test_worse_answer_never_frees(
    pair: tuple[dict[str, str], dict[str, str]],
    movement: Movement,
    asks: Demands,
    person: Person,
    decisions: tuple[Decision, ...],
    local: tuple[LocalRule, ...],
    latex_free: bool,
) -> None:
    """Whatever the movement, the person, the decisions and local rules, worse is never freer."""
    milder, harder = (
        verdict(
            outcome_of(answers, person=person, decisions=decisions, local=local),
            movement=movement,
            asks=asks,
            person=person,
            latex_free=latex_free,
        )
        for answers in pair
    )

    assert how_strict(harder) >= how_strict(milder)


@settings(max_examples=100, deadline=None)
@given(answers=screens(), limit=LIMITS, movement=MOVEMENTS, asks=ASKS, person=PEOPLE)
def test_added_limit_never_frees(
    answers: dict[str, str], limit: Limit, movement: Movement, asks: Demands, person: Person
) -> None:
    """One more limit on the person's record makes no option freer."""
    limited = replace(person, limits=(limit,))

    before = verdict(
        outcome_of(answers, person=person),
        movement=movement,
        asks=asks,
        person=person,
        latex_free=True,
    )
    after = verdict(
        outcome_of(answers, person=limited),
        movement=movement,
        asks=asks,
        person=limited,
        latex_free=True,
    )

    assert how_strict(after) >= how_strict(before)


@settings(max_examples=60, deadline=None)
@given(
    answers=screens(),
    blank=st.sampled_from(("", "don’t know", "?")),
    movement=MOVEMENTS,
    asks=ASKS,
    decisions=DECISIONS,
)
def test_unanswered_red_flag_is_judged_exactly_as_yes(
    answers: dict[str, str],
    blank: str,
    movement: Movement,
    asks: Demands,
    decisions: tuple[Decision, ...],
) -> None:
    """The limits, the flags raised and every verdict are the same for blank as for yes."""
    red = [question.id for question in questions.QUESTIONS if question.red_flag]
    first, second = (
        outcome_of(answers | dict.fromkeys(red, text), decisions=decisions)
        for text in (blank, "yes")
    )
    missing = outcome_of(
        {name: text for name, text in answers.items() if name not in red}, decisions=decisions
    )

    assert first.limits == second.limits == missing.limits
    assert [(f.flag, f.decided) for f in first.flags] == [(f.flag, f.decided) for f in second.flags]
    told = [
        verdict(outcome, movement=movement, asks=asks, person=cast.person(), latex_free=True)
        for outcome in (first, second, missing)
    ]
    assert told[0] == told[1] == told[2]


@settings(max_examples=100, deadline=None)
@given(answers=screens(), limit=LIMITS, local=LOCAL)
def test_told_limit_is_never_overridden(
    answers: dict[str, str],
    limit: Limit,
    local: tuple[LocalRule, ...],
) -> None:
    """Local rules, even of the same name, leave a told limit as it was."""
    person = replace(cast.person(), limits=(limit,))
    meddling = LocalRule(rule="told", who="Ann", why="so", source="s", off=True)

    assert limit in outcome_of(answers, person=person, local=(*local, meddling)).limits


@settings(max_examples=100, deadline=None)
@given(
    answers=screens(),
    movement=MOVEMENTS,
    asks=ASKS,
    person=PEOPLE,
    decisions=DECISIONS,
    local=LOCAL,
    latex_free=st.booleans(),
)
def test_every_reason_has_words_and_source_and_the_same_question_the_same_answer(
    answers: dict[str, str],
    movement: Movement,
    asks: Demands,
    person: Person,
    decisions: tuple[Decision, ...],
    local: tuple[LocalRule, ...],
    latex_free: bool,
) -> None:
    """Suitable has no reasons, all else has some; none is empty; asking twice changes nothing."""
    told, again = (
        verdict(
            outcome_of(answers, person=person, decisions=decisions, local=local),
            movement=movement,
            asks=asks,
            person=person,
            latex_free=latex_free,
        )
        for _ in range(2)
    )

    assert told == again
    assert bool(told.reasons) is (told.fit is not Fit.SUITABLE)
    assert all(reason.words.strip() and reason.source.strip() for reason in told.reasons)


def test_shuffled_screen_gives_the_same_outcome() -> None:
    """The order in which a screen was answered changes nothing."""
    answers = dict.fromkeys(IDS, "yes")
    backwards = dict(reversed(list(answers.items())))

    assert outcome_of(answers) == outcome_of(backwards)


def test_option_without_band_and_effort_is_open_to_whoever_has_answered_nothing() -> None:
    """Nobody is left with nothing: plain seated mobility is never closed by a blank screen."""
    bare: Option = cast.option(kind=OptionKind.WITHOUT_BAND, set_up=SetUp.NONE)
    person = Person(id=PERSON, preferred_name="Moira")

    told = verdict(
        outcome_of({}, person=person),
        movement=cast.movement(bare),
        asks=cast.demands(),
        person=person,
        latex_free=False,
    )

    assert told.fit is not Fit.NOT_SUITABLE

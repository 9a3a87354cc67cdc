"""The checker's view of what each person is given to do."""

from dataclasses import replace

import pytest
from tests.fakes import plan_world as worlds

from halewright.core.catalogue.movement import Declared, MovementId
from halewright.core.catalogue.words import HandSupport, OptionKind, Part, Position, SetUp
from halewright.core.mechanics.demands import Demands
from halewright.core.people.limits import BodySide, Limit, Measure, Strength
from halewright.core.people.person import LatexReaction
from halewright.core.screening import judge
from halewright.core.screening.verdict import Fit, Reason, Verdict
from halewright.core.session.outline import NoticeKind, Purpose

SHOULDER = "The surgeon: not above the shoulder."


def unsuitable(
    *, words: str = "Not above the shoulder.", source: str = "common practice", grave: bool = False
) -> Verdict:
    """Return a verdict with one reason."""
    reason = Reason(words=words, source=source, incurable=grave)
    return Verdict(fit=Fit.NOT_SUITABLE, reasons=(reason,))


def told(strength: Strength) -> Limit:
    """Return a limit told by a clinician."""
    return Limit(
        measure=Measure.SHOULDER_ELEVATION,
        at_most=1.0,
        strength=strength,
        reason=SHOULDER,
        source="told",
        rule="told",
        told_by="Dr Hale",
    )


def with_limit(made: worlds.World, limit: Limit) -> worlds.World:
    """Return the world with a limit in Ada's outcome."""
    own = replace(made.outcomes[worlds.ADA], limits=(limit,))
    return replace(made, outcomes={**made.outcomes, worlds.ADA: own})


def test_an_unsuitable_way_is_named_with_its_reason() -> None:
    """The breach names the week, session, station and person, and says why."""
    made = worlds.with_verdict(
        worlds.world(), worlds.ADA, "raise-1", OptionKind.STANDARD, unsuitable()
    )

    found = worlds.check(made)

    # "raise-1" stands at station 6 on Tuesdays; in week 1 Ada does it without a band.
    assert [(each.rule, each.week, each.session, each.station) for each in found] == [
        ("option", week, 1, 6) for week in (2, 3, 4, 5, 6)
    ]
    assert {each.person for each in found} == {worlds.ADA}
    assert found[0].words == (
        "Week 2, session 1, station 6: Ada is given Raise 1 (standard), which is not suitable. "
        "Not above the shoulder."
    )
    assert not any(each.incurable for each in found)


def test_a_way_that_nobody_judged_is_a_breach() -> None:
    """Silence is not consent: a missing verdict counts as unsuitable."""
    made = worlds.world()
    key = (worlds.ADA, MovementId("raise-1"), OptionKind.STANDARD)
    kept = {each: verdict for each, verdict in made.matrix.items() if each != key}

    found = worlds.places(replace(made, matrix=kept))

    assert found == [("option", week, 1, 6, worlds.ADA) for week in (2, 3, 4, 5, 6)]


def test_a_way_that_the_movement_lacks_is_a_breach() -> None:
    """A use must name a way that the movement's file gives."""
    made = worlds.world()
    old = made.catalogue[MovementId("trunk-1")]
    ways = tuple(each for each in old.options if each.kind is not OptionKind.STRONGER)
    lacking = worlds.with_catalogue(made, replace(old, options=ways))

    found = worlds.places(worlds.with_use(lacking, 2, 1, 7, worlds.ADA, option=OptionKind.STRONGER))

    assert found == [("option", 2, 1, 7, worlds.ADA)]


def test_a_movement_that_the_catalogue_lacks_is_told_and_stops_nothing() -> None:
    """A plan that names a strange movement is checked to its end."""
    made = worlds.world()
    kept = {each: movement for each, movement in made.catalogue.items() if each != "trunk-1"}

    found = worlds.check(replace(made, catalogue=kept))

    assert {(each.rule, each.session, each.station) for each in found if each.station} == {
        ("option", 1, 7)
    }
    assert "trunk-1" in found[-1].words


def test_a_told_limit_is_incurable() -> None:
    """What a clinician told is its own rule, which nobody can accept away."""
    verdict = unsuitable(words=f"{SHOULDER} This asks for 90°.", source="told", grave=True)
    made = with_limit(worlds.world(), told(Strength.AVOID))
    made = worlds.with_verdict(made, worlds.ADA, "raise-1", OptionKind.STANDARD, verdict)

    found = worlds.check(made)

    assert [(each.rule, each.week, each.station) for each in found] == [
        ("told_limit", week, 6) for week in (2, 3, 4, 5, 6)
    ]
    assert all(each.incurable for each in found)


@pytest.mark.parametrize(
    ("side", "asked_left", "rules"),
    [
        (BodySide.BOTH, 1.1, {"told_limit"}),
        (BodySide.LEFT, 1.1, {"told_limit"}),
        (BodySide.RIGHT, 1.1, set()),
        (BodySide.LEFT, 1.01, set()),
    ],
)
def test_a_told_limit_is_held_against_the_demands_themselves(
    side: BodySide, asked_left: float, rules: set[str]
) -> None:
    """Even where a verdict calls the way suitable. At most 1 rad; 0.75° (0.013 rad) is rounding."""
    made = with_limit(worlds.world(), replace(told(Strength.AVOID), side=side))
    asked = Demands(left={Measure.SHOULDER_ELEVATION: asked_left}, right={})
    key = (MovementId("raise-1"), OptionKind.STANDARD)

    found = worlds.check(replace(made, demands={key: asked}))

    assert {each.rule for each in found} == rules
    assert all(each.station == 6 and each.person == worlds.ADA for each in found)


def test_a_limit_told_as_care_does_not_make_another_reason_incurable() -> None:
    """An ordinary unsuitable way stays the leader's to accept beside a told "with care"."""
    care = Reason(words=SHOULDER, source="told", incurable=True)
    ordinary = Reason(words="Grip is sore.", source="common practice")
    verdict = Verdict(fit=Fit.NOT_SUITABLE, reasons=(ordinary, care))
    made = with_limit(worlds.world(), told(Strength.CARE))
    made = worlds.with_verdict(made, worlds.ADA, "raise-1", OptionKind.STANDARD, verdict)

    assert {(each.rule, each.incurable) for each in worlds.check(made)} == {("option", False)}


def test_latex_against_a_reaction_is_incurable() -> None:
    """A way ruled out by latex is a breach of the latex rule, at the person's station."""
    verdict = unsuitable(words="Reacts at once.", source=judge.LATEX_SOURCE, grave=True)
    made = worlds.with_verdict(worlds.world(), worlds.ADA, "pull-2", OptionKind.STANDARD, verdict)

    found = worlds.check(made)

    assert [(each.rule, each.week, each.session, each.station) for each in found] == [
        ("latex", week, 2, 2) for week in (1, 2, 3)
    ]
    assert all(each.incurable for each in found)


def test_a_session_that_must_be_latex_free_says_so() -> None:
    """Ada reacts to latex at once and comes to every session."""
    found = worlds.check(worlds.with_session(worlds.world(), 3, 1, latex_free=False))

    assert [(each.rule, each.week, each.session) for each in found] == [("latex", 3, 1)]
    assert found[0].incurable


def test_latex_may_be_used_where_nobody_reacts() -> None:
    """Without Ada's reaction no session need be latex-free; one nobody asked counts as reacting."""
    made = worlds.with_person(worlds.world(), worlds.ADA, latex=LatexReaction.NONE)
    free = worlds.with_session(made, 3, 1, latex_free=False)
    unasked = worlds.with_person(free, worlds.EVE, latex=LatexReaction.NOT_KNOWN)

    assert worlds.places(free) == []
    assert worlds.places(unasked) == [("latex", 3, 1, None, None)]


def test_an_open_flag_means_seated_mobility_without_a_band() -> None:
    """Dot with a band is an incurable breach at that station, told once."""
    banded = worlds.with_use(worlds.world(), 2, 1, 2, worlds.DOT, option=OptionKind.GENTLER)

    found = worlds.check(banded)

    assert [(each.rule, each.week, each.session, each.station, each.person) for each in found] == [
        ("ask_first", 2, 1, 2, worlds.DOT)
    ]
    assert found[0].incurable


@pytest.mark.parametrize(
    "change",
    [
        {"position": Position.SUPPORTED_STANDING},
        {"declared": Declared(knee_load_score=2.0)},
        {"declared": Declared(breath_hold_score=1.0)},
        {"paths": (worlds.STRIP,)},
    ],
)
def test_a_bandless_way_must_be_still_for_an_open_flag(change: dict[str, object]) -> None:
    """Standing, a loaded knee, a held breath or a hidden band is no seated mobility."""
    made = worlds.with_way(worlds.world(), "trunk-1", OptionKind.WITHOUT_BAND, **change)

    found = [each for each in worlds.check(made) if each.rule == "ask_first"]

    assert {(each.session, each.station, each.person) for each in found} == {(1, 7, worlds.DOT)}


def test_an_open_flag_without_a_notice_is_a_breach() -> None:
    """The leader sees each evening who has an open question."""
    found = worlds.check(worlds.with_session(worlds.world(), 2, 1, notices=()))

    assert [(each.rule, each.week, each.session, each.person) for each in found] == [
        ("ask_first", 2, 1, worlds.DOT)
    ]


def test_a_person_without_a_judged_screen_counts_as_undecided() -> None:
    """No screen is no go-ahead: with a band that is a breach."""
    made = worlds.world()
    kept = {each: outcome for each, outcome in made.outcomes.items() if each != worlds.EVE}

    found = worlds.places(replace(made, outcomes=kept))

    assert ("ask_first", 2, 1, 2, worlds.EVE) in found


def test_another_set_up_than_the_groups_is_a_breach() -> None:
    """Nobody has the band elsewhere than the rest of the circle."""
    made = worlds.with_way(worlds.world(), "pull-1", OptionKind.GENTLER, set_up=SetUp.UNDER_THIGHS)

    found = worlds.places(worlds.with_use(made, 2, 1, 2, worlds.ADA, option=OptionKind.GENTLER))

    assert found == [("set_up", 2, 1, 2, worlds.ADA)]


def test_sitting_out_and_another_movement_are_last_resorts() -> None:
    """Both are told at their station and can be accepted."""
    made = worlds.world()
    out = worlds.with_use(made, 2, 1, 4, worlds.ADA, option=None)
    other = worlds.with_use(made, 2, 1, 4, worlds.ADA, movement=MovementId("push-2"))

    assert worlds.places(out) == [("last_resort", 2, 1, 4, worlds.ADA)]
    assert worlds.places(other) == [("last_resort", 2, 1, 4, worlds.ADA)]
    assert not worlds.check(out)[0].incurable


def test_only_seated_mobility_and_only_for_an_open_flag_is_no_last_resort() -> None:
    """Ada may not move along with a warm-up item unaccepted, nor Dot with a band elsewhere."""
    made = worlds.world()
    item, kind = MovementId("warm-1"), OptionKind.STANDARD
    ada = worlds.with_use(made, 2, 1, 4, worlds.ADA, movement=item, option=kind)
    banded = worlds.with_use(made, 2, 1, 4, worlds.DOT, movement=MovementId("push-2"), option=kind)

    assert worlds.places(ada) == [("last_resort", 2, 1, 4, worlds.ADA)]
    assert worlds.places(banded) == [
        ("ask_first", 2, 1, 4, worlds.DOT),
        ("last_resort", 2, 1, 4, worlds.DOT),
    ]


def test_another_seated_movement_is_no_last_resort_for_an_open_flag() -> None:
    """Dot may move along with a warm-up item instead."""
    still = worlds.with_use(
        worlds.world(),
        2,
        1,
        4,
        worlds.DOT,
        movement=MovementId("warm-1"),
        option=OptionKind.STANDARD,
    )

    assert worlds.places(still) == []


def test_the_first_session_is_for_handling() -> None:
    """A strength session first of all is a breach, and so is handling later on."""
    made = worlds.world()
    strength = worlds.with_session(made, 1, 1, purpose=Purpose.STRENGTH)
    later = worlds.with_session(made, 2, 1, purpose=Purpose.HANDLING)

    assert worlds.places(strength) == [("handling", 1, 1, None, None)]
    assert worlds.places(later) == [("handling", 2, 1, None, None)]


def test_the_first_session_has_no_load() -> None:
    """In the block's first session, and in a joiner's own, nobody pulls on a band."""
    made = worlds.world()
    block = worlds.with_use(made, 1, 1, 2, worlds.EVE, option=OptionKind.STANDARD)
    joiner = worlds.with_use(made, 2, 2, 2, worlds.BEN, option=OptionKind.GENTLER)
    known = worlds.with_use(made, 2, 2, 2, worlds.ADA, option=OptionKind.GENTLER)

    assert worlds.places(block) == [("handling", 1, 1, 2, worlds.EVE)]
    assert worlds.places(joiner) == [("handling", 2, 2, 2, worlds.BEN)]
    assert worlds.places(known) == []


def test_an_open_flag_is_not_told_again_as_handling() -> None:
    """Dot with a band in the first session breaks the graver rule, and that is told."""
    made = worlds.with_use(worlds.world(), 1, 1, 2, worlds.DOT, option=OptionKind.STANDARD)

    assert worlds.places(made) == [("ask_first", 1, 1, 2, worlds.DOT)]


@pytest.mark.parametrize(
    "change",
    [
        {"position": Position.SUPPORTED_STANDING},
        {"position": Position.RISING},
    ],
)
def test_nobody_is_on_the_feet_with_a_loop_on_the_legs(change: dict[str, object]) -> None:
    """The station itself is named: it is what the group is shown."""
    made = worlds.with_way(worlds.world(), "hip-1", OptionKind.STANDARD, **change)

    found = [each for each in worlds.check(made) if each.rule == "stand_up"]

    assert [(each.week, each.session, each.station, each.person) for each in found] == [
        (week, 1, 3, None) for week in (1, 2, 3, 4, 5, 6)
    ]


def test_one_persons_own_way_may_not_bind_the_legs_either() -> None:
    """A band underfoot on the feet is told with the person's name, wherever its path goes."""
    made = worlds.with_way(
        worlds.world(),
        "hip-1",
        OptionKind.STRONGER,
        position=Position.SUPPORTED_STANDING,
    )

    found = worlds.places(worlds.with_use(made, 2, 1, 3, worlds.ADA, option=OptionKind.STRONGER))

    assert found == [("stand_up", 2, 1, 3, worlds.ADA)]


def test_a_resisted_sit_to_stand_needs_its_safety_line() -> None:
    """It is the one rise that may have a band underfoot, and only with its own safety line."""
    made = worlds.world()
    old = made.catalogue[MovementId("rise-2")]
    resisted = replace(
        old,
        options=(
            replace(old.standard, set_up=SetUp.UNDER_FEET, paths=(worlds.STRIP,)),
            *old.options[1:],
        ),
    )
    unsaid = replace(resisted, teaching=replace(resisted.teaching, safety=" "))

    sound = worlds.check(worlds.with_catalogue(made, resisted))
    bare = worlds.check(worlds.with_catalogue(made, unsaid))

    assert [each for each in sound if each.rule == "stand_up"] == []
    assert {(each.session, each.station) for each in bare if each.rule == "stand_up"} == {(2, 1)}


def test_nobody_stands_in_a_seated_group() -> None:
    """Where nobody stands, a rise is unsuitable for everybody who is given it."""
    made = worlds.world()
    seated = replace(made, group=replace(made.group, seated_only=True))

    found = worlds.check(seated)

    assert {(each.rule, each.station) for each in found} == {("option", 1)}
    assert worlds.DOT not in {each.person for each in found}


def test_a_short_warm_up_is_a_breach() -> None:
    """Three items at least, at either end."""
    made = worlds.world()
    whole = worlds.session(made, 2, 1)

    begin = worlds.with_session(made, 2, 1, warm_up=whole.warm_up[:2])
    end = worlds.with_session(made, 2, 1, cool_down=whole.cool_down[:2])

    assert worlds.places(begin) == [("warm_up", 2, 1, None, None)]
    assert worlds.places(end) == [("warm_up", 2, 1, None, None)]


@pytest.mark.parametrize(
    "change",
    [
        {"position": Position.SUPPORTED_STANDING},
        {"set_up": SetUp.IN_HANDS},
    ],
)
def test_a_warm_up_is_seated_and_without_a_band(change: dict[str, object]) -> None:
    """Everybody begins together, on the chair."""
    made = worlds.with_way(worlds.world(), "warm-1", OptionKind.STANDARD, **change)

    found = {each.rule for each in worlds.check(made) if each.person is None}

    assert found == {"warm_up"}


def test_a_main_movement_is_no_warm_up() -> None:
    """An item belongs to its own part of the session."""
    made = worlds.world()
    old = made.catalogue[MovementId("cool-2")]

    found = worlds.check(worlds.with_catalogue(made, replace(old, part=Part.MAIN)))

    assert {each.rule for each in found} == {"warm_up"}
    assert len(found) == 11


def test_nobody_sits_out_the_warm_up() -> None:
    """The warm-up is for everybody; an item that does not suit is told with the part's name."""
    made = worlds.world()
    first, *rest = worlds.session(made, 2, 1).warm_up
    uses = tuple(
        replace(each, option=None) if each.person == worlds.EVE else each for each in first.uses
    )
    out = worlds.with_session(made, 2, 1, warm_up=(replace(first, uses=uses), *rest))
    badly = worlds.with_verdict(made, worlds.EVE, "warm-1", OptionKind.STANDARD, unsuitable())

    assert worlds.places(out) == [("warm_up", 2, 1, None, worlds.EVE)]
    assert {each.rule for each in worlds.check(badly)} == {"option"}
    assert "warm-up" in worlds.check(badly)[0].words


def test_a_notice_must_be_about_what_it_is_for() -> None:
    """Words about something else tell the leader of no open question."""
    made = worlds.world()
    notices = tuple(
        replace(each, kind=NoticeKind.OTHER) for each in worlds.session(made, 2, 1).notices
    )

    found = worlds.places(worlds.with_session(made, 2, 1, notices=notices))

    assert found == [("ask_first", 2, 1, None, worlds.DOT)]


def test_coming_back_means_a_step_down_where_there_is_one() -> None:
    """Cat comes back in the second session of week 3 and may not go on as before."""
    made = worlds.with_use(worlds.world(), 3, 2, 1, worlds.CAT, option=OptionKind.STANDARD)

    assert ("catch_up", 3, 2, 1, worlds.CAT) in worlds.places(made)


def test_chairs_without_arms_help_nobody_up() -> None:
    """A rise with both hands on the chair needs arms there; a hall that has them is no breach."""
    made = worlds.world()
    old = made.catalogue[MovementId("trunk-1")]
    helped = replace(old.standard, position=Position.RISING, support=HandSupport.TWO_HANDS)
    rising = worlds.with_catalogue(made, replace(old, options=(helped, *old.options[1:])))
    venue = replace(rising.group.venue, chairs_with_arms=True)
    armed = replace(rising, group=replace(rising.group, venue=venue))

    assert ("chairs", 2, 1, 7, None) in worlds.places(rising)
    assert "chairs" not in {each[0] for each in worlds.places(armed)}

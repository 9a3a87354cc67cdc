"""Hand examples: from an answer to a verdict, one caution at a time."""

from dataclasses import replace
from datetime import date

import pytest
from tests.fakes import screening_cast as cast

from halewright.core.catalogue.movement import Declared, Movement, Option
from halewright.core.catalogue.words import HandSupport, OptionKind, Position, SetUp
from halewright.core.mechanics.demands import Demands
from halewright.core.people.group import Decision, LocalRule
from halewright.core.people.limits import BodySide, Limit, Measure, Strength
from halewright.core.people.person import LatexReaction, Person, Standing
from halewright.core.screening import judge
from halewright.core.screening.assess import assess
from halewright.core.screening.verdict import Fit, Outcome, Verdict
from halewright.files import screening as screening_files

RULES = screening_files.shipped().rules


def outcome_of(
    *,
    person: Person | None = None,
    decisions: tuple[Decision, ...] = (),
    local_rules: tuple[LocalRule, ...] = (),
    **answers: str,
) -> Outcome:
    return assess(
        person=person or cast.person(),
        screen=cast.screen(**answers),
        decisions=decisions,
        rules=RULES,
        local_rules=local_rules,
        on=cast.ON,
    )


def verdict(
    outcome: Outcome,
    *,
    asks: Demands | None = None,
    option: Option | None = None,
    movement: Movement | None = None,
    person: Person | None = None,
    latex_free: bool = True,
) -> Verdict:
    used = option or cast.option()
    return judge.judge(
        outcome=outcome,
        person=person or cast.person(),
        movement=movement or cast.movement(used),
        option=used,
        demands=asks or cast.demands(),
        latex_free=latex_free,
    )


def both(measure: Measure, amount: float) -> Demands:
    return cast.demands(both={measure: amount})


def test_nothing_told_and_everything_asked_is_suitable() -> None:
    """A person who answers no throughout is free of limits and reasons."""
    assert verdict(outcome_of()) == Verdict(fit=Fit.SUITABLE)


@pytest.mark.parametrize(("angle_deg", "fit"), [(90.0, Fit.SUITABLE), (91.0, Fit.NOT_SUITABLE)])
def test_replaced_hip_bends_to_a_right_angle_and_no_further(angle_deg: float, fit: Fit) -> None:
    """A posterior hip replacement allows 90°, computed to within 0.75°, and not 91°."""
    outcome = outcome_of(hip_replacement="yes, left, March 2026, posterior")

    asks = both(Measure.HIP_FLEXION, cast.rad(angle_deg))

    assert verdict(outcome, asks=asks).fit is fit


def test_replaced_hip_neither_crosses_nor_turns_in() -> None:
    """A posterior hip replacement forbids crossing the midline and turning in (facts §11)."""
    outcome = outcome_of(hip_replacement="yes, right, posterior")

    for measure in (Measure.HIP_ADDUCTION, Measure.HIP_INTERNAL_ROTATION):
        asks = cast.demands(right={measure: cast.rad(5)})
        assert verdict(outcome, asks=asks).fit is Fit.NOT_SUITABLE


def test_hip_replaced_from_the_front_may_bend_but_not_go_behind() -> None:
    """An anterior hip replacement forbids extension past neutral, and leaves bending free."""
    outcome = outcome_of(hip_replacement="yes, right, anterior")

    assert verdict(outcome, asks=both(Measure.HIP_FLEXION, cast.rad(100))).fit is Fit.SUITABLE
    assert verdict(outcome, asks=both(Measure.HIP_EXTENSION, cast.rad(5))).fit is Fit.NOT_SUITABLE


def test_unknown_approach_keeps_both_sets_of_rules() -> None:
    """A replaced hip with no approach told is kept to the rules of both approaches."""
    outcome = outcome_of(hip_replacement="yes, right")

    assert {limit.rule for limit in outcome.limits} == {
        "hip_bend",
        "hip_cross",
        "hip_turn_in",
        "hip_back",
    }


def test_sore_left_shoulder_limits_the_left_arm_only() -> None:
    """A shoulder problem on the left leaves the right arm free to rise."""
    outcome = outcome_of(shoulder_problem="yes, left")
    high = {Measure.SHOULDER_ELEVATION: cast.rad(150)}

    left = verdict(outcome, asks=cast.demands(left=high))
    right = verdict(outcome, asks=cast.demands(right=high))

    assert left.fit is Fit.NOT_SUITABLE
    assert "left" in left.reasons[0].words
    assert "asks for 150°; at most 90°" in left.reasons[0].words
    assert right.fit is Fit.SUITABLE


def test_thin_bones_forbid_a_loaded_bend_and_twist() -> None:
    """With thin bones, bending or twisting against a band is not suitable (facts §11)."""
    outcome = outcome_of(bone_thinning="yes")

    for measure in (Measure.TRUNK_FLEXION_LOADED, Measure.TRUNK_ROTATION_LOADED):
        assert verdict(outcome, asks=both(measure, cast.rad(30))).fit is Fit.NOT_SUITABLE
    assert verdict(outcome, asks=both(Measure.TRUNK_FLEXION, cast.rad(10))).fit is Fit.SUITABLE


def test_broken_back_bone_is_stricter_than_thin_bones() -> None:
    """A bend of 10° against a band is allowed with thin bones and not after a fracture."""
    asks = both(Measure.TRUNK_FLEXION_LOADED, cast.rad(10))

    assert verdict(outcome_of(bone_thinning="yes"), asks=asks).fit is Fit.SUITABLE
    assert verdict(outcome_of(spinal_fracture="yes"), asks=asks).fit is Fit.NOT_SUITABLE


def test_high_blood_pressure_forbids_a_likely_held_breath() -> None:
    """Breath-holding likely is not suitable, some is with care (facts §11)."""
    outcome = outcome_of(high_blood_pressure="yes")

    assert verdict(outcome, asks=both(Measure.BREATH_HOLD, 2)).fit is Fit.NOT_SUITABLE
    assert verdict(outcome, asks=both(Measure.BREATH_HOLD, 1)).fit is Fit.WITH_CARE
    assert verdict(outcome, asks=both(Measure.ARMS_OVERHEAD, 1)).fit is Fit.WITH_CARE


def test_thin_skin_keeps_the_band_off_it() -> None:
    """A band on the skin is not suitable with thin skin, and with care on a blood thinner."""
    asks = both(Measure.BAND_ON_SKIN, 1)

    assert verdict(outcome_of(thin_skin="yes"), asks=asks).fit is Fit.NOT_SUITABLE
    assert verdict(outcome_of(blood_thinners="yes"), asks=asks).fit is Fit.WITH_CARE


def test_weak_grip_takes_no_firm_grip_even_if_demands_leave_it_out() -> None:
    """A firm grip declared on the option counts although the demands do not name it."""
    firm = cast.option(declared=Declared(grip_score=2))

    assert verdict(outcome_of(hand_grip_weak="yes, left"), option=firm).fit is Fit.NOT_SUITABLE


@pytest.mark.parametrize("measure", [Measure.BAND, Measure.POWER, Measure.RISES])
def test_option_itself_counts_where_its_demands_are_silent(measure: Measure) -> None:
    """Band, power and rises are read from the option too, so a missing demand frees nobody."""
    limit = Limit(
        measure=measure,
        at_most=0.0,
        strength=Strength.AVOID,
        reason="Told.",
        source="a letter",
        rule="told",
    )
    outcome = outcome_of(person=replace(cast.person(), limits=(limit,)))
    option = cast.option(declared=Declared(rises_per_rep_count=1))

    told = verdict(outcome, option=option, movement=cast.movement(option, power=True))

    assert told.fit is Fit.NOT_SUITABLE


def test_open_flag_leaves_only_seated_mobility() -> None:
    """With an ask-first flag undecided, a band, a stand, power or a held breath are out."""
    outcome = outcome_of(blackout="yes")
    without = cast.option(kind=OptionKind.WITHOUT_BAND, set_up=SetUp.NONE)
    out = (
        cast.option(),
        replace(without, position=Position.SUPPORTED_STANDING, support=HandSupport.TWO_HANDS),
        replace(without, position=Position.RISING),
        replace(without, declared=Declared(knee_load_score=2)),
        replace(without, declared=Declared(breath_hold_score=1)),
        replace(without, declared=Declared(rises_per_rep_count=1)),
    )

    assert verdict(outcome, option=without).fit is Fit.SUITABLE
    assert all(verdict(outcome, option=option).fit is Fit.NOT_SUITABLE for option in out)
    quick = cast.movement(without, power=True)
    assert verdict(outcome, option=without, movement=quick).fit is Fit.NOT_SUITABLE
    assert all(verdict(outcome, option=o).reasons[0].incurable for o in out)


def test_go_ahead_opens_and_wait_keeps_closed() -> None:
    """A recorded go-ahead lets a person use a band; a recorded wait does not."""
    decision = Decision(
        person=cast.person().id,
        flag="chest_pain",
        go_ahead=True,
        by="Dr Imrie",
        on=date(2026, 11, 10),
    )

    agreed = outcome_of(chest_pain="yes", decisions=(decision,))
    waiting = outcome_of(chest_pain="yes", decisions=(replace(decision, go_ahead=False),))

    assert not agreed.undecided
    assert verdict(agreed).fit is Fit.SUITABLE
    assert waiting.undecided
    assert "Dr Imrie said wait" in verdict(waiting).reasons[0].words


def test_latex_decides_by_the_bands_in_use() -> None:
    """Immediate and not-known reactions need latex-free bands; a skin reaction takes care."""
    fits = {
        reaction: (
            verdict(outcome_of(), person=cast.person(latex=reaction), latex_free=False).fit,
            verdict(outcome_of(), person=cast.person(latex=reaction), latex_free=True).fit,
        )
        for reaction in LatexReaction
    }

    assert fits == {
        LatexReaction.NONE: (Fit.SUITABLE, Fit.SUITABLE),
        LatexReaction.SKIN: (Fit.WITH_CARE, Fit.SUITABLE),
        LatexReaction.IMMEDIATE: (Fit.NOT_SUITABLE, Fit.SUITABLE),
        LatexReaction.NOT_KNOWN: (Fit.NOT_SUITABLE, Fit.SUITABLE),
    }


def test_latex_free_work_without_a_band_is_untouched() -> None:
    """Without a band, latex does not matter."""
    bare = cast.option(set_up=SetUp.NONE)
    reacts = cast.person(latex=LatexReaction.IMMEDIATE)

    assert verdict(outcome_of(), option=bare, person=reacts, latex_free=False).fit is Fit.SUITABLE


def test_food_that_goes_with_latex_takes_care() -> None:
    """A reaction to kiwi fruit is shown where a latex band is used."""
    eater = replace(cast.person(), food_reactions=("Kiwi fruit",))

    told = verdict(outcome_of(), person=eater, latex_free=False)

    assert told.fit is Fit.WITH_CARE
    assert "kiwi" in told.reasons[0].words


@pytest.mark.parametrize(
    ("standing", "allowed"),
    [
        (Standing.SEATED_ONLY, 0),
        (Standing.NOT_KNOWN, 0),
        (Standing.TWO_HANDS, 1),
        (Standing.ONE_HAND, 2),
        (Standing.FINGERTIPS, 3),
        (Standing.NO_SUPPORT, 4),
    ],
)
def test_support_for_standing_is_a_ladder(standing: Standing, allowed: int) -> None:
    """A person may stand with as much support as recorded or more, and not with less."""
    person = cast.person(standing=standing)
    outcome = outcome_of(person=person)
    ladder = (
        HandSupport.TWO_HANDS,
        HandSupport.ONE_HAND,
        HandSupport.FINGERTIPS,
        HandSupport.NONE,
    )

    fits = [
        verdict(
            outcome,
            option=cast.option(position=Position.SUPPORTED_STANDING, support=support),
        ).fit
        for support in ladder
    ]

    assert fits == [
        Fit.SUITABLE if count <= allowed else Fit.NOT_SUITABLE for count in (1, 2, 3, 4)
    ]


def test_tension_limit_is_not_checked_until_the_band_is_measured() -> None:
    """A limit in newtons gives care with an unmeasured band, and is held once measured."""
    limit = Limit(
        measure=Measure.TENSION,
        at_most=40.0,
        strength=Strength.AVOID,
        reason="Light bands only.",
        source="letter of 3 May 2026",
        rule="told",
        told_by="Ms Rae, physiotherapist",
    )
    outcome = outcome_of(person=replace(cast.person(), limits=(limit,)))
    pull = {Measure.TENSION: 55.0}

    unknown = verdict(outcome, asks=cast.demands())
    measured = verdict(outcome, asks=cast.demands(both=pull, load_known=True))
    bare = verdict(outcome, option=cast.option(set_up=SetUp.NONE))

    assert unknown.fit is Fit.WITH_CARE
    assert "Load not checked" in unknown.reasons[0].words
    assert measured.fit is Fit.NOT_SUITABLE
    assert "asks for 55 N; at most 40 N" in measured.reasons[0].words
    assert measured.reasons[0].incurable
    assert bare.fit is Fit.SUITABLE


def test_limit_on_one_side_of_an_unpaired_measure_counts_for_both() -> None:
    """A grip limit told for the left counts wherever the demand is written."""
    limit = Limit(
        measure=Measure.GRIP,
        at_most=1.0,
        strength=Strength.AVOID,
        reason="No firm grip.",
        source="told by the person",
        rule="told",
        side=BodySide.LEFT,
    )
    outcome = outcome_of(person=replace(cast.person(), limits=(limit,)))

    told = verdict(outcome, asks=cast.demands(right={Measure.GRIP: 2.0}))

    assert told.fit is Fit.NOT_SUITABLE


def test_matrix_names_what_is_missing() -> None:
    """A person without an outcome, or an option without demands, is named and not guessed."""
    row = cast.movement()
    person = cast.person()

    with pytest.raises(judge.NothingToJudge, match="Moira"):
        judge.matrix(
            people=(person,), outcomes={}, catalogue={row.id: row}, demands={}, latex_free=True
        )
    with pytest.raises(judge.NothingToJudge, match="Row"):
        judge.matrix(
            people=(person,),
            outcomes={person.id: outcome_of()},
            catalogue={row.id: row},
            demands={},
            latex_free=True,
        )


def test_room_is_latex_free_for_one_who_may_react_unless_local_rule_says() -> None:
    """One unknown reaction makes the session latex-free; only a signed local rule undoes it."""
    people = (cast.person(), cast.person(latex=LatexReaction.NOT_KNOWN, name="Ines"))
    rule = LocalRule(
        rule="latex_policy", who="Ann Lee", why="Windows open", source="hall policy", off=True
    )

    assert judge.session_latex_free(people=people, local_rules=())
    assert not judge.session_latex_free(people=people[:1], local_rules=())
    assert not judge.session_latex_free(people=people, local_rules=(rule,))
    assert judge.session_latex_free(people=people, local_rules=(replace(rule, who=""),))

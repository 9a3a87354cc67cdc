"""Plain-text answers, and what a whole screen comes to."""

from dataclasses import replace
from datetime import date

import pytest
from tests.fakes import screening_cast as cast

from halewright.core.people.group import Decision, Group, LocalRule, RawScreen, Schedule, Venue
from halewright.core.people.limits import BodySide, Limit, Measure, Strength
from halewright.core.screening import locally, questions
from halewright.core.screening.assess import assess, assess_group
from halewright.core.screening.questions import Reply, read_answer
from halewright.core.screening.verdict import Outcome
from halewright.files import screening as screening_files

BOOK = screening_files.shipped()


def outcome_of(
    *,
    screen: RawScreen | None,
    decisions: tuple[Decision, ...] = (),
    local_rules: tuple[LocalRule, ...] = (),
    limits: tuple[Limit, ...] = (),
    on: date | None = cast.ON,
) -> Outcome:
    return assess(
        person=replace(cast.person(), limits=limits),
        screen=screen,
        decisions=decisions,
        rules=BOOK.rules,
        local_rules=local_rules,
        on=on,
    )


def limit_of(outcome: Outcome, rule: str) -> Limit:
    return next(limit for limit in outcome.limits if limit.rule == rule)


@pytest.mark.parametrize(
    ("text", "reply"),
    [
        ("no", Reply.NO),
        ("No.", Reply.NO),
        ("N", Reply.NO),
        ("never", Reply.NO),
        ("FALSE", Reply.NO),
        ("TRUE", Reply.YES),
        ("", Reply.UNANSWERED),
        ("  ", Reply.UNANSWERED),
        ("don't know", Reply.UNANSWERED),
        ("Don’t know", Reply.UNANSWERED),
        ("not sure", Reply.UNANSWERED),
        ("?", Reply.UNANSWERED),
        ("yes", Reply.YES),
        ("Y", Reply.YES),
        ("YES!", Reply.YES),
        ("sometimes", Reply.YES),
        ("left", Reply.YES),
    ],
)
def test_plain_answers_are_read(text: str, reply: Reply) -> None:
    """Yes, no, blank and don't know are read however they are spelt."""
    answer = read_answer(text)

    assert answer is not None
    assert answer.reply is reply


@pytest.mark.parametrize(
    "text", ["no, but once", "maybe", "n/a", "not the left", "ask my daughter", "no longer"]
)
def test_doubtful_answers_are_not_guessed(text: str) -> None:
    """An answer that may mean either is not understood, so that somebody asks again."""
    assert read_answer(text) is None


def test_yes_carries_side_date_and_details() -> None:
    """ "yes, left, March 2026, posterior" gives the side, the date and the detail."""
    answer = read_answer("Yes, left, March 2026, Posterior")

    assert answer == questions.Answer(
        reply=Reply.YES, side=BodySide.LEFT, when="March 2026", details=("posterior",)
    )


@pytest.mark.parametrize(
    ("text", "side"),
    [
        ("yes - right hip, 2019", BodySide.RIGHT),
        ("yes, left and right", BodySide.BOTH),
        ("yes, left, 2010, right, 2020", BodySide.BOTH),
        ("yes, both", BodySide.BOTH),
        ("yes, not the left", BodySide.BOTH),
        ("yes", None),
    ],
)
def test_sides_are_read_and_a_doubtful_one_keeps_both_safe(
    text: str, side: BodySide | None
) -> None:
    """One named side is that side; two, or a doubtful one, are both."""
    answer = read_answer(text)

    assert answer is not None
    assert answer.side is side


def test_no_screen_means_every_question_is_open() -> None:
    """Without a screen all is unanswered, every red flag is up, and the leader is told."""
    outcome = outcome_of(screen=None)

    assert outcome.unanswered == tuple(question.words for question in questions.QUESTIONS)
    assert {flag.flag for flag in outcome.flags} == {
        "chest_pain",
        "blackout",
        "recent_operation",
        "falls",
    }
    assert outcome.undecided
    assert outcome.watches[0].words == "No health screen has been answered yet."


def test_unknown_question_is_shown_and_not_lost() -> None:
    """An answer to a question that the screen lacks is shown beside the unanswered ones."""
    screen = cast.screen()
    odd = replace(screen, answers=(*screen.answers, ("hip_replacment", "yes, left")))

    assert outcome_of(screen=odd).unanswered == (
        "“hip_replacment: yes, left” answers no question of the health screen.",
    )


def test_answer_that_cannot_be_understood_counts_as_yes() -> None:
    """Should an unclear answer come this far, it is kept on the safe side."""
    rules = {limit.rule for limit in outcome_of(screen=cast.screen(thin_skin="a tad")).limits}

    assert "skin_band" in rules


def test_twice_answered_question_keeps_the_stricter_answer() -> None:
    """Of "no" and "yes" to the same question, yes holds, whichever comes first."""
    screen = cast.screen(thin_skin="yes")
    twice = replace(screen, answers=(*screen.answers, ("thin_skin", "no")))

    assert limit_of(outcome_of(screen=twice), "skin_band").strength is Strength.AVOID


def test_authorities_that_differ_are_both_shown_and_the_stricter_used() -> None:
    """The hip's bend is 90°, and the reason and source carry the 120° of others."""
    limit = limit_of(outcome_of(screen=cast.screen(hip_replacement="yes, left")), "hip_bend")

    assert limit.at_most == pytest.approx(cast.rad(90))
    assert limit.side is BodySide.LEFT
    assert "90° or 120°" in limit.reason
    assert "posterior approach" in limit.source
    assert "ordinary range" in limit.source


def test_local_rule_may_loosen_and_shows_who_and_why() -> None:
    """A signed local rule replaces the shipped number, and says so with its source."""
    local = LocalRule(
        rule="hip_bend",
        who="Ann Lee",
        why="as the hospital tells its people",
        source="hospital leaflet 12",
        on=date(2026, 5, 3),
        at_most=110.0,
    )

    outcome = outcome_of(screen=cast.screen(hip_replacement="yes, left"), local_rules=(local,))
    limit = limit_of(outcome, "hip_bend")

    assert limit.at_most == pytest.approx(cast.rad(110))
    assert "Local rule by Ann Lee on 3 May 2026: as the hospital tells its people." in limit.reason
    assert "At most 110° in place of 90°." in limit.reason
    assert limit.source.startswith("hospital leaflet 12 (local rule); in place of ")


@pytest.mark.parametrize("missing", ["who", "why", "source"])
def test_unsigned_local_rule_changes_nothing(missing: str) -> None:
    """Without a name, a reason or a source the shipped rule holds."""
    local = LocalRule(rule="hip_bend", who="Ann", why="so", source="a leaflet", at_most=120.0)
    screen = cast.screen(hip_replacement="yes, left")

    unsigned = outcome_of(screen=screen, local_rules=(replace(local, **{missing: " "}),))

    assert unsigned == outcome_of(screen=screen)


def test_switched_off_rule_leaves_a_trace() -> None:
    """A rule switched off limits nothing, and the leader still sees by whom."""
    local = LocalRule(
        rule="skin_band", who="Ann", why="sleeves worn", source="own risk sheet", off=True
    )

    outcome = outcome_of(screen=cast.screen(thin_skin="yes"), local_rules=(local,))

    assert "skin_band" not in {limit.rule for limit in outcome.limits}
    assert any("Switched off" in watch.words and "Ann" in watch.words for watch in outcome.watches)


def test_red_flag_cannot_be_switched_off() -> None:
    """A local rule that switches a red flag off is shown and has no effect."""
    local = LocalRule(rule="falls", who="Ann", why="we know them", source="own", off=True)

    outcome = outcome_of(screen=cast.screen(falls="yes"), local_rules=(local,))

    assert outcome.undecided
    assert "cannot switch this question off (Ann)" in outcome.flags[0].reason


def test_latest_local_rule_holds() -> None:
    """Of two local rules for one rule, the later dated holds, wherever it stands."""
    early = LocalRule(
        rule="hip_bend", who="Ann", why="a", source="s", on=date(2026, 1, 1), at_most=80.0
    )
    late = replace(early, on=date(2026, 6, 1), at_most=100.0)

    assert locally.in_force((late, early))["hip_bend"] is late
    assert locally.in_force((early, late))["hip_bend"] is late


def test_told_limit_passes_straight_through() -> None:
    """A limit that a clinician told comes out as it went in, whatever local rules say."""
    told = Limit(
        measure=Measure.HIP_FLEXION,
        at_most=cast.rad(70),
        strength=Strength.AVOID,
        reason="Told after the operation.",
        source="letter of 2 May 2026",
        rule="hip_bend",
        told_by="Mr Osei, surgeon",
    )
    local = LocalRule(rule="hip_bend", who="Ann", why="so", source="s", at_most=120.0)

    outcome = outcome_of(screen=cast.screen(), limits=(told,), local_rules=(local,))

    assert outcome.limits == (told,)


def decision(*, flag: str, on: date, go_ahead: bool) -> Decision:
    return Decision(
        person=cast.person().id, flag=flag, go_ahead=go_ahead, by="Dr Imrie", on=on, note="Seen."
    )


def test_decision_on_a_rule_turns_avoid_into_care_for_this_person() -> None:
    """A go-ahead on the hip's bend keeps it in view, with care, and says who and when."""
    go = decision(flag="hip_bend", on=date(2026, 11, 10), go_ahead=True)
    screen = cast.screen(hip_replacement="yes, left, 2015")

    limit = limit_of(outcome_of(screen=screen, decisions=(go,)), "hip_bend")

    assert limit.strength is Strength.CARE
    assert "Dr Imrie said on 10 November 2026 to go ahead, with care. Seen." in limit.reason


def test_decision_to_leave_out_hardens_a_limit() -> None:
    """A wait on a care limit makes it one that nobody may accept away."""
    wait = decision(flag="thinner_band", on=date(2026, 11, 10), go_ahead=False)
    screen = cast.screen(blood_thinners="yes")

    limit = limit_of(outcome_of(screen=screen, decisions=(wait,)), "thinner_band")

    assert limit.strength is Strength.AVOID
    assert limit.told_by == "Dr Imrie"


def test_decision_before_the_screen_does_not_count_for_it() -> None:
    """A new screen asks anew: the older decision is shown and opens nothing."""
    old = decision(flag="falls", on=date(2026, 10, 1), go_ahead=True)

    outcome = outcome_of(screen=cast.screen(falls="yes"), decisions=(old,))

    assert outcome.undecided
    assert "1 October 2026, before this screen: ask again" in outcome.flags[0].reason


def test_later_decision_holds_and_wait_wins_a_tie() -> None:
    """The latest decision counts, one of the same day that says wait before one that does not."""
    go = decision(flag="falls", on=date(2026, 11, 10), go_ahead=True)
    wait = replace(go, go_ahead=False)
    later = replace(go, on=date(2026, 11, 12))
    screen = cast.screen(falls="yes")

    assert outcome_of(screen=screen, decisions=(go, wait)).undecided
    assert outcome_of(screen=screen, decisions=(wait, go)).undecided
    assert not outcome_of(screen=screen, decisions=(later, wait)).undecided


def test_decision_about_somebody_else_or_of_tomorrow_is_not_used() -> None:
    """Only this person's decisions up to the day asked for count."""
    go = decision(flag="falls", on=date(2026, 11, 21), go_ahead=True)
    other = replace(go, on=date(2026, 11, 10), person=cast.person(name="Ines").id)

    assert outcome_of(screen=cast.screen(falls="yes"), decisions=(go, other)).undecided


@pytest.mark.parametrize(("on", "due"), [(date(2027, 11, 14), False), (date(2027, 11, 15), True)])
def test_screen_is_asked_again_after_twelve_months(on: date, due: bool) -> None:
    """A screen of 15 November 2026 is due again on 15 November 2027, not a day before."""
    screen = replace(cast.screen(), answered_on=date(2026, 11, 15))

    watches = outcome_of(screen=screen, on=on).watches

    assert bool(watches) is due


def test_blank_policy_says_that_no_local_rule_is_recorded() -> None:
    """Without a local rule no number is filled in; what authorities say stays in view."""
    policy = next(policy for policy in BOOK.policies if policy.id == "resting_blood_pressure")
    local = LocalRule(
        rule=policy.id, who="Ann", why="as the surgery asks", source="surgery letter", at_most=180.0
    )

    blank = locally.policy_reason(policy=policy, local_rules=())
    told = locally.policy_reason(policy=policy, local_rules=(local,))

    assert "No local rule recorded." in blank.words
    assert "180/110" in blank.words
    assert "200/110" in blank.words
    assert "180. Local rule by Ann: as the surgery asks." in told.words
    assert told.source == "surgery letter (local rule)"


def test_decision_that_names_nothing_is_shown() -> None:
    """A decision on a flag that does not exist changes nothing, and the leader is told so."""
    lost = decision(flag="fals", on=date(2026, 11, 10), go_ahead=True)

    outcome = outcome_of(screen=cast.screen(falls="yes"), decisions=(lost,))

    assert outcome.undecided
    assert "“fals” names no flag" in outcome.watches[0].words


def test_group_is_assessed_by_each_latest_screen() -> None:
    """The latest screen up to the day counts, and a person without one has all open."""
    older = replace(cast.screen(thin_skin="yes"), answered_on=date(2026, 10, 1))
    newer = cast.screen()
    future = replace(cast.screen(thin_skin="yes"), answered_on=date(2026, 12, 1))
    group = Group(
        name="Hall",
        venue=Venue(name="Hall"),
        schedule=Schedule(
            starts_on=date(2027, 1, 4), weeks=8, meetings=(), time_zone="UTC", slot_minutes=60
        ),
        goals=(),
        people=(cast.person(), cast.person(name="Ines")),
        screens=(newer, older, future),
    )

    outcomes = assess_group(group=group, rules=BOOK.rules, on=cast.ON)

    assert outcomes[cast.person().id].limits == ()
    assert len(outcomes[cast.person(name="Ines").id].unanswered) == len(questions.QUESTIONS)


def test_limit_for_want_of_an_answer_gives_way_to_the_firm_one() -> None:
    """At yes only the firm limit is shown; blank shows the milder one."""
    blank = {limit.rule for limit in outcome_of(screen=cast.screen(bone_thinning="")).limits}
    told = {limit.rule for limit in outcome_of(screen=cast.screen(bone_thinning="yes")).limits}

    assert blank == {"bones_or_not_known"}
    assert told == {"bones_loaded_bend", "bones_bend", "bones_loaded_twist", "bones_power"}


def test_limit_for_want_of_an_answer_stays_where_the_firm_one_is_switched_off() -> None:
    """A local rule that switches the firm limit off does not take the milder one with it."""
    local = LocalRule(rule="bones_loaded_bend", who="Ann", why="so", source="own", off=True)

    outcome = outcome_of(screen=cast.screen(bone_thinning="yes"), local_rules=(local,))

    assert "bones_or_not_known" in {limit.rule for limit in outcome.limits}


@pytest.mark.parametrize(
    "text",
    [
        "yes, left, not anterior",
        "yes, left, anterior?",
        "yes, left, anterior, may be posterior",
        "yes, left, 2010, right, 2020, anterior",
        "yes, both, anterior",
    ],
)
def test_doubt_about_the_approach_keeps_the_rules_of_both(text: str) -> None:
    """Only a plain word about one hip sets a rule aside; doubt, or two hips, sets none aside."""
    rules = {limit.rule for limit in outcome_of(screen=cast.screen(hip_replacement=text)).limits}

    assert rules == {"hip_bend", "hip_cross", "hip_turn_in", "hip_back"}


def test_decision_counts_from_the_day_of_the_screen_to_the_day_asked_for() -> None:
    """A decision of the very day of the screen counts, and one of the day asked for too."""
    screen = cast.screen(falls="yes")
    first = decision(flag="falls", on=date(2026, 11, 1), go_ahead=True)
    last = decision(flag="falls", on=cast.ON, go_ahead=True)

    assert not outcome_of(screen=screen, decisions=(first,)).undecided
    assert not outcome_of(screen=screen, decisions=(last,)).undecided


def test_wait_on_a_limit_for_want_of_an_answer_is_kept() -> None:
    """What somebody decided is never left out as idle."""
    wait = decision(flag="bones_or_not_known", on=date(2026, 11, 10), go_ahead=False)

    outcome = outcome_of(screen=cast.screen(bone_thinning="yes"), decisions=(wait,))

    assert limit_of(outcome, "bones_or_not_known").told_by == "Dr Imrie"


def test_limit_that_comes_with_a_red_flag_may_be_set_locally() -> None:
    """Only the asking is fixed: how a person who fell may stand is a local matter."""
    local = LocalRule(rule="falls_standing", who="Ann", why="two helpers", source="own", off=True)

    outcome = outcome_of(screen=cast.screen(falls="yes"), local_rules=(local,))

    assert "falls_standing" not in {limit.rule for limit in outcome.limits}
    assert outcome.undecided


def test_local_amount_that_is_no_number_changes_nothing() -> None:
    """A local amount of "nan" or without end is left out, so that it cannot free anybody."""
    local = LocalRule(rule="hip_bend", who="Ann", why="so", source="own", at_most=float("nan"))

    assert locally.in_force((local, replace(local, at_most=float("inf")))) == {}


def test_sides_of_two_questions_add_up() -> None:
    """A rule of two questions, one yes on each side, limits both sides."""
    rule = next(rule for rule in BOOK.rules if rule.id == "shoulder_raise")
    both = replace(rule, questions=(*rule.questions, questions.QuestionId("stroke")))

    outcome = assess(
        person=cast.person(),
        screen=cast.screen(shoulder_problem="yes, left", stroke="yes, right"),
        decisions=(),
        rules=(both,),
        local_rules=(),
    )

    assert [limit.side for limit in outcome.limits] == [BodySide.BOTH]

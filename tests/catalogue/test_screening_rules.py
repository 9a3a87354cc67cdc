"""The screening files that ship: complete, sourced, in plain words, and as published."""

import re
import time

import pytest
from scripts import write_screening_page
from tests.fakes import screening_cast as cast

from halewright.core.catalogue.movement import MovementId
from halewright.core.catalogue.words import OptionKind
from halewright.core.people.limits import Limit, Measure, Strength
from halewright.core.people.person import PersonId
from halewright.core.screening import judge, questions, rules
from halewright.core.screening.assess import assess, limit_in_file_unit
from halewright.core.screening.verdict import Outcome
from halewright.files import screening as screening_files

BOOK = screening_files.shipped()
RULES = {rule.id: rule for rule in BOOK.rules}
FORBIDDEN = re.compile(
    r"\b(patients?|prescri\w*|cleared|treat\w*|cured?|cures|elderly|easy|fail\w*)\b"
    r"|falls prevention",
    re.IGNORECASE,
)

ACSM_SIGNS = {
    "chest, neck, jaw or arm pain or discomfort": ("chest_pain",),
    "shortness of breath at rest or mild exertion": ("breathless",),
    "dizziness or syncope": ("blackout", "dizziness_on_rising"),
    "orthopnea or paroxysmal nocturnal dyspnea": ("breathless_lying_flat",),
    "ankle oedema": ("ankle_swelling",),
    "palpitations or tachycardia": ("palpitations",),
    "intermittent claudication": ("calf_pain_walking",),
    "known heart murmur": ("heart_murmur",),
    "unusual fatigue or breathlessness with usual activities": ("unusual_tiredness",),
}
"""Riebe D et al. (2015) Med Sci Sports Exerc 47:2473-2479, Figure 2: the nine signs."""

PUBLISHED = {
    # Brooke-Wavell K et al. (2022) Br J Sports Med 56:837-846: no loaded or end-range bend, no
    # loaded twist.
    "bone_thinning": {
        (Measure.TRUNK_FLEXION_LOADED, Strength.AVOID),
        (Measure.TRUNK_FLEXION, Strength.AVOID),
        (Measure.TRUNK_ROTATION_LOADED, Strength.AVOID),
    },
    # Hospital leaflets after a posterior approach: 90°, no crossing, no turning in (from memory).
    "hip_replacement": {
        (Measure.HIP_FLEXION, Strength.AVOID),
        (Measure.HIP_ADDUCTION, Strength.AVOID),
        (Measure.HIP_INTERNAL_ROTATION, Strength.AVOID),
        (Measure.HIP_EXTENSION, Strength.AVOID),
    },
    # Williams MA et al. (2007) Circulation 116:572-584: no held breath; overhead sets apart.
    "high_blood_pressure": {
        (Measure.BREATH_HOLD, Strength.AVOID),
        (Measure.ARMS_OVERHEAD, Strength.CARE),
    },
    # ACSM guidelines: stay below shoulder height, often under 90° (from memory).
    "shoulder_problem": {(Measure.SHOULDER_ELEVATION, Strength.AVOID)},
    # ACSM guidelines: arms raised make breathlessness worse (from memory).
    "breathing_condition": {(Measure.ARMS_OVERHEAD, Strength.CARE)},
    # ACSM guidelines: test grip, watch the shoulder (from memory).
    "stroke": {
        (Measure.GRIP, Strength.CARE),
        (Measure.SHOULDER_ELEVATION, Strength.AVOID),
    },
    # Hospital leaflets: no band wound round the hand (from memory).
    "blood_thinners": {(Measure.BAND_ON_SKIN, Strength.CARE)},
}

ASK_FIRST = {
    # Diabetes Care table collated from Fiatarone Singh; doi 10.1007/s10741-023-10310-9, Table 1.
    "hernia",
    "eye_surgery_recent",
    "eye_retina_condition",
    "recent_operation",
    "fever_or_unwell",
    "diabetes_unsettled",
}


def outcome_of(**answers: str) -> Outcome:
    return assess(
        person=cast.person(),
        screen=cast.screen(**answers),
        decisions=(),
        rules=BOOK.rules,
        local_rules=(),
        on=cast.ON,
    )


def test_every_rule_can_be_reached_and_every_question_leads_somewhere() -> None:
    """Each rule applies on some screen, and each question is asked for a rule's sake."""
    asked = {name for rule in BOOK.rules for name in rule.questions}

    assert asked == set(questions.BY_ID)
    for rule in BOOK.rules:
        reply = "yes" if rule.at is rules.Trigger.YES else ""
        worst = outcome_of(**{rule.questions[0]: reply})
        given = (
            {limit.rule for limit in worst.limits}
            | {flag.flag for flag in worst.flags}
            | {watch.words for watch in worst.watches}
        )
        assert {rule.id, rule.reason} & given, rule.id


def test_every_text_has_a_source_and_no_forbidden_word() -> None:
    """Words that people read are plain ones, and a source stands behind each."""
    for rule in BOOK.rules:
        ask = rule.gives.ask if isinstance(rule.gives, rules.GivesFlag) else ""
        assert rule.source.words.strip()
        assert not FORBIDDEN.search(f"{rule.id} {rule.reason} {ask} {rule.source.words}"), rule.id
        assert rule.reason.endswith("."), rule.id
    for question in questions.QUESTIONS:
        assert not FORBIDDEN.search(question.words), question.id
        assert question.words.endswith("?"), question.id
    for policy in BOOK.policies:
        assert not FORBIDDEN.search(policy.words), policy.id


def test_common_practice_is_called_so() -> None:
    """A rule without a publication says "common practice" in its source as in its status."""
    for rule in BOOK.rules:
        if rule.source.status is rules.Status.COMMON_PRACTICE:
            assert "common practice" in rule.source.words, rule.id


def test_forbidden_words_would_be_found() -> None:
    """The check itself finds what it looks for, and leaves "patience" and "secure" alone."""
    assert FORBIDDEN.search("the elderly patient")
    assert not FORBIDDEN.search("patience, a secure chair, treacle")


def test_red_flags_are_the_four() -> None:
    """Chest pain, blackout, operation and falls count as yes when unanswered, and no others."""
    red = {question.id for question in questions.QUESTIONS if question.red_flag}

    assert red == {"chest_pain", "blackout", "recent_operation", "falls"}
    for name in red:
        assert isinstance(RULES[name].gives, rules.GivesFlag)


@pytest.mark.parametrize("sign", ACSM_SIGNS)
def test_each_of_the_nine_signs_is_asked_about(sign: str) -> None:
    """Every published sign has a question whose yes asks for a doctor's word first."""
    flagged = {flag.flag for name in ACSM_SIGNS[sign] for flag in outcome_of(**{name: "yes"}).flags}

    assert set(ACSM_SIGNS[sign]) & flagged


@pytest.mark.parametrize("question", PUBLISHED)
def test_published_cautions_are_given(question: str) -> None:
    """Each condition gives at least the limits that the literature names."""
    given = {(limit.measure, limit.strength) for limit in outcome_of(**{question: "yes"}).limits}

    assert given >= PUBLISHED[question]


def test_published_angles_are_kept() -> None:
    """Hip 90°, crossing 0°, turning in 0°, shoulder 90°, as the sources say."""
    limits: dict[str, Limit] = {
        limit.rule: limit
        for limit in outcome_of(hip_replacement="yes", shoulder_problem="yes").limits
    }

    told = {
        name: round(limit_in_file_unit(limits[name]), 6)
        for name in ("hip_bend", "hip_cross", "hip_turn_in", "shoulder_raise")
    }

    assert told == {"hip_bend": 90, "hip_cross": 0, "hip_turn_in": 0, "shoulder_raise": 90}


@pytest.mark.parametrize("question", sorted(ASK_FIRST))
def test_published_reasons_to_wait_ask_first(question: str) -> None:
    """A published reason not to begin strength work raises a flag."""
    assert outcome_of(**{question: "yes"}).undecided


def test_blank_question_is_at_least_as_strict_as_no_and_shown() -> None:
    """A blank answer never gives less than a no, and its words are shown."""
    nothing = outcome_of()
    assert nothing.limits == ()
    for question in questions.QUESTIONS:
        blank = outcome_of(**{question.id: ""})
        assert blank.unanswered == (question.words,)


def test_page_of_rules_is_current() -> None:
    """docs/screening.md is what the files say now; run scripts/write_screening_page.py."""
    page = write_screening_page.PAGE.read_text("utf-8")

    assert page == write_screening_page.page(BOOK)


def test_big_group_is_judged_in_two_seconds() -> None:
    """60 people with a few cautions, 120 movements with four options: under 2 s of processor."""
    worst = dict.fromkeys(("hip_replacement", "bone_thinning", "high_blood_pressure"), "yes")
    outcome = outcome_of(**worst)
    people = [cast.person(name=f"P{number}") for number in range(60)]
    options = [cast.option(kind=kind) for kind in OptionKind]
    catalogue = {
        MovementId(f"m{number}"): cast.movement(*options, name=f"M{number}")
        for number in range(120)
    }
    asks = cast.demands(both=dict.fromkeys(Measure, 1.5))

    began = time.process_time()
    judged = judge.matrix(
        people=people,
        outcomes={PersonId(person.id): outcome for person in people},
        catalogue=catalogue,
        demands={(name, kind): asks for name in catalogue for kind in OptionKind},
        latex_free=True,
    )
    took_s = time.process_time() - began

    assert len(judged) == 60 * 120 * 4
    assert took_s < 2.0, took_s

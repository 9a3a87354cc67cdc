"""The health screen: its questions, and how an answer in plain text is read.

Unanswered is its own answer: never taken for "no". A red flag left unanswered counts as "yes".
"""

import re
from dataclasses import dataclass
from enum import IntEnum, StrEnum
from typing import NewType

from halewright.core.people.limits import BodySide

QuestionId = NewType("QuestionId", str)

SCHEMA = "halewright.health_screen"
VERSION = 1


class Kind(StrEnum):
    """Headings under which a form sets out the questions."""

    FIRST = "Before anything else"
    SIGNS = "How you have felt lately"
    CONDITIONS = "Conditions"
    JOINTS = "Bones and joints"
    EYES_SKIN = "Eyes and skin"
    SUPPORT = "What helps you take part"


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One question; `red_flag` means that no answer counts as yes.

    `sided` asks for left, right or both; a yes without a side means both.
    """

    id: QuestionId
    words: str
    kind: Kind
    red_flag: bool = False
    sided: bool = False


class Reply(IntEnum):
    """The three replies; the order is that of strictness."""

    NO = 0
    UNANSWERED = 1
    YES = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """An answer as it was understood.

    `side` is None where none was told (a yes then means both); `when` is the date as it was
    written; `details` are the remaining parts, in small letters, as written between commas.
    """

    reply: Reply
    side: BodySide | None = None
    when: str = ""
    details: tuple[str, ...] = ()


NOT_ANSWERED = Answer(reply=Reply.UNANSWERED)

_NO = frozenset(
    (
        "no",
        "n",
        "false",
        "nope",
        "none",
        "never",
        "nil",
        "no never",
        "none known",
        "not that i know of",
        "nothing",
    )
)
_BLANK = frozenset(
    (
        "",
        "-",
        "?",
        "–",
        "—",
        "...",
        "blank",
        "dont know",
        "do not know",
        "no idea",
        "not known",
        "not sure",
        "unsure",
        "unknown",
        "not answered",
        "no answer",
        "unanswered",
        "prefer not to say",
        "rather not say",
    )
)
_YES = frozenset(("yes", "y", "true", "sometimes", "occasionally", "a little", "a bit", "often"))
_LEAD = re.compile(r"^(?:yes|y)\b[\s,;:.–—-]*", re.IGNORECASE)
_PARTS = re.compile(r"[,;()]|\s[-–—]\s")
_LEFT = re.compile(r"\b(?:left|l)\b", re.IGNORECASE)
_RIGHT = re.compile(r"\b(?:right|r)\b", re.IGNORECASE)
_BOTH = re.compile(r"\b(?:both|each side)\b", re.IGNORECASE)
_WHEN = re.compile(
    r"\b(?:19|20)\d\d\b|\b\d{1,2}[/.]\d{1,2}[/.]\d{2,4}\b"
    r"|\b(?:jan|feb|mar|apr|jun|jul|aug|sep|oct|nov|dec)[a-z]*\b|\bmay\s+\d|\d\s*may\b"
    r"|\b(?:days?|weeks?|months?|years?)\b",
    re.IGNORECASE,
)
_DOUBT = re.compile(r"\b(?:no|not|never|maybe|perhaps|possibly)\b", re.IGNORECASE)


def read_answer(text: str) -> Answer | None:
    """Read one answer in plain words; None where it cannot be understood.

    Understood are no, blank or "don't know", and yes with a side, a date and details between
    commas: "yes, left, March 2026". A "no" with more words is not understood, because the words
    may take it back.
    """
    plain = _plain(text)
    if plain in _BLANK:
        return NOT_ANSWERED
    if plain in _NO:
        return Answer(reply=Reply.NO)
    if plain in _YES:
        return Answer(reply=Reply.YES)
    parts = _parts(text)
    if parts is None:
        return None
    return _yes_of(parts)


def _plain(text: str) -> str:
    kept = text.strip().lower().replace("’", "").replace("'", "")
    if kept in _BLANK:
        return kept
    return " ".join(re.sub(r"[.,;!]", " ", kept).split())


def _parts(text: str) -> tuple[str, ...] | None:
    """Return what follows a yes, or the parts of an answer that only names a side."""
    stripped = text.strip()
    lead = _LEAD.match(stripped)
    if lead is None and _side_of(stripped) is None:
        return None
    if lead is None and _DOUBT.search(stripped):
        return None
    rest = stripped[lead.end() :] if lead else stripped
    return tuple(part.strip(" .") for part in _PARTS.split(rest) if part.strip(" ."))


def _yes_of(parts: tuple[str, ...]) -> Answer:
    sides = {side for part in parts if (side := _side_of(part)) is not None}
    when = [part for part in parts if _WHEN.search(part)]
    bare = [part for part in parts if part not in when and _side_of(part) is None]
    return Answer(
        reply=Reply.YES,
        side=None if not sides else sides.pop() if len(sides) == 1 else BodySide.BOTH,
        when=", ".join(_without_side(part) for part in when),
        details=tuple(part.lower() for part in bare),
    )


def _side_of(part: str) -> BodySide | None:
    left, right = bool(_LEFT.search(part)), bool(_RIGHT.search(part))
    if _BOTH.search(part) or (left and right):
        return BodySide.BOTH
    if left or right:
        # A doubtful side ("not the left") is no side, so that both are kept safe.
        if _DOUBT.search(part):
            return BodySide.BOTH
        return BodySide.LEFT if left else BodySide.RIGHT
    return None


def _without_side(part: str) -> str:
    return " ".join(_BOTH.sub("", _RIGHT.sub("", _LEFT.sub("", part))).split())


def _ask(
    identifier: str, kind: Kind, words: str, *, red_flag: bool = False, sided: bool = False
) -> Question:
    return Question(
        id=QuestionId(identifier), words=words, kind=kind, red_flag=red_flag, sided=sided
    )


_FIRST = (
    _ask(
        "chest_pain",
        Kind.FIRST,
        "Do you get pain, tightness or pressure in your chest, neck, jaw or arm, at rest or when "
        "you are active?",
        red_flag=True,
    ),
    _ask(
        "blackout",
        Kind.FIRST,
        "In the last 12 months, have you fainted, blacked out or nearly done so?",
        red_flag=True,
    ),
    _ask(
        "recent_operation",
        Kind.FIRST,
        "In the last 6 months, have you had an operation, a broken bone or a stay in hospital?",
        red_flag=True,
    ),
    _ask(
        "falls",
        Kind.FIRST,
        "Have you fallen in the last 12 months, or do you feel unsteady when you stand or walk?",
        red_flag=True,
    ),
)
_SIGNS = (
    _ask(
        "breathless",
        Kind.SIGNS,
        "Are you short of breath at rest or with light effort, such as dressing?",
    ),
    _ask(
        "breathless_lying_flat",
        Kind.SIGNS,
        "Are you short of breath when you lie flat, or does breathlessness wake you at night?",
    ),
    _ask("ankle_swelling", Kind.SIGNS, "Are your ankles newly or more swollen than usual?"),
    _ask(
        "palpitations",
        Kind.SIGNS,
        "Does your heart race, flutter or beat unevenly, so that you feel it?",
    ),
    _ask(
        "calf_pain_walking",
        Kind.SIGNS,
        "Do your calves or legs hurt when you walk and ease when you stop?",
    ),
    _ask(
        "unusual_tiredness",
        Kind.SIGNS,
        "Are you unusually tired or out of breath with things you do every day?",
    ),
    _ask(
        "dizziness_on_rising",
        Kind.SIGNS,
        "Do you feel dizzy or light-headed when you stand up?",
    ),
    _ask(
        "fever_or_unwell",
        Kind.SIGNS,
        "Do you have a fever, an infection or do you feel ill at the moment?",
    ),
    _ask(
        "weight_loss_unexplained",
        Kind.SIGNS,
        "Have you lost weight in the last 6 months without meaning to?",
    ),
)
_CONDITIONS = (
    _ask(
        "heart_condition",
        Kind.CONDITIONS,
        "Do you have a heart condition, or have you had a heart attack?",
    ),
    _ask("heart_murmur", Kind.CONDITIONS, "Have you been told of a heart murmur or a weak valve?"),
    _ask(
        "high_blood_pressure",
        Kind.CONDITIONS,
        "Have you been told that your blood pressure is high, or do you take tablets for it?",
    ),
    _ask(
        "breathing_condition",
        Kind.CONDITIONS,
        "Do you have a lung or breathing condition, such as asthma or chronic bronchitis?",
    ),
    _ask("diabetes", Kind.CONDITIONS, "Do you have diabetes?"),
    _ask(
        "diabetes_unsettled",
        Kind.CONDITIONS,
        "If you have diabetes: in the last month, was your sugar very low or very high, or are "
        "your feet sore or numb?",
    ),
    _ask("kidney_condition", Kind.CONDITIONS, "Do you have a long-term kidney condition?"),
    _ask(
        "stroke",
        Kind.CONDITIONS,
        "Have you had a stroke or a small stroke? Which side is weaker?",
        sided=True,
    ),
    _ask("parkinsons", Kind.CONDITIONS, "Do you have Parkinson’s?"),
    _ask("epilepsy", Kind.CONDITIONS, "Do you have epilepsy, or have you had a fit?"),
    _ask(
        "hernia",
        Kind.CONDITIONS,
        "Do you have a hernia (a bulge in the tummy or groin) that is large or hurts?",
    ),
)
_JOINTS = (
    _ask(
        "bone_thinning",
        Kind.JOINTS,
        "Have you been told that your bones are thin (osteoporosis or osteopenia)?",
    ),
    _ask("spinal_fracture", Kind.JOINTS, "Have you had a broken or crushed bone in your back?"),
    _ask(
        "hip_replacement",
        Kind.JOINTS,
        "Do you have a replaced hip? Which side, when, and from the front or the back?",
        sided=True,
    ),
    _ask(
        "knee_replacement",
        Kind.JOINTS,
        "Do you have a replaced knee? Which side, and when?",
        sided=True,
    ),
    _ask(
        "shoulder_problem",
        Kind.JOINTS,
        "Do you have pain or stiffness in a shoulder, or a replaced shoulder? Which side?",
        sided=True,
    ),
    _ask(
        "elbow_or_wrist_problem",
        Kind.JOINTS,
        "Do you have pain or stiffness in an elbow or wrist? Which side?",
        sided=True,
    ),
    _ask(
        "hand_grip_weak",
        Kind.JOINTS,
        "Is it hard for you to grip, or to hold on without pain? Which hand?",
        sided=True,
    ),
    _ask("back_problem", Kind.JOINTS, "Do you have back pain that comes with bending or twisting?"),
    _ask("neck_problem", Kind.JOINTS, "Do you have neck pain, or dizziness when you look up?"),
    _ask(
        "knee_problem",
        Kind.JOINTS,
        "Do you have pain or stiffness in a knee? Which side?",
        sided=True,
    ),
    _ask(
        "foot_or_ankle_problem",
        Kind.JOINTS,
        "Do you have pain, numbness or weakness in a foot or ankle? Which side?",
        sided=True,
    ),
    _ask(
        "arthritis_flare",
        Kind.JOINTS,
        "Are any of your joints hot, red or newly swollen at the moment?",
    ),
)
_EYES_SKIN = (
    _ask(
        "eye_surgery_recent",
        Kind.EYES_SKIN,
        "Have you had an eye operation or an eye injection in the last 3 months?",
    ),
    _ask(
        "eye_retina_condition",
        Kind.EYES_SKIN,
        "Have you been told of bleeding, a tear or diabetic damage at the back of an eye, or of "
        "raised pressure in the eye?",
    ),
    _ask("thin_skin", Kind.EYES_SKIN, "Does your skin tear or bruise at a light knock?"),
    _ask("blood_thinners", Kind.EYES_SKIN, "Do you take a blood thinner?"),
)
_SUPPORT = (
    _ask(
        "needs_prompting",
        Kind.SUPPORT,
        "Do you need reminding or showing more than once to follow a few steps?",
    ),
    _ask(
        "pelvic_floor_or_continence",
        Kind.SUPPORT,
        "Would a toilet break, or a seat near the toilet, help you?",
    ),
)

QUESTIONS: tuple[Question, ...] = (
    *_FIRST,
    *_SIGNS,
    *_CONDITIONS,
    *_JOINTS,
    *_EYES_SKIN,
    *_SUPPORT,
)
"""Every question, in the order in which a form asks it."""

BY_ID: dict[str, Question] = {question.id: question for question in QUESTIONS}

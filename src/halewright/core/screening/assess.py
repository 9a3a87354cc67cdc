"""From a person's health screen and record to limits, ask-first flags and things to watch."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date

from halewright.core.people.group import Decision, Group, LocalRule, RawScreen
from halewright.core.people.limits import BodySide, Limit, Measure, Strength
from halewright.core.people.person import Person, PersonId, Standing
from halewright.core.screening import given, locally, questions
from halewright.core.screening.questions import Answer, Reply
from halewright.core.screening.rules import Rule, Trigger, to_file
from halewright.core.screening.verdict import AskFirst, Outcome, Reason

STANDING_RULE = "standing_support"
PERSON_RECORD = "this person’s record"
REVIEW_MONTHS_COUNT = 12
"""After how many months a screen is asked again, where no local rule says (common practice)."""

_STANDING: Mapping[Standing, tuple[int, str]] = {
    Standing.SEATED_ONLY: (0, "Stays seated throughout."),
    Standing.NOT_KNOWN: (0, "Nobody has recorded the support needed to stand: stays seated."),
    Standing.TWO_HANDS: (1, "Stands only with two hands on a firm support."),
    Standing.ONE_HAND: (2, "Stands only with a hand on a firm support."),
    Standing.FINGERTIPS: (3, "Stands only with fingertips on a firm support."),
}


def assess(
    *,
    person: Person,
    screen: RawScreen | None,
    decisions: Sequence[Decision],
    rules: Sequence[Rule],
    local_rules: Sequence[LocalRule],
    on: date | None = None,
) -> Outcome:
    """Return what a person's screen comes to on a day; no screen means nothing answered.

    A decision counts when it is about this person, not after `on`, and not before the screen was
    answered: a new screen asks anew. A decision names an ask-first flag or any rule; a go-ahead
    on a rule turns "avoid" into "with care" for this person, a wait turns "care" into "avoid".
    A local rule changes rules that ship, never a limit that a clinician or the person told.
    """
    answers, notes = read(screen)
    current, older = _decided(person=person, screen=screen, decisions=decisions, on=on)
    local = locally.in_force(local_rules)
    case = given.Case(answers=answers, local=local, decisions=current, older_decisions=older)
    parts = [part for rule in rules for part in given.of(rule=rule, case=case)]
    return Outcome(
        person=person.id,
        limits=(
            *person.limits,
            *standing_limits(person),
            *_without_idle(rules=rules, limits=[p for p in parts if isinstance(p, Limit)]),
        ),
        flags=tuple(part for part in parts if isinstance(part, AskFirst)),
        unanswered=(*_unanswered(answers), *notes),
        watches=(
            *_review_due(screen=screen, local=local, on=on),
            *_lost_decisions(rules=rules, decisions=(*current.values(), *older.values())),
            *(part for part in parts if isinstance(part, Reason)),
        ),
    )


def assess_group(
    *, group: Group, rules: Sequence[Rule], on: date | None = None
) -> dict[PersonId, Outcome]:
    """Return what each person's latest screen comes to; an undated screen is the oldest."""
    latest: dict[PersonId, RawScreen] = {}
    for screen in group.screens:
        known = latest.get(screen.person)
        if on is not None and screen.answered_on is not None and screen.answered_on > on:
            continue
        if known is None or (known.answered_on or date.min) <= (screen.answered_on or date.min):
            latest[screen.person] = screen
    return {
        person.id: assess(
            person=person,
            screen=latest.get(person.id),
            decisions=group.decisions,
            rules=rules,
            local_rules=group.local_rules,
            on=on,
        )
        for person in group.people
    }


def read(screen: RawScreen | None) -> tuple[dict[str, Answer], tuple[str, ...]]:
    """Read every answer of a screen, with notes on what could not be placed.

    Of two answers to one question the stricter is kept. An answer that cannot be understood is
    taken as yes; the readers of files refuse it before it comes here.
    """
    answers: dict[str, Answer] = {}
    notes: list[str] = []
    for identifier, text in screen.answers if screen else ():
        if identifier not in questions.BY_ID:
            notes.append(f"“{identifier}: {text}” answers no question of the health screen.")
            continue
        answer = questions.read_answer(text) or Answer(reply=Reply.YES, details=(text.lower(),))
        known = answers.get(identifier)
        answers[identifier] = answer if known is None else _stricter(known, answer)
    return {
        question.id: _without_stray_side(question, answers.get(question.id, questions.NOT_ANSWERED))
        for question in questions.QUESTIONS
    }, tuple(notes)


def _stricter(first: Answer, second: Answer) -> Answer:
    if first.reply is Reply.YES and second.reply is Reply.YES:
        return Answer(reply=Reply.YES)
    return max(first, second, key=lambda answer: answer.reply)


def _without_stray_side(question: questions.Question, answer: Answer) -> Answer:
    """Drop a side told for a question that has none, so that it can narrow nothing."""
    return answer if question.sided or answer.side is None else replace(answer, side=None)


def _unanswered(answers: Mapping[str, Answer]) -> tuple[str, ...]:
    return tuple(
        question.words
        for question in questions.QUESTIONS
        if answers[question.id].reply is Reply.UNANSWERED
    )


def _decided(
    *,
    person: Person,
    screen: RawScreen | None,
    decisions: Sequence[Decision],
    on: date | None,
) -> tuple[dict[str, Decision], dict[str, Decision]]:
    """Return the decisions in force and those that an answered screen has overtaken, by flag."""
    since = screen.answered_on if screen and screen.answered_on else date.min
    current: dict[str, Decision] = {}
    older: dict[str, Decision] = {}
    for decision in decisions:
        if decision.person != person.id or (on is not None and decision.on > on):
            continue
        kept = current if decision.on >= since else older
        known = kept.get(decision.flag)
        if known is None or (decision.on, not decision.go_ahead) >= (known.on, not known.go_ahead):
            kept[decision.flag] = decision
    return current, older


def _without_idle(*, rules: Sequence[Rule], limits: Sequence[Limit]) -> tuple[Limit, ...]:
    """Leave out limits for want of an answer where a limit at least as strict holds anyway.

    No verdict's fit changes: whatever exceeds the one left out exceeds the one that stays.
    """
    unanswered = {rule.id for rule in rules if rule.at is Trigger.UNANSWERED}
    firm = [limit for limit in limits if limit.rule not in unanswered]
    return tuple(
        limit
        for limit in limits
        if limit.rule not in unanswered or not any(_covers(other, limit) for other in firm)
    )


def _covers(firm: Limit, limit: Limit) -> bool:
    return (
        limit.told_by is None
        and firm.measure is limit.measure
        and firm.side in (BodySide.BOTH, limit.side)
        and firm.at_most <= limit.at_most
        and (firm.strength is Strength.AVOID or limit.strength is Strength.CARE)
    )


def _lost_decisions(*, rules: Sequence[Rule], decisions: Sequence[Decision]) -> tuple[Reason, ...]:
    """Tell the leader of a decision that names nothing, rather than lose it in silence."""
    known = {rule.id for rule in rules}
    return tuple(
        Reason(
            words=f"{decision.by}’s decision on “{decision.flag}” names no flag and no rule, so "
            "it changes nothing. Mend its name.",
            source=PERSON_RECORD,
        )
        for decision in decisions
        if decision.flag not in known
    )


def standing_limits(person: Person) -> tuple[Limit, ...]:
    """Return the limit that a person's support for standing sets; none with hands free."""
    known = _STANDING.get(person.standing)
    if known is None:
        return ()
    at_most, words = known
    return (
        Limit(
            measure=Measure.STANDING,
            at_most=float(at_most),
            strength=Strength.AVOID,
            reason=words,
            source=PERSON_RECORD,
            rule=STANDING_RULE,
        ),
    )


def _review_due(
    *, screen: RawScreen | None, local: Mapping[str, LocalRule], on: date | None
) -> tuple[Reason, ...]:
    """Tell the leader to ask again where the screen is old, undated or missing."""
    if screen is None:
        return (Reason(words="No health screen has been answered yet.", source="common practice"),)
    if screen.answered_on is None:
        return (Reason(words="The health screen has no date: ask again.", source=PERSON_RECORD),)
    if on is None:
        return ()
    own = local.get(locally.SCREEN_REVIEW)
    months = REVIEW_MONTHS_COUNT if own is None or own.at_most is None else own.at_most
    gone = (on.year - screen.answered_on.year) * 12 + on.month - screen.answered_on.month
    gone -= on.day < screen.answered_on.day
    if gone < months:
        return ()
    answered = locally.day_words(screen.answered_on)
    return (
        Reason(
            words=f"The health screen is of {answered}, {months:g} months ago or more: ask again.",
            source="common practice" if own is None else f"{own.source} (local rule)",
        ),
    )


def limit_in_file_unit(limit: Limit) -> float:
    """Return a limit's amount as files and screens write it: degrees for angles."""
    return to_file(measure=limit.measure, value=limit.at_most)

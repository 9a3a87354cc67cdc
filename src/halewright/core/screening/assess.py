"""From a person's health screen and record to limits, ask-first flags and things to watch."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from halewright.core.people.group import Decision, Group, LocalRule, RawScreen
from halewright.core.people.limits import BodySide, Limit, Measure, Strength
from halewright.core.people.person import Person, PersonId, Standing
from halewright.core.screening import locally, questions
from halewright.core.screening.questions import Answer, Reply
from halewright.core.screening.rules import (
    GivesFlag,
    GivesLimit,
    GivesWatch,
    Rule,
    SideOf,
    Trigger,
    amount_words,
    from_file,
    to_file,
)
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


@dataclass(frozen=True, slots=True, kw_only=True)
class _Case:
    """One person's answers and the words of others that bear on them."""

    answers: Mapping[str, Answer]
    local: Mapping[str, LocalRule]
    decisions: Mapping[str, Decision]
    older_decisions: Mapping[str, Decision]


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
    case = _Case(
        answers=answers,
        local=locally.in_force(local_rules),
        decisions=current,
        older_decisions=older,
    )
    given = [part for rule in rules for part in _given(rule=rule, case=case)]
    review = _review_due(screen=screen, local=case.local, on=on)
    return Outcome(
        person=person.id,
        limits=(
            *person.limits,
            *standing_limits(person),
            *(part for part in given if isinstance(part, Limit)),
        ),
        flags=tuple(part for part in given if isinstance(part, AskFirst)),
        unanswered=(*_unanswered(answers), *notes),
        watches=(
            *review,
            *_lost_decisions(rules=rules, decisions=(*current.values(), *older.values())),
            *(part for part in given if isinstance(part, Reason)),
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


def _given(*, rule: Rule, case: _Case) -> tuple[Limit | AskFirst | Reason, ...]:
    """Return what one rule gives this person: nothing where it does not apply."""
    triggering = _triggered(rule=rule, answers=case.answers)
    if not triggering:
        return ()
    local = case.local.get(rule.id)
    if local is not None and local.off and not _is_red_flag(rule):
        return (_switched_off(rule=rule, local=local),)
    match rule.gives:
        case GivesFlag():
            return (_flag(rule=rule, ask=rule.gives.ask, case=case, answers=triggering),)
        case GivesWatch():
            return (Reason(words=rule.reason, source=rule.source.cite()),)
        case GivesLimit():
            return tuple(
                _limit(rule=rule, gives=rule.gives, case=case, side=side)
                for side in _sides(gives=rule.gives, answers=triggering)
            )


def _triggered(*, rule: Rule, answers: Mapping[str, Answer]) -> tuple[Answer, ...]:
    threshold = Reply.YES if rule.at is Trigger.YES else Reply.UNANSWERED
    found = []
    for identifier in rule.questions:
        answer = answers[identifier]
        counts_as = answer.reply
        if questions.BY_ID[identifier].red_flag and counts_as is Reply.UNANSWERED:
            counts_as = Reply.YES
        if counts_as >= threshold and not _set_aside(rule=rule, answer=answer):
            found.append(answer)
    return tuple(found)


def _set_aside(*, rule: Rule, answer: Answer) -> bool:
    """Whether the answer's own words say, without doubt, that the rule is about something else."""
    if answer.side is BodySide.BOTH:
        # Two sides may have been operated on in two ways, so that one word cannot free both.
        return False
    named = set(answer.details) & set(rule.unless_detail)
    return bool(named) and len(answer.details) == 1


def _is_red_flag(rule: Rule) -> bool:
    red = any(questions.BY_ID[identifier].red_flag for identifier in rule.questions)
    return red and isinstance(rule.gives, GivesFlag)


def _sides(*, gives: GivesLimit, answers: Sequence[Answer]) -> tuple[BodySide, ...]:
    if gives.side is SideOf.BOTH:
        return (BodySide.BOTH,)
    told = {answer.side or BodySide.BOTH for answer in answers}
    return (BodySide.BOTH,) if len(told) > 1 else tuple(told)


def _switched_off(*, rule: Rule, local: LocalRule) -> Reason:
    return Reason(
        words=f"Switched off: {rule.reason} {locally.signed(local)}",
        source=f"{local.source} (local rule); in place of {rule.source.cite()}",
    )


def _flag(*, rule: Rule, ask: str, case: _Case, answers: Sequence[Answer]) -> AskFirst:
    decision = case.decisions.get(rule.id)
    notes = [rule.reason]
    if all(answer.reply is Reply.UNANSWERED for answer in answers):
        notes.append("The question has not been answered, which counts as yes.")
    older = case.older_decisions.get(rule.id)
    if decision is None and older is not None:
        notes.append(
            f"{older.by} decided on {locally.day_words(older.on)}, before this screen: ask again."
        )
    local = case.local.get(rule.id)
    if local is not None and local.off:
        notes.append(f"A local rule cannot switch this question off ({local.who}).")
    return AskFirst(
        flag=rule.id,
        words=ask,
        reason=" ".join(notes),
        source=rule.source.cite(),
        decided=None if decision is None else decision.go_ahead,
        decided_by="" if decision is None else decision.by,
    )


def _limit(*, rule: Rule, gives: GivesLimit, case: _Case, side: BodySide) -> Limit:
    words = (_on_side(reason=rule.reason, side=side), *_others(gives))
    limit = Limit(
        measure=gives.measure,
        at_most=gives.strictest,
        strength=gives.strength,
        reason=" ".join(words),
        source="; also ".join((rule.source.cite(), *(other.source.cite() for other in gives.also))),
        rule=rule.id,
        side=side,
        reviewed_on=rule.reviewed_on,
    )
    local = case.local.get(rule.id)
    if local is not None:
        limit = _overridden(limit=limit, local=local)
    decision = case.decisions.get(rule.id)
    return limit if decision is None else _decided_limit(limit=limit, decision=decision)


def _on_side(*, reason: str, side: BodySide) -> str:
    return reason if side is BodySide.BOTH else f"{reason.rstrip('.')} ({side.value} side)."


def _others(gives: GivesLimit) -> tuple[str, ...]:
    """Say the values of authorities that disagree, beside the one in use."""
    if not gives.also:
        return ()
    named = (gives.at_most, *(other.at_most for other in gives.also))
    values = sorted(set(named))
    told = " or ".join(amount_words(measure=gives.measure, value=value) for value in values)
    return (f"Authorities differ ({told}); the strictest is used.",)


def _overridden(*, limit: Limit, local: LocalRule) -> Limit:
    if local.at_most is None:
        return replace(limit, reason=f"{limit.reason} {locally.signed(local)}")
    mine = from_file(measure=limit.measure, value=local.at_most)
    now = amount_words(measure=limit.measure, value=mine)
    was = amount_words(measure=limit.measure, value=limit.at_most)
    return replace(
        limit,
        at_most=mine,
        reason=f"{limit.reason} {locally.signed(local)} At most {now} in place of {was}.",
        source=f"{local.source} (local rule); in place of {limit.source}",
        reviewed_on=local.on or limit.reviewed_on,
    )


def _decided_limit(*, limit: Limit, decision: Decision) -> Limit:
    on = locally.day_words(decision.on)
    note = f" {decision.note.strip()}" if decision.note.strip() else ""
    if decision.go_ahead:
        words = f"{limit.reason} {decision.by} said on {on} to go ahead, with care.{note}"
        return replace(limit, strength=Strength.CARE, reason=words)
    words = f"{limit.reason} {decision.by} said on {on} to leave it out.{note}"
    return replace(limit, strength=Strength.AVOID, reason=words, told_by=decision.by)


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

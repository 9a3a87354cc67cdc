"""What one rule gives one person: a limit, an ask-first flag, something to watch, or nothing."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from halewright.core.people.group import Decision, LocalRule
from halewright.core.people.limits import BodySide, Limit, Strength
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
)
from halewright.core.screening.verdict import AskFirst, Reason

Given = Limit | AskFirst | Reason


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One person's answers and the words of others that bear on them."""

    answers: Mapping[str, Answer]
    local: Mapping[str, LocalRule]
    decisions: Mapping[str, Decision]
    older_decisions: Mapping[str, Decision]


def of(*, rule: Rule, case: Case) -> tuple[Given, ...]:
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


def _flag(*, rule: Rule, ask: str, case: Case, answers: Sequence[Answer]) -> AskFirst:
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


def _limit(*, rule: Rule, gives: GivesLimit, case: Case, side: BodySide) -> Limit:
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

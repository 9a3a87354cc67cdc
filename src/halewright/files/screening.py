"""Screening rules and policies: TOML with a strict shape, and answers checked as they are read."""

import difflib
import math
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TypeVar

import msgspec

from halewright.core.errors import BadInput, Problem
from halewright.core.people.group import LocalRule
from halewright.core.people.limits import Measure, Strength
from halewright.core.screening import questions, rules

RULES_SCHEMA = "halewright.screening_rules"
POLICIES_SCHEMA = "halewright.screening_policies"
VERSION = 1
RULES_FILE = "rules.toml"
POLICIES_FILE = "policies.toml"
SHIPPED = Path(__file__).resolve().parent.parent / "data" / "screening"

_MEASURES: Mapping[str, Measure] = {rules.file_name(measure): measure for measure in Measure}


class AlsoDoc(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What another authority allows; the amount's unit is the last word of its name."""

    source: str
    status: rules.Status
    at_most_deg: float | None = None
    at_most_n: float | None = None
    at_most_score: float | None = None
    at_most_count: float | None = None


class LimitDoc(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A limit; exactly one amount, in the unit of its measure."""

    measure: str
    strength: Strength
    side: rules.SideOf = rules.SideOf.BOTH
    at_most_deg: float | None = None
    at_most_n: float | None = None
    at_most_score: float | None = None
    at_most_count: float | None = None
    also: list[AlsoDoc] = []


class RuleDoc(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One rule: a limit, an ask-first flag, or neither (a thing to watch)."""

    id: str
    questions: list[str]
    at: rules.Trigger
    reason: str
    source: str
    status: rules.Status
    reviewed: str
    unless_detail: list[str] = []
    ask_first: str | None = None
    limit: LimitDoc | None = None


class RulesDoc(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A file of rules."""

    schema: str
    version: int
    rules: list[RuleDoc]


class ViewDoc(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One authority's value."""

    value: str
    source: str
    status: rules.Status


class PolicyDoc(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One matter for local rule."""

    id: str
    words: str
    reviewed: str
    views: list[ViewDoc] = []


class PoliciesDoc(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A file of policies."""

    schema: str
    version: int
    policies: list[PolicyDoc]


@dataclass(frozen=True, slots=True, kw_only=True)
class Rulebook:
    """All that screening reads from files."""

    # Policies come first: a field named `rules` hides the module from later annotations.
    policies: tuple[rules.Policy, ...]
    rules: tuple[rules.Rule, ...]


class _Unfit(Exception):
    """A part of a document that cannot become a value: what was read and how to mend it."""

    def __init__(self, *, read: str, mend: str) -> None:
        super().__init__(read)
        self.read, self.mend = read, mend


_Doc = TypeVar("_Doc", RulesDoc, PoliciesDoc)


def shipped() -> Rulebook:
    """Return the rules and policies that come with the programme."""
    return read(SHIPPED)


def read(folder: Path) -> Rulebook:
    """Read a folder's rules and policies; raise `BadInput` with every problem at once."""
    problems: list[Problem] = []
    rules_doc = _document(
        path=folder / RULES_FILE, shape=RulesDoc, schema=RULES_SCHEMA, problems=problems
    )
    policies_doc = _document(
        path=folder / POLICIES_FILE, shape=PoliciesDoc, schema=POLICIES_SCHEMA, problems=problems
    )
    book = Rulebook(
        rules=_rules(docs=rules_doc.rules if rules_doc else [], problems=problems),
        policies=_policies(docs=policies_doc.policies if policies_doc else [], problems=problems),
    )
    if problems:
        raise BadInput(tuple(problems))
    return book


def _document(
    *, path: Path, shape: type[_Doc], schema: str, problems: list[Problem]
) -> _Doc | None:
    try:
        document = msgspec.convert(tomllib.loads(path.read_text("utf-8")), shape)
    except (OSError, tomllib.TOMLDecodeError, msgspec.ValidationError, UnicodeDecodeError) as error:
        told = error.strerror or "nothing" if isinstance(error, OSError) else str(error)
        mend = "Mend this and read the file again."
        problems.append(Problem(file=path.name, read=told, mend=mend))
        return None
    if document.schema != schema or document.version != VERSION:
        problems.append(
            Problem(
                file=path.name,
                read=f"{document.schema} version {document.version}",
                mend=f"This programme reads {schema} version {VERSION}.",
            )
        )
        return None
    return document


def _rules(*, docs: Iterable[RuleDoc], problems: list[Problem]) -> tuple[rules.Rule, ...]:
    made: dict[str, rules.Rule] = {}
    for doc in docs:
        try:
            if doc.id in made:
                raise _Unfit(read=doc.id, mend="Give each rule an id of its own.")
            made[doc.id] = rule_of(doc)
        except _Unfit as error:
            problems.append(
                Problem(file=RULES_FILE, read=f"rule {doc.id}: {error.read}", mend=error.mend)
            )
    return tuple(made.values())


def rule_of(doc: RuleDoc) -> rules.Rule:
    """Return the value that one rule of a file describes."""
    for words in (doc.id, doc.reason, doc.source):
        if not words.strip():
            raise _Unfit(read="an empty text", mend="Give the rule an id, a reason and a source.")
    if not doc.questions:
        raise _Unfit(read="no question", mend="Name at least one question of the health screen.")
    for identifier in doc.questions:
        if identifier not in questions.BY_ID:
            raise _Unfit(read=identifier, mend=_nearest(identifier, questions.BY_ID))
    gives = _gives(doc)
    _check_order(doc=doc, gives=gives)
    return rules.Rule(
        id=doc.id,
        questions=tuple(questions.QuestionId(identifier) for identifier in doc.questions),
        at=doc.at,
        gives=gives,
        reason=doc.reason,
        source=_source(words=doc.source, status=doc.status),
        reviewed_on=_month(doc.reviewed),
        unless_detail=tuple(words.lower() for words in doc.unless_detail),
    )


def _gives(doc: RuleDoc) -> rules.GivesLimit | rules.GivesFlag | rules.GivesWatch:
    if doc.limit is not None and doc.ask_first is not None:
        raise _Unfit(read="a limit and an ask-first flag", mend="Write two rules, one for each.")
    if doc.limit is not None:
        return _limit(doc.limit)
    if doc.ask_first is None:
        return rules.GivesWatch()
    if not doc.ask_first.strip():
        raise _Unfit(read="an empty ask_first", mend="Say what to ask, and whom.")
    return rules.GivesFlag(ask=doc.ask_first)


def _check_order(
    *, doc: RuleDoc, gives: rules.GivesLimit | rules.GivesFlag | rules.GivesWatch
) -> None:
    """Refuse a rule under which a worse answer could free a movement.

    A rule that an unanswered question sets off holds for both sides, so a yes with one side, or
    with a detail that sets the rule aside, would be milder than no answer at all.
    """
    red = any(questions.BY_ID[identifier].red_flag for identifier in doc.questions)
    sided = isinstance(gives, rules.GivesLimit) and gives.side is rules.SideOf.AS_ANSWERED
    narrow = sided or bool(doc.unless_detail)
    if narrow and (red or doc.at is rules.Trigger.UNANSWERED):
        raise _Unfit(
            read="a rule for one side or with unless_detail, set off without an answer",
            mend="Let it apply at yes, to a question that is no red flag, or to both sides.",
        )
    if sided and not all(questions.BY_ID[identifier].sided for identifier in doc.questions):
        raise _Unfit(read="side as_answered", mend="Use it only with questions that ask a side.")


def _limit(doc: LimitDoc) -> rules.GivesLimit:
    measure = _MEASURES.get(doc.measure)
    if measure is None:
        raise _Unfit(read=doc.measure, mend=_nearest(doc.measure, _MEASURES))
    return rules.GivesLimit(
        measure=measure,
        at_most=_amount(doc=doc, measure=measure),
        strength=doc.strength,
        side=doc.side,
        also=tuple(
            rules.OtherValue(
                at_most=_amount(doc=other, measure=measure),
                source=_source(words=other.source, status=other.status),
            )
            for other in doc.also
        ),
    )


def _amount(*, doc: LimitDoc | AlsoDoc, measure: Measure) -> float:
    given = {
        unit: value
        for unit, value in (
            (rules.FileUnit.DEGREES, doc.at_most_deg),
            (rules.FileUnit.NEWTONS, doc.at_most_n),
            (rules.FileUnit.SCORE, doc.at_most_score),
            (rules.FileUnit.COUNT, doc.at_most_count),
        )
        if value is not None
    }
    unit = rules.file_unit(measure)
    if set(given) != {unit}:
        told = ", ".join(f"at_most_{name.value}" for name in given) or "no amount"
        raise _Unfit(read=told, mend=f"Write at_most_{unit.value} for this measure, and no other.")
    if not math.isfinite(given[unit]) or given[unit] < 0:
        raise _Unfit(read=f"{given[unit]}", mend="Write an amount of 0 or more.")
    return rules.from_file(measure=measure, value=given[unit])


def _source(*, words: str, status: rules.Status) -> rules.Source:
    if not words.strip():
        raise _Unfit(read="an empty source", mend="Name the source, or write “common practice”.")
    return rules.Source(words=words, status=status)


def _month(text: str) -> date:
    try:
        return date.fromisoformat(f"{text}-01" if text.count("-") == 1 else text)
    except ValueError:
        mend = "Write the month of the review as 2026-11."
        raise _Unfit(read=text, mend=mend) from None


def _policies(*, docs: Iterable[PolicyDoc], problems: list[Problem]) -> tuple[rules.Policy, ...]:
    made: dict[str, rules.Policy] = {}
    for doc in docs:
        try:
            if doc.id in made or not doc.id.strip() or not doc.words.strip():
                raise _Unfit(read=doc.id, mend="Give each policy words and an id of its own.")
            made[doc.id] = rules.Policy(
                id=doc.id,
                words=doc.words,
                views=tuple(
                    (view.value, _source(words=view.source, status=view.status))
                    for view in doc.views
                ),
                reviewed_on=_month(doc.reviewed),
            )
        except _Unfit as error:
            problems.append(
                Problem(file=POLICIES_FILE, read=f"policy {doc.id}: {error.read}", mend=error.mend)
            )
    return tuple(made.values())


def local_rule_problems(
    *,
    local_rules: Iterable[LocalRule],
    book: Rulebook,
    other_settings: Iterable[str] = (),
    file: str,
) -> tuple[Problem, ...]:
    """Return a problem for every local rule that would change nothing, and say why.

    `other_settings` are the names of settings outside screening that a local rule may give.
    """
    by_id = {rule.id: rule for rule in book.rules}
    known = {*by_id, *(policy.id for policy in book.policies), *other_settings}
    problems = []
    for local in local_rules:
        mend = _local_mend(local=local, rule=by_id.get(local.rule), known=known)
        if mend:
            problems.append(Problem(file=file, read=f"local rule {local.rule}", mend=mend))
    return tuple(problems)


def _local_mend(*, local: LocalRule, rule: rules.Rule | None, known: Iterable[str]) -> str:
    if local.rule not in known:
        return f"No rule or setting has this name. {_nearest(local.rule, known)}"
    if not all(words.strip() for words in (local.who, local.why, local.source)):
        return "Say who set it, why, and from what source; until then the shipped rule holds."
    if local.at_most is not None and not math.isfinite(local.at_most):
        return "Write an amount that is a number."
    if rule is None or isinstance(rule.gives, rules.GivesLimit):
        return ""
    if local.at_most is not None:
        return "This rule has no amount to set. Leave the amount out."
    red = any(questions.BY_ID[identifier].red_flag for identifier in rule.questions)
    if local.off and red and isinstance(rule.gives, rules.GivesFlag):
        return "A red flag cannot be switched off. Record a decision about the person instead."
    return ""


def _nearest(name: str, known: Iterable[str]) -> str:
    near = difflib.get_close_matches(name, list(known), n=1)
    return f"Did you mean {near[0]}?" if near else f"Use one of: {', '.join(sorted(known))}."


def answer_problems(
    *,
    answers: Mapping[str, str],
    file: str,
    sheet: str | None = None,
    row: int | None = None,
) -> tuple[Problem, ...]:
    """Return a problem for every answer that names no question or cannot be understood.

    Each problem's column is the question's identifier.
    """
    problems = []
    for identifier, text in answers.items():
        if identifier not in questions.BY_ID:
            read_text, mend = identifier, _nearest(identifier, questions.BY_ID)
        elif questions.read_answer(text) is None:
            read_text = text
            mend = (
                "Write yes, no, or leave it blank for “not known”. After a yes, add the side, the "
                "date and details between commas; after a no, nothing."
            )
        else:
            continue
        problems.append(
            Problem(file=file, read=read_text, mend=mend, sheet=sheet, row=row, column=identifier)
        )
    return tuple(problems)

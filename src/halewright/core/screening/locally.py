"""A leader's own rules in place of those that ship, and policies that no rule fills in."""

import math
from collections.abc import Iterable, Mapping, Sequence
from datetime import date

from halewright.core.people.group import LocalRule
from halewright.core.screening.rules import Policy
from halewright.core.screening.verdict import Reason

LATEX_POLICY = "latex_policy"
SCREEN_REVIEW = "screen_review_months"
NO_LOCAL_RULE = "No local rule recorded."


def in_force(local_rules: Iterable[LocalRule]) -> dict[str, LocalRule]:
    """Return the local rule in force for each rule: the latest dated, then the last written.

    A local rule without a name, a reason, a source or a finite amount is left out: the shipped
    rule then holds.
    """
    kept: dict[str, LocalRule] = {}
    for local in local_rules:
        known = kept.get(local.rule)
        if _usable(local) and (known is None or _day(known) <= _day(local)):
            kept[local.rule] = local
    return kept


def _usable(local: LocalRule) -> bool:
    told = all(words.strip() for words in (local.who, local.why, local.source))
    return told and (local.at_most is None or math.isfinite(local.at_most))


def _day(local: LocalRule) -> date:
    return local.on or date.min


def signed(local: LocalRule) -> str:
    """Say who set a local rule, when and why: "Local rule by Ann Lee on 3 May 2026: …"."""
    when = f" on {day_words(local.on)}" if local.on else ""
    return f"Local rule by {local.who.strip()}{when}: {local.why.strip().rstrip('.')}."


def day_words(day: date) -> str:
    """Write a date as people read it: 3 May 2026."""
    return f"{day.day} {day:%B} {day.year}"


def policy_reason(*, policy: Policy, local_rules: Sequence[LocalRule]) -> Reason:
    """Say what holds for a matter of local rule; "No local rule recorded." where none does.

    The values that authorities give stay in view either way; none is filled in.
    """
    local = in_force(local_rules).get(policy.id)
    views = "".join(f" Published: {value} ({source.cite()})." for value, source in policy.views)
    if local is None:
        return Reason(words=f"{policy.words} {NO_LOCAL_RULE}{views}", source="no local rule")
    amount = "" if local.at_most is None else f" {local.at_most:g}."
    return Reason(
        words=f"{policy.words}{amount} {signed(local)}{views}",
        source=f"{local.source} (local rule)",
    )


def policy_reasons(
    *, policies: Mapping[str, Policy], local_rules: Sequence[LocalRule]
) -> dict[str, Reason]:
    """Say what holds for every policy, by identifier."""
    return {
        name: policy_reason(policy=policy, local_rules=local_rules)
        for name, policy in policies.items()
    }

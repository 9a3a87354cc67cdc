"""Write docs/screening.md, the table of screening rules, from the files that ship."""

from pathlib import Path

from halewright.core.screening import questions, rules
from halewright.files import screening

PAGE = Path(__file__).resolve().parent.parent / "docs" / "screening.md"

OPENING = """# Screening rules

Written by `scripts/write_screening_page.py` from `src/halewright/data/screening`; change the
files and write it again. A test compares.

How to read it: a rule applies when a question is answered as its trigger says. It gives a limit
(beyond it an option is *with care* or *not suitable*), a flag to ask a doctor about first, or
something for the leader to keep in mind. Where authorities disagree every value is shown and the
strictest is used until a local rule, signed and with its source, says otherwise. What a clinician
told about a person comes before all of this and is never overridden.

Three things come from the person's own record: the support needed for standing, latex, and told
limits. Support that nobody has recorded means seated. A latex reaction that nobody has asked about
means bands free of latex. With an ask-first flag open a person does seated movement without a
band: legs at their own weight, no held breath, no fast work.
"""


def page(book: screening.Rulebook) -> str:
    """Return the whole page."""
    return "\n".join(
        (
            OPENING,
            "## Questions",
            "",
            "| question | words | red flag | asks a side |",
            "|---|---|---|---|",
            *(_question(question) for question in questions.QUESTIONS),
            "",
            "## Rules",
            "",
            "| rule | trigger | gives | reason | source | status | reviewed |",
            "|---|---|---|---|---|---|---|",
            *(_rule(rule) for rule in book.rules),
            "",
            "## Matters of local rule",
            "",
            "Where none is recorded the tool says “No local rule recorded.” and fills in nothing.",
            "",
            "| matter | words | published values |",
            "|---|---|---|",
            *(_policy(policy) for policy in book.policies),
            "",
        )
    )


def _question(question: questions.Question) -> str:
    red = "yes: unanswered counts as yes" if question.red_flag else ""
    return f"| `{question.id}` | {question.words} | {red} | {'yes' if question.sided else ''} |"


def _rule(rule: rules.Rule) -> str:
    names = ", ".join(f"`{name}`" for name in rule.questions)
    trigger = f"{names}: {rule.at.value}"
    if rule.unless_detail:
        trigger += f", unless “{rule.unless_detail[0]}”"
    return (
        f"| `{rule.id}` | {trigger} | {_gives(rule)} | {rule.reason} | {rule.source.words} "
        f"| {rule.source.status.value} | {rule.reviewed_on:%Y-%m} |"
    )


def _gives(rule: rules.Rule) -> str:
    match rule.gives:
        case rules.GivesFlag():
            return f"ask first: {rule.gives.ask}"
        case rules.GivesWatch():
            return "watch"
        case rules.GivesLimit():
            return _limit(rule.gives)


def _limit(gives: rules.GivesLimit) -> str:
    name = rules.file_name(gives.measure).replace("_", " ")
    most = rules.amount_words(measure=gives.measure, value=gives.strictest)
    side = ", side as answered" if gives.side is rules.SideOf.AS_ANSWERED else ""
    also = "".join(
        f"; also {rules.amount_words(measure=gives.measure, value=other.at_most)}: "
        f"{other.source.cite()}"
        for other in gives.also
    )
    return f"{name} at most {most}, {gives.strength.value}{side}{also}"


def _policy(policy: rules.Policy) -> str:
    views = "<br>".join(f"{value}: {source.cite()}" for value, source in policy.views)
    return f"| `{policy.id}` | {policy.words} | {views or 'none found'} |"


def main() -> None:
    """Write the page."""
    PAGE.write_text(page(screening.shipped()), "utf-8")


if __name__ == "__main__":
    main()

"""A group judged by all that is recorded of it."""

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

from halewright.core.people.group import Decision
from halewright.usecases import demo, groups, judging


def test_a_decision_made_during_the_block_counts(tmp_path: Path) -> None:
    """Ray's open question, answered a month after the block began, is open no more."""
    folder = next(
        each.folder for each in demo.listing(tmp_path) if each.folder.name == "marlow-street-hall"
    )
    group = groups.load(folder)
    undecided = [who for who, each in judging.judged(group).outcomes.items() if each.undecided]
    (ray,) = undecided
    (flag,) = judging.judged(group).outcomes[ray].flags
    told = Decision(
        person=ray,
        flag=flag.flag,
        go_ahead=True,
        by="Dr Okoro",
        on=group.schedule.starts_on + timedelta(days=30),
    )

    later = judging.judged(replace(group, decisions=(*group.decisions, told)))

    assert not later.outcomes[ray].undecided

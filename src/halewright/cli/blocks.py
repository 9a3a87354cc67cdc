"""`plan` and `check`: make a block, and hold it against every rule."""

import sys
from pathlib import Path
from typing import NoReturn

import click

from halewright.cli import glance, printing
from halewright.cli.paths import FILE, FOLDER, SEED, Finite
from halewright.core.planning.plan import Acceptance, Violation
from halewright.planner import solving
from halewright.usecases import groups, plans


@click.command()
@click.argument("folder", type=FOLDER)
@click.option(
    "--seed", type=SEED, default=1, show_default=True, help="The same seed gives the same plan."
)
@click.option("--out", type=click.Path(dir_okay=False, path_type=Path), help="Where to save it.")
@click.option(
    "--work", type=click.IntRange(min=1), help="How much work to spend: the reproducible limit."
)
@click.option("--seconds", type=Finite(min=0.1), help="A ceiling on the time, reproducible or not.")
@click.option(
    "--last-resorts",
    is_flag=True,
    help="Let one or two people do another movement or sit out where a station does not suit.",
)
@click.option("--json", "as_json", is_flag=True, help="Print the result for programmes.")
def plan(
    folder: Path,
    seed: int,
    out: Path | None,
    work: int | None,
    seconds: float | None,
    last_resorts: bool,
    as_json: bool,
) -> None:
    """Plan the block of weeks of a group FOLDER.

    \b
    Example:
      halewright plan var/demo/marlow-street-hall --seed 1 --out plan.json
    """
    group = groups.load(folder)
    with printing.bar() as shown:
        task = shown.add_task("Reading the group", total=1.0)
        answer = plans.draft(
            group,
            seed=seed,
            work=work,
            seconds=seconds,
            last_resorts=last_resorts,
            progress=lambda step: shown.update(task, description=step.words, completed=step.share),
        )
    if isinstance(answer, solving.NoPlan):
        _no_plan(answer, as_json=as_json)
    if out is not None:
        plans.save(answer.plan, out)
    if as_json:
        printing.as_json(_summary(answer))
        return
    glance.block(answer.plan, group)
    if out is not None:
        printing.say(f"Saved as {out}.")


def _summary(answer: solving.Solved) -> dict[str, object]:
    return {
        "objective": answer.plan.objective,
        "bound": answer.plan.bound,
        "seconds": round(answer.seconds, 3),
        "sessions": len(answer.plan.sessions),
    }


def _no_plan(answer: solving.NoPlan, *, as_json: bool) -> NoReturn:
    if as_json:
        printing.as_json({"reason": answer.reason, "ways_out": list(answer.ways_out)})
    else:
        printing.say_problem(answer.reason)
        for way in answer.ways_out:
            printing.say_problem(f"  What would help: {way}")
    sys.exit(1)


@click.command()
@click.argument("plan_file", metavar="PLAN", type=FILE)
@click.option("--group", "folder", required=True, type=FOLDER, help="The group's folder.")
@click.option("--json", "as_json", is_flag=True, help="Print the result for programmes.")
def check(plan_file: Path, folder: Path, as_json: bool) -> None:
    """Hold a PLAN against every rule, by a checker that knows nothing of how it was made.

    \b
    Example:
      halewright check plan.json --group var/demo/marlow-street-hall
    """
    with printing.busy("Holding the plan against every rule"):
        checked = plans.check(plans.read(plan_file), groups.load(folder))
    if as_json:
        printing.as_json(
            {
                "violations": [_violation(each) for each in checked.violations],
                "accepted": [_acceptance(each) for each in checked.accepted],
            }
        )
    else:
        for each in checked.violations:
            printing.say(f"{_place(each)}{each.words}")
        printing.say(f"{len(checked.violations)} breaches, {len(checked.accepted)} accepted.")
    sys.exit(1 if checked.violations else 0)


def _place(violation: Violation) -> str:
    parts = [
        f"{name} {number}"
        for name, number in (
            ("week", violation.week),
            ("session", violation.session),
            ("station", violation.station),
        )
        if number is not None
    ]
    return f"{', '.join(parts)}: ".capitalize() if parts else ""


def _violation(each: Violation) -> dict[str, object]:
    return {
        "rule": each.rule,
        "week": each.week,
        "session": each.session,
        "station": each.station,
        "person": each.person,
        "words": each.words,
        "incurable": each.incurable,
    }


def _acceptance(each: Acceptance) -> dict[str, object]:
    return {
        "rule": each.rule,
        "week": each.week,
        "session": each.session,
        "station": each.station,
        "person": each.person,
        "who": each.who,
        "on": each.on,
        "why": each.why,
    }

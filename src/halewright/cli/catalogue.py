"""`catalogue` and `options`: what there is to do, and who may do it which way."""

import sys
from pathlib import Path

import click

from halewright.cli import printing
from halewright.cli.paths import FOLDER
from halewright.core.catalogue.movement import MovementId
from halewright.core.catalogue.words import OptionKind
from halewright.core.people.person import PersonId
from halewright.core.screening.verdict import Verdict
from halewright.usecases import catalogue as acts
from halewright.usecases import groups, judging, loads


@click.group()
def catalogue() -> None:
    """The movements.

    \b
    Example:
      halewright catalogue check
    """


@catalogue.command("check")
@click.argument("files", nargs=-1, type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Print the result for programmes.")
def check(files: tuple[Path, ...], as_json: bool) -> None:
    """Check every movement that ships, or only the FILES given, and say all that is wrong.

    \b
    Example:
      halewright catalogue check my-new-movement.toml
    """
    with printing.busy("Checking shapes, meanings and poses"):
        found = acts.check_files(files) if files else acts.check_shipped()
    if as_json:
        printing.as_json(
            {
                "movements": found.movements,
                "problems": [printing.problem_row(problem) for problem in found.problems],
            }
        )
    else:
        printing.problems(found.problems)
        printing.say(f"{found.movements} movements, {len(found.problems)} problems.")
    sys.exit(1 if found.problems else 0)


@click.command()
@click.argument("folder", type=FOLDER)
@click.option("--person", help="Only this person, by identifier.")
@click.option("--json", "as_json", is_flag=True, help="Print the result for programmes.")
def options(folder: Path, person: str | None, as_json: bool) -> None:
    """Show what everybody in a group FOLDER may do, which way, and why.

    \b
    Example:
      halewright options var/demo/marlow-street-hall --person m04
    """
    with printing.busy("Judging every way of moving for everybody"):
        ready = judging.judged(groups.load(folder))
    if person is not None and person not in {each.id for each in ready.group.people}:
        raise loads.NoSuchPerson(person)
    if as_json:
        printing.as_json(
            [
                _row(key, verdict)
                for key, verdict in ready.matrix.items()
                if person in (None, key[0])
            ]
        )
        return
    names = {each.id: each.preferred_name for each in ready.group.people}
    printing.table(
        "Who may do what, which way",
        ("Person", "Movement", "Option", "Verdict", "Why"),
        [
            (
                names[who],
                ready.catalogue[movement].name,
                kind.value.replace("_", " "),
                verdict.fit.value.replace("_", " "),
                " ".join(reason.words for reason in verdict.reasons),
            )
            for (who, movement, kind), verdict in ready.matrix.items()
            if person in (None, who)
        ],
    )


def _row(key: tuple[PersonId, MovementId, OptionKind], verdict: Verdict) -> dict[str, object]:
    who, movement, kind = key
    return {
        "person": who,
        "movement": movement,
        "option": kind.value,
        "verdict": verdict.fit.value,
        "reasons": [{"words": each.words, "source": each.source} for each in verdict.reasons],
    }

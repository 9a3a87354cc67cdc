"""`loads` and `band`: newtons for people and movements, and the curve of a measured band."""

import sys
from pathlib import Path

import click

from halewright.cli import printing
from halewright.cli.paths import FILE, FOLDER, Finite
from halewright.core.mechanics import loads as rules
from halewright.core.mechanics import rubber
from halewright.core.mechanics.loads import Load
from halewright.core.people.kit import Shape
from halewright.usecases import groups
from halewright.usecases import loads as acts

CAUTIONS = (
    "Before each use look the band over for nicks; keep faces out of the line of pull; wear shoes "
    "with a band underfoot; mind latex. Moments are net joint moments."
)


@click.command()
@click.argument("folder", type=FOLDER)
@click.option("--movement", required=True, help="The movement, by identifier.")
@click.option("--person", help="Only this person, by identifier.")
@click.option("--grip", "grip_m", type=Finite(min=0.01), help="Grip length in metres.")
@click.option("--tension", "tension_n", type=Finite(min=0.1), help="Wanted peak in N.")
@click.option("--json", "as_json", is_flag=True, help="Print the result for programmes.")
def loads(
    folder: Path,
    movement: str,
    person: str | None,
    grip_m: float | None,
    tension_n: float | None,
    as_json: bool,
) -> None:
    """Show what each measured band of a group FOLDER asks of each person in a movement.

    Without --grip or --tension every strip is gripped so that it is just taut at the start.

    \b
    Example:
      halewright loads var/demo/marlow-street-hall --movement seated-row --tension 15
    """
    if grip_m is not None and tension_n is not None:
        raise click.UsageError("Give --grip or --tension, not both.")
    group = groups.load(folder)
    rows = acts.for_group(
        group=group,
        movement=movement,
        person=person,
        how=acts.How(grip_length_m=grip_m, target_tension_n=tension_n),
    )
    if as_json:
        printing.as_json([acts.as_document(row) for row in rows])
        return
    names = {each.id: each.preferred_name for each in group.people}
    printing.table(
        movement,
        ("Person", "Option", "Band", "Grip", "Tension at most", "Stretch", "Mind"),
        [_cells(row, name=names[row.person]) for row in rows],
    )
    printing.say(CAUTIONS)


def _cells(row: acts.Row, *, name: str) -> tuple[str, ...]:
    load = row.load if isinstance(row.load, Load) else None
    codes = ", ".join(code.replace("_", " ") for code in row.codes)
    option = row.option.replace("_", " ")
    if load is None:
        return (name, option, row.band, "", "", "", codes)
    tension = "not known"
    if load.tension_peak_n is not None and load.tension_interval_n is not None:
        tension = rules.shown(tension_n=load.tension_peak_n, interval_n=load.tension_interval_n)
    stretch = f"{load.stretch_start_ratio:.1f} to {load.stretch_end_ratio:.1f} times"
    grip = f"{100.0 * load.grip_length_m:.0f} cm"
    return (name, option, row.band, grip, tension, stretch, codes)


@click.group()
def band() -> None:
    """The bands and their readings.

    \b
    Example:
      halewright band fit points.csv
    """


@band.command("fit")
@click.argument("points", type=FILE)
@click.option("--loop", is_flag=True, help="A loop read whole between two hooks: two strands.")
@click.option(
    "--limit",
    "limit_ratio",
    type=Finite(min=1.1, max=rules.LIMIT_RATIO),
    default=rules.LIMIT_RATIO,
    show_default=True,
    help="The greatest stretch used, times the slack length; readings beyond it are refused.",
)
@click.option("--json", "as_json", is_flag=True, help="Print the result for programmes.")
def fit(points: Path, loop: bool, limit_ratio: float, as_json: bool) -> None:
    """Fit a band's curve to the readings in POINTS, and say what looks wrong with them.

    POINTS has the columns slack_length_m, stretched_length_m, and reading_n or reading_kg.
    Forces are of one strand.

    \b
    Example:
      halewright band fit var/demo/marlow-street-hall/bands/Oak.csv --json
    """
    shape = Shape.LOOP if loop else Shape.STRIP
    try:
        read = acts.read_points(points)
        found = acts.fit(read, shape=shape, limit_ratio=limit_ratio)
    except rubber.TooFewReadings:
        flags = acts.doubts(read, shape=shape, limit_ratio=limit_ratio)
        if as_json:
            printing.as_json(acts.unfit_as_document(flags))
        for flag in flags:
            printing.say_problem(flag.words)
        sys.exit(1)
    if as_json:
        printing.as_json(acts.fit_as_document(found))
    else:
        _say(found)


def _say(found: acts.FittedBand) -> None:
    """Print a fitted band for a person."""
    curve = found.estimate.curve
    printing.say(f"Measured up to {curve.most_ratio:.2f} times the slack length.")
    if found.force_at_double_n is not None and found.interval_n is not None:
        low, high = found.interval_n
        printing.say(
            f"At twice the slack length one strand pulls {rubber.shown_n(found.force_at_double_n)}"
            f" N ({low:.0f} to {high:.0f} N)."
        )
    printing.say(f"The curve misses the readings by {found.rms_n:.1f} N on the whole.")
    if found.loss_ratio is not None:
        printing.say(f"Letting back gives {100.0 * (1.0 - found.loss_ratio):.0f} % of the work.")
    for flag in found.flags:
        printing.say_problem(flag.words)

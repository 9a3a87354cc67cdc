"""The block at a glance, in a terminal."""

import math

from halewright.cli import printing
from halewright.core.people.group import Group
from halewright.core.planning.plan import Plan
from halewright.core.session.outline import Purpose, SessionOutline
from halewright.files import movements

_PURPOSES = {Purpose.HANDLING: "handling", Purpose.STRENGTH: "", Purpose.TEST: "tests"}


def block(plan: Plan, group: Group) -> None:
    """Print one line for each session: when, how much, and its stations in order."""
    first_day = min((session.on for session in plan.sessions), default=None)
    title = f"{group.name}: {len(plan.sessions)} sessions in {plan.weeks} weeks"
    printing.table(
        title + (f" from {first_day:%d %B %Y}" if first_day else ""),
        ("Week", "Day", "Rounds × work", "Stations in order"),
        [_row(session) for session in plan.sessions],
    )
    for cost in plan.costs:
        printing.say(f"  {cost.points:>7}  {cost.words}")
    printing.say(f"  {plan.objective:>7}  in all ({_how_good(plan)})")


def _how_good(plan: Plan) -> str:
    if plan.bound is None or plan.objective <= 0:
        return "how far from the best is not proven"
    far = math.ceil(100 * (plan.objective - plan.bound) / plan.objective)
    return f"proven to be at most {far} % from the best plan of this kind"


def _row(session: SessionOutline) -> tuple[str, str, str, str]:
    catalogue = movements.shipped()
    names = " · ".join(catalogue[station.movement].name for station in session.main)
    tags = [_PURPOSES[session.purpose], "easier week" if session.easier_week else ""]
    told = ", ".join(tag for tag in tags if tag)
    return (
        f"{session.week}.{session.number}",
        f"{session.on:%a %d %b}",
        f"{session.rounds} × {session.work_ms // 1000} s" + (f"\n{told}" if told else ""),
        names or "seated mobility",
    )

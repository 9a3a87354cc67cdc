"""How good and how quick plans are: the planner beside its own model solved in one go.

Run it with `python bench/planner.py`; it prints a table and writes it into docs/benchmarks.md.
"""

import sys
import time
from dataclasses import dataclass
from importlib import resources
from pathlib import Path

from ortools.sat.python import cp_model

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))  # the random groups are the tests' own

from tests.fakes import random_groups  # noqa: E402

from halewright.core.people.group import Group  # noqa: E402
from halewright.core.planning import assembly, problem  # noqa: E402
from halewright.core.planning.problem import REST_MS, Problem  # noqa: E402
from halewright.planner import model as models  # noqa: E402
from halewright.planner import order, room, search, solving  # noqa: E402
from halewright.usecases import groups, judging, plans  # noqa: E402

PAGE = ROOT / "docs" / "benchmarks.md"
BEGINS, ENDS = "<!-- planner: begins -->", "<!-- planner: ends -->"
SEEDS = (0, 3, 9, 12, 18)
"""Random groups that have a plan."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One group's result, by both ways."""

    name: str
    objective: int
    bound: int
    seconds: float
    one_go: int | None
    one_go_seconds: float

    def text(self) -> str:
        """Return the row of the table."""
        gap = 100 * (self.objective - self.bound) / self.objective
        one_go = "no order" if self.one_go is None else f"{self.one_go}"
        return (
            f"| {self.name} | {self.objective} | {self.bound} | {gap:.1f} % | "
            f"{self.seconds:.1f} | {one_go} | {self.one_go_seconds:.1f} |"
        )


def one_go(made: Problem) -> int | None:
    """Solve the model once with all the work, then order: no mending, no polishing."""
    model = models.build(made)
    solver = cp_model.CpSolver()
    solver.parameters.random_seed = 1
    solver.parameters.num_workers = search.WORKERS_COUNT
    solver.parameters.interleave_search = True
    solver.parameters.max_deterministic_time = float(solving.DEFAULT_WORK)
    solver.parameters.relative_gap_limit = solving.GOOD_ENOUGH_RATIO
    if solver.solve(model.cp) not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None
    orders = {}
    for cell in made.cells:
        chosen = tuple(
            each for each in cell.choices if solver.boolean_value(model.chosen[cell.index, each])
        )
        found = order.best(
            [made.catalogue[each] for each in chosen],
            walks=room.walks(made, cell=cell, chosen=chosen),
            rest_ms=REST_MS,
            durations=made.durations,
        )
        if found is None:
            return None
        orders[cell.index] = tuple(chosen[index] for index in found.indices)
    return assembly.plan(made, orders=orders, seed=1, bound=None).objective


def measured(name: str, group: Group) -> Row:
    """Plan a group both ways."""
    began_s = time.monotonic()
    answer = plans.draft(group, seed=1)
    seconds = time.monotonic() - began_s
    if not isinstance(answer, solving.Solved):
        sys.exit(f"{name} has no plan: {answer.reason}")
    session = answer.plan.sessions[0]
    full = max(each.rounds for each in answer.plan.sessions)
    ready = judging.judged(group)
    made = problem.build(
        group=group,
        catalogue=ready.catalogue,
        demands=ready.demands,
        outcomes=ready.outcomes,
        matrix=ready.matrix,
        durations=ready.durations,
        shape=problem.Shape(rounds=full, stations=len(session.main)),
    )
    began_s = time.monotonic()
    other = one_go(made)
    return Row(
        name=name,
        objective=answer.plan.objective,
        bound=answer.plan.bound or 0,
        seconds=seconds,
        one_go=other,
        one_go_seconds=time.monotonic() - began_s,
    )


def main() -> None:
    """Measure, print, and write the table into the page."""
    shipped = resources.files("halewright") / "data" / "demo"
    rows = []
    with resources.as_file(shipped) as folder:
        for name in ("marlow-street-hall", "fernleigh-lounge"):
            rows.append(measured(name, groups.load(Path(folder) / name)))
            print(rows[-1].text(), flush=True)
    for seed in SEEDS:
        rows.append(measured(f"random {seed}", random_groups.group(seed)))
        print(rows[-1].text(), flush=True)
    table = "\n".join(
        [
            "| group | points | no plan has fewer than | gap | seconds | in one go | seconds |",
            "|---|---|---|---|---|---|---|",
            *(row.text() for row in rows),
        ]
    )
    page = PAGE.read_text(encoding="utf-8")
    before, _, rest = page.partition(BEGINS)
    after = rest.partition(ENDS)[2]
    PAGE.write_text(f"{before}{BEGINS}\n{table}\n{ENDS}{after}", encoding="utf-8")


if __name__ == "__main__":
    main()

"""What a plan costs, each part reckoned by hand."""

from collections.abc import Mapping
from dataclasses import replace

from tests.fakes import small_block
from tests.fakes.small_block import BARRED, PLAIN

from halewright.core.catalogue.movement import MovementId
from halewright.core.catalogue.words import Goal, OptionKind
from halewright.core.planning import score
from halewright.core.planning.plan import Plan
from halewright.core.planning.problem import Problem, Shape
from halewright.core.session.durations import Durations

ORDER = tuple(MovementId(name) for name in ("rise-1", "pull-1", "hip-1", "push-1"))
NAMES = (*ORDER, "ankle-1")


def made(**changes: object) -> Problem:
    """Return four weeks of Tuesdays in one phase, four stations, two rounds."""
    group = changes.pop("group", None) or small_block.group(weeks=4, keep_weeks=4)
    return small_block.build(
        group,  # type: ignore[arg-type]
        small_block.catalogue(*NAMES),
        shape=Shape(rounds=2, stations=4),
        **changes,  # type: ignore[arg-type]
    )


def points(problem: Problem, plan: Plan | None = None) -> Mapping[str, int]:
    plan = plan or small_block.assembled(problem, {cell.index: ORDER for cell in problem.cells})
    return {cost.name: cost.points for cost in plan.costs}


def test_changeover_by_hand() -> None:
    """Rise, pull, hip, push: nothing to begin with, then the hand-overs beyond 15 s of rest.

    Into the hands 5 s; from there to round the thighs 3 + 18 = 21 s, so 6 s; to behind the back
    10 + 12 = 22 s, so 7 s; at the end 5 s to take it off: 18 s for one round, in the handling
    week, the learning week and the easier one; the two rounds of week 3 cost 31 s (below): 85 s.
    """
    assert points(made())["changeover"] == 3 * 18 + 31


def test_second_round_closes_the_circuit() -> None:
    """Two rounds: twice 13 s between stations, 5 s off to the bandless rise is within the rest,
    5 s at the end: 31 s."""
    problem = made()
    plan = small_block.assembled(problem, {0: ORDER})
    twice = replace(plan.sessions[1], rounds=2)
    assert score.changeover_s(twice, problem.catalogue, Durations()) == 31


def test_cues_count_ways_and_people() -> None:
    """Ann's gentler push in three sessions that count: 3 × (10 + 2)."""
    told = {("ann", "push-1", OptionKind.STANDARD): BARRED}
    found = points(made(verdicts=told))
    assert found["cues"] == 36
    # She is different three times, at 4 points each.
    assert found["fairness"] == 12


def test_balance_by_hand() -> None:
    """In each session: chest 2 against upper back 2 and biceps 1; thighs 2 against gluteals 1 + 1.

    One half set to the pulls in each of four sessions, at 2 points: 8. Fronts and backs are even.
    """
    assert points(made())["balance"] == 8


def test_variety_by_hand() -> None:
    """Four stations ask for 12 movements; four are met: 8 short at 30 points."""
    assert points(made())["variety"] == 240


def test_goals_by_hand() -> None:
    """The first of two goals weighs 2, the second 1; each wants two stations in each session.

    Only the rise serves rising: one short in four sessions, 4 × 2 × 10. Nothing serves carrying:
    two short, 4 × 2 × 1 × 10.
    """
    group = small_block.group(weeks=4, keep_weeks=4, goals=("rising", "carrying"))
    problem = made(group=group)
    rise = problem.catalogue[MovementId("rise-1")]
    catalogue = {**problem.catalogue, rise.id: replace(rise, goals=(Goal.RISING,))}
    assert points(replace(problem, catalogue=catalogue))["goals"] == 80 + 80


def test_load_counts_stations_without_band_or_body_weight() -> None:
    """The seated ankle work has neither: one station in four sessions."""
    problem = made()
    order = (MovementId("ankle-1"), *ORDER[1:])
    plan = small_block.assembled(problem, {0: order})
    assert points(problem, plan)["load"] == 4 * PLAIN.weights.load_points
    assert points(problem)["load"] == 0


def test_last_resorts_count_in_every_session() -> None:
    """Ann sits the push out four times, the handling session included: 4 × 500."""
    problem = made(barred=[("ann", "push-1")], allow_last_resorts=True)
    assert points(problem)["last_resort"] == 2000


def test_objective_is_the_sum_of_the_parts() -> None:
    """And the plan says so."""
    problem = made(verdicts={("ann", "push-1", OptionKind.STANDARD): BARRED})
    plan = small_block.assembled(problem, {0: ORDER})
    assert plan.objective == sum(points(problem, plan).values()) > 0

"""The exact order of a session's stations: least changeover, no neighbours with one prime mover."""

from collections.abc import Sequence
from dataclasses import dataclass

from halewright.core.catalogue.movement import Movement
from halewright.core.planning import score
from halewright.core.session import durations as lengths
from halewright.core.session.durations import Durations

FAR = 10**9


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """The best order: indices into the movements given, and its changeover in seconds.

    `cost` is summed over all sessions that keep the order, their hand-out and end included.
    """

    indices: tuple[int, ...]
    cost: int


def best(
    movements: Sequence[Movement],
    *,
    rounds: tuple[int, ...],
    rest_ms: int,
    durations: Durations,
) -> Order | None:
    """Return the cheapest order by dynamic programming over subsets, or None where there is none.

    `rounds` are those of each session that keeps the order. Exact for any number of stations; the
    time grows as n³2ⁿ (10 stations: about half a second). Neighbours share no prime mover, nor do
    last and first when there is more than one round.
    """
    size = len(movements)
    if size == 0:
        return Order(indices=(), cost=0)
    steps = _steps(movements, rest_ms, durations)
    ends = _ends(movements, durations)
    found: Order | None = None
    for first in range(size):
        candidate = _from(first, steps, ends, rounds=rounds)
        if candidate is not None and (found is None or candidate.cost < found.cost):
            found = candidate
    return found


def _steps(movements: Sequence[Movement], rest_ms: int, durations: Durations) -> list[list[int]]:
    states = [lengths.state_of(movement.standard) for movement in movements]
    primes = [frozenset(movement.prime_movers) for movement in movements]
    return [
        [
            FAR
            if one == other or primes[one] & primes[other]
            else score.excess_s(
                before=states[one], after=states[other], rest_ms=rest_ms, durations=durations
            )
            for other in range(len(movements))
        ]
        for one in range(len(movements))
    ]


def _ends(movements: Sequence[Movement], durations: Durations) -> list[tuple[int, int]]:
    """Return, for each movement, the cost to begin with it and to end after it."""
    ends = []
    for movement in movements:
        state, rest = lengths.state_of(movement.standard), lengths.REST_STATE
        ends.append(
            (
                score.excess_s(before=rest, after=state, rest_ms=0, durations=durations),
                score.excess_s(before=state, after=rest, rest_ms=0, durations=durations),
            )
        )
    return ends


def _from(
    first: int, steps: list[list[int]], ends: list[tuple[int, int]], *, rounds: tuple[int, ...]
) -> Order | None:
    """Return the best order that begins with `first`."""
    size = len(steps)
    table: list[dict[int, tuple[int, int]]] = [{} for _ in range(1 << size)]
    table[1 << first][first] = (0, -1)
    for subset in range(1 << size):
        for last, (cost, _) in table[subset].items():
            for after in range(size):
                step = steps[last][after]
                if subset >> after & 1 or step >= FAR:
                    continue
                row = table[subset | 1 << after]
                if after not in row or cost + step < row[after][0]:
                    row[after] = (cost + step, last)
    return _closed(first, table, steps, ends, rounds=rounds)


def _closed(
    first: int,
    table: list[dict[int, tuple[int, int]]],
    steps: list[list[int]],
    ends: list[tuple[int, int]],
    *,
    rounds: tuple[int, ...],
) -> Order | None:
    """Close each full path into its session and walk the best one back."""
    full = len(table) - 1
    chosen: tuple[int, int] | None = None
    for last, (cost, _) in table[full].items():
        back = steps[last][first] if max(rounds) > 1 else 0
        if back >= FAR:
            continue
        backs = sum(rounds) - len(rounds)
        around = len(rounds) * (ends[first][0] + ends[last][1])
        total = around + sum(rounds) * cost + backs * back
        if chosen is None or total < chosen[0]:
            chosen = (total, last)
    if chosen is None:
        return None
    indices, subset, last = [], full, chosen[1]
    while last != -1:
        indices.append(last)
        before = table[subset][last][1]
        subset, last = subset & ~(1 << last), before
    return Order(indices=tuple(reversed(indices)), cost=chosen[0])

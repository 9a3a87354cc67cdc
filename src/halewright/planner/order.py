"""The exact order of a session's stations: least changeover, no neighbours with one prime mover."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from halewright.core.catalogue.movement import Catalogue, Movement, MovementId
from halewright.core.catalogue.words import Muscle, Sides
from halewright.core.planning import score
from halewright.core.session import durations as lengths
from halewright.core.session.durations import Durations, State
from halewright.core.units import SECOND_MS

FAR = 10**9
"""A changeover that may not be; sums of a few stay within 64 bits."""

Table = NDArray[np.int64]


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class Kind:
    """Everything about a station that an order asks: stations of a kind can change places."""

    state: State
    primes: tuple[Muscle, ...]
    each_side: bool


Kinds = tuple[tuple[Kind, int], ...]
"""How many stations of each kind, in order of kind."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Walk:
    """One session that keeps the order: its rounds and the time it has for changeovers.

    `room_ms` is what all changeovers may take beyond the rest, hand-out and end included.
    """

    rounds: int
    room_ms: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """The best order: indices into the movements given, and its changeover in seconds.

    `cost` is summed over all sessions that keep the order, their hand-out and end included.
    """

    indices: tuple[int, ...]
    cost: int


@dataclass(frozen=True, slots=True, kw_only=True)
class _Costs:
    """Seconds beyond rest from station to station, and whole seconds round the water and ends."""

    steps: Table
    rounds_back: Table
    begin: Table
    end: Table


def kind_of(movement: Movement) -> Kind:
    """Return what an order asks of a movement."""
    return Kind(
        state=lengths.state_of(movement.standard),
        primes=tuple(sorted(movement.prime_movers)),
        each_side=movement.standard.sides is Sides.EACH,
    )


def kinds_of(movements: Iterable[Movement]) -> Kinds:
    """Return how many of each kind there are."""
    return tuple(sorted(Counter(kind_of(movement) for movement in movements).items()))


def alike(
    catalogue: Catalogue, movements: Iterable[MovementId]
) -> Mapping[Kind, tuple[MovementId, ...]]:
    """Return movements by their kind, each in the order given."""
    found: dict[Kind, tuple[MovementId, ...]] = {}
    for movement in movements:
        kind = kind_of(catalogue[movement])
        found[kind] = (*found.get(kind, ()), movement)
    return found


def best(
    movements: Sequence[Movement], *, walks: Sequence[Walk], rest_ms: int, durations: Durations
) -> Order | None:
    """Return the cheapest order that fits every walk, or None where there is none.

    Dynamic programming over subsets (Held and Karp 1962): exact for any number of stations, the
    time grows as n³2ⁿ (10 stations: some 30 ms). Neighbours share no prime mover, nor do last and
    first where there is more than one round. Of equals the first in order of the movements.
    """
    if not movements:
        return Order(indices=(), cost=0)
    costs = _costs(movements, rest_ms=rest_ms, durations=durations)
    table = _table(costs.steps)
    totals = _totals(costs, table[-1], walks)
    first, last = np.unravel_index(int(np.argmin(totals)), totals.shape)
    if totals[first, last] >= FAR:
        return None
    indices = _walked_back(table, costs.steps, first=int(first), last=int(last))
    return Order(indices=indices, cost=int(totals[first, last]))


def _costs(movements: Sequence[Movement], *, rest_ms: int, durations: Durations) -> _Costs:
    def excess(before: State, after: State, least_ms: int) -> int:
        return score.excess_s(before=before, after=after, rest_ms=least_ms, durations=durations)

    states = [lengths.state_of(movement.standard) for movement in movements]
    primes = [frozenset(movement.prime_movers) for movement in movements]
    size = range(len(movements))
    steps, back = np.full((2, len(movements), len(movements)), FAR, dtype=np.int64)
    for one in size:
        for other in size:
            if one != other and primes[one] & primes[other]:
                continue
            before, after = states[one], states[other]
            steps[one, other] = excess(before, after, rest_ms)
            back[one, other] = excess(before, after, 0)
    begin = np.array([excess(lengths.REST_STATE, state, 0) for state in states], dtype=np.int64)
    end = np.array([excess(state, lengths.REST_STATE, 0) for state in states], dtype=np.int64)
    return _Costs(steps=steps, rounds_back=back, begin=begin, end=end)


def _table(steps: Table) -> Table:
    """Return the least cost of a path, by the subset it visits, its first and its last."""
    size = len(steps)
    table = np.full((1 << size, size, size), FAR, dtype=np.int64)
    for first in range(size):
        table[1 << first, first, first] = 0
    places = np.arange(size)
    for subset in range(1, (1 << size) - 1):
        after = places[(subset >> places) & 1 == 0]
        reached = (table[subset][:, :, None] + steps[None, :, after]).min(axis=1)
        table[subset | (1 << after), :, after] = np.minimum(reached, FAR).T
    return table


def _totals(costs: _Costs, paths: Table, walks: Sequence[Walk]) -> Table:
    """Return the whole cost by first and last station; `FAR` where a walk has no room."""
    total = np.zeros_like(paths)
    for walk in walks:
        ends = costs.begin[:, None] + costs.end[None, :]
        again = walk.rounds - 1
        total = total + ends + walk.rounds * paths + again * costs.steps.T
        needed_s = ends + walk.rounds * paths + again * costs.rounds_back.T
        total = np.where(needed_s * SECOND_MS > walk.room_ms, FAR, total)
    return np.where(paths >= FAR, FAR, np.minimum(total, FAR))


def _walked_back(table: Table, steps: Table, *, first: int, last: int) -> tuple[int, ...]:
    subset, here = len(table) - 1, last
    indices = [here]
    while subset != 1 << first:
        before = subset & ~(1 << here)
        here = int(np.argmin(table[before, first] + steps[:, here]))
        subset = before
        indices.append(here)
    return tuple(reversed(indices))

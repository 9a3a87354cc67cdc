"""The exact order of stations."""

import itertools
import random

import pytest
from tests.fakes import plan_world

from halewright.core.catalogue.movement import Movement
from halewright.core.catalogue.words import Muscle, OptionKind, Position, SetUp
from halewright.core.planning import score
from halewright.core.session import durations as lengths
from halewright.core.session.durations import Durations
from halewright.planner import order
from halewright.planner.order import Walk

REST_MS = 15_000
PLENTY_MS = 10_000_000
DURATIONS = Durations()


def station(name: str, set_up: SetUp, *primes: Muscle, standing: bool = False) -> Movement:
    position = Position.SUPPORTED_STANDING if standing else Position.SEATED
    made = plan_world.main_movement("ankle-1")
    way = plan_world.way(OptionKind.STANDARD, set_up=set_up, position=position)
    return Movement(
        **{
            **{field: getattr(made, field) for field in made.__slots__},
            "id": name,
            "name": name,
            "prime_movers": primes,
            "options": (way,),
        }
    )


def excess_s(before: lengths.State, after: lengths.State, rest_ms: int) -> int:
    return score.excess_s(before=before, after=after, rest_ms=rest_ms, durations=DURATIONS)


def walked_s(circuit: tuple[Movement, ...], rounds: int) -> int:
    """Walk a session station by station and count its changeover, as the score defines it."""
    states = [lengths.state_of(each.standard) for each in circuit] * rounds
    between = sum(excess_s(one, other, REST_MS) for one, other in itertools.pairwise(states))
    ends = excess_s(lengths.REST_STATE, states[0], 0) + excess_s(states[-1], lengths.REST_STATE, 0)
    return between + ends


def may_stand(circuit: tuple[Movement, ...], rounds: int) -> bool:
    around = [*circuit, circuit[0]] if rounds > 1 and len(circuit) > 2 else list(circuit)
    pairs = itertools.pairwise(around)
    return not any(set(one.prime_movers) & set(other.prime_movers) for one, other in pairs)


def test_hand_example_groups_the_band() -> None:
    """Of three stations the two underfoot stand together, and the bandless one begins.

    Seated without a band costs nothing to begin with; 14 s into the band is under the rest of
    15 s, so free; within the band nothing; 6 s out of it at the end. Six seconds in all; ending
    with the bandless station instead would cost 14 s at the beginning.
    """
    row = station("row", SetUp.UNDER_FEET, Muscle.UPPER_BACK)
    lift = station("lift", SetUp.NONE, Muscle.HIP_FLEXORS)
    press = station("press", SetUp.UNDER_FEET, Muscle.QUADRICEPS)
    found = order.best(
        [row, lift, press],
        walks=[Walk(rounds=1, room_ms=PLENTY_MS)],
        rest_ms=REST_MS,
        durations=DURATIONS,
    )
    assert found is not None
    assert found.cost == 6
    assert found.indices in {(1, 0, 2), (1, 2, 0)}


@pytest.mark.parametrize("seed", range(25))
def test_equals_trying_every_order(seed: int) -> None:
    """For up to seven random stations the cost is the least of all orders that may stand."""
    dice = random.Random(seed)
    muscles = list(Muscle)[: dice.randint(3, 8)]
    circuit = [
        station(
            f"m{number}",
            dice.choice(list(SetUp)),
            *dice.sample(muscles, dice.randint(1, 2)),
            standing=dice.random() < 0.2,
        )
        for number in range(dice.randint(2, 7 if seed % 5 == 0 else 6))
    ]
    rounds = [dice.randint(1, 3) for _ in range(dice.randint(1, 3))]
    found = order.best(
        circuit,
        walks=[Walk(rounds=each, room_ms=PLENTY_MS) for each in rounds],
        rest_ms=REST_MS,
        durations=DURATIONS,
    )
    costs = [
        sum(walked_s(each, number) for number in rounds)
        for each in itertools.permutations(circuit)
        if may_stand(each, max(rounds))
    ]
    assert (None if found is None else found.cost) == min(costs, default=None)
    if found is not None:
        walked = tuple(circuit[index] for index in found.indices)
        assert may_stand(walked, max(rounds))
        assert sum(walked_s(walked, number) for number in rounds) == found.cost


def test_two_of_one_prime_mover_alone_cannot_stand() -> None:
    """Two stations that both work the chest are neighbours in any order."""
    both = [station(name, SetUp.NONE, Muscle.CHEST) for name in ("one", "two")]
    walks = [Walk(rounds=1, room_ms=PLENTY_MS)]
    assert order.best(both, walks=walks, rest_ms=REST_MS, durations=DURATIONS) is None


def test_last_and_first_are_neighbours_only_when_going_round() -> None:
    """Chest, thighs, chest may stand for one round and not for two."""
    three = [
        station("push", SetUp.NONE, Muscle.CHEST),
        station("press", SetUp.NONE, Muscle.CHEST),
        station("rise", SetUp.NONE, Muscle.QUADRICEPS),
    ]
    once = [Walk(rounds=1, room_ms=PLENTY_MS)]
    twice = [Walk(rounds=2, room_ms=PLENTY_MS)]
    found = order.best(three, walks=once, rest_ms=REST_MS, durations=DURATIONS)
    assert found is not None
    assert found.indices[1] == 2
    assert order.best(three, walks=twice, rest_ms=REST_MS, durations=DURATIONS) is None


def test_room_is_kept() -> None:
    """Where the cheapest order does not fit none is given; with a second more it is.

    One station with a loop takes 18 s to put on and 10 s to take off.
    """
    loop = [station("out", SetUp.ROUND_THIGHS, Muscle.HIP_ABDUCTORS)]
    tight = [Walk(rounds=1, room_ms=27_999)]
    enough = [Walk(rounds=1, room_ms=28_000)]
    assert order.best(loop, walks=tight, rest_ms=REST_MS, durations=DURATIONS) is None
    assert order.best(loop, walks=enough, rest_ms=REST_MS, durations=DURATIONS) is not None


def test_dearer_order_is_taken_where_only_it_fits() -> None:
    """The water between rounds counts in time and not in points, so time may decide.

    A loop and a standing station, two rounds: whichever begins, the circuit closes through the
    water break with the whole changeover. The order given is the cheapest of those that fit.
    """
    circuit = [
        station("out", SetUp.ROUND_THIGHS, Muscle.HIP_ABDUCTORS),
        station("heel", SetUp.NONE, Muscle.CALVES, standing=True),
        station("row", SetUp.IN_HANDS, Muscle.UPPER_BACK),
        station("lift", SetUp.NONE, Muscle.HIP_FLEXORS),
    ]

    def needed_ms(walked: tuple[Movement, ...]) -> int:
        states = [lengths.state_of(each.standard) for each in walked]
        between = sum(excess_s(one, other, REST_MS) for one, other in itertools.pairwise(states))
        back = excess_s(states[-1], states[0], 0)
        ends = excess_s(lengths.REST_STATE, states[0], 0)
        ends += excess_s(states[-1], lengths.REST_STATE, 0)
        return 1000 * (2 * between + back + ends)

    orders = list(itertools.permutations(circuit))
    for room_ms in sorted({needed_ms(each) for each in orders}):
        found = order.best(
            circuit,
            walks=[Walk(rounds=2, room_ms=room_ms)],
            rest_ms=REST_MS,
            durations=DURATIONS,
        )
        fitting = [walked_s(each, 2) for each in orders if needed_ms(each) <= room_ms]
        assert found is not None
        assert found.cost == min(fitting)


def test_no_station_costs_nothing() -> None:
    """An empty circuit has an empty order."""
    found = order.best([], walks=[], rest_ms=REST_MS, durations=DURATIONS)
    assert found == order.Order(indices=(), cost=0)


def test_kinds_count_what_an_order_asks() -> None:
    """Two pulls in the hands are of one kind, whatever their names; the push is another."""
    catalogue = [plan_world.main_movement(name) for name in ("pull-1", "push-1", "pull-2")]
    assert [count for _, count in order.kinds_of(catalogue)] == [1, 2]

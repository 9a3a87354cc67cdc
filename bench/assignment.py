"""How long it takes to share out 40 bands among 30 people at 12 stations.

Run it with `python bench/assignment.py`. It prints the seconds, and how many times longer the same
costs take when they are worked out one band, person and station at a time in the same run; that
ratio does not depend on how busy the machine is.
"""

import time

import numpy as np

from halewright.core.mechanics import assignment
from halewright.core.mechanics.assignment import Need, Offer, Wanted, Way
from halewright.core.mechanics.rubber import Curve
from halewright.core.people.kit import BandLabel, Material, Shape
from halewright.core.people.person import PersonId

PEOPLE = 30
STATIONS = 12
BANDS = 40
LIMIT = 3.0


def main() -> None:
    """Print the seconds and the ratio."""
    chance = np.random.default_rng(3)  # noqa: TID251  a benchmark has its own chance
    needs = tuple(_need(chance, k) for k in range(PEOPLE))
    offers = tuple(_offer(chance, k) for k in range(BANDS))
    whole_s = min(_seconds(needs, offers) for _ in range(3))
    began = time.perf_counter()
    for need in needs:
        for wanted in need.wanted:
            for offer in offers:
                assignment.best_grip(wanted, offer=offer, limit_ratio=LIMIT)
    single_s = time.perf_counter() - began
    given = assignment.assign(needs, offers, limit_ratio=LIMIT)
    print(f"{PEOPLE} people, {STATIONS} stations, {BANDS} bands: {whole_s:.3f} s")
    print(f"{sum(each.label is not None for each in given)} people have a band")
    print(f"one at a time, without sharing out: {single_s:.2f} s, {single_s / whole_s:.0f} times")


def _seconds(needs: tuple[Need, ...], offers: tuple[Offer, ...]) -> float:
    began = time.perf_counter()
    assignment.assign(needs, offers, limit_ratio=LIMIT)
    return time.perf_counter() - began


def _need(chance: np.random.Generator, number: int) -> Need:  # noqa: TID251  as above
    wanted = []
    for station in range(STATIONS):
        longest_m = float(chance.uniform(0.5, 1.8))
        ways = tuple(
            Way(strands=strands, longest_m=longest_m, start_m=0.7 * longest_m) for strands in (1, 2)
        )
        target_n = float(chance.choice([10.0, 15.0, 20.0, 30.0, 40.0]))
        wanted.append(Wanted(key=str(station), ways=ways, target_n=target_n))
    return Need(
        person=PersonId(str(number)),
        shape=Shape.STRIP,
        latex_free=bool(chance.random() < 0.3),
        wanted=tuple(wanted),
    )


def _offer(chance: np.random.Generator, number: int) -> Offer:  # noqa: TID251  as above
    return Offer(
        label=BandLabel(str(number)),
        curve=Curve(
            linear_n=float(chance.uniform(3.0, 25.0)),
            softening_n=float(chance.uniform(0.0, 8.0)),
            stiffening_n=0.1,
            most_ratio=2.5,
        ),
        shape=Shape.STRIP,
        material=Material.LATEX if chance.random() < 0.5 else Material.LATEX_FREE,
        length_m=float(chance.uniform(1.2, 2.5)),
        count=1,
    )


if __name__ == "__main__":
    main()

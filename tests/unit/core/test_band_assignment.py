import itertools
import math
import random

import numpy as np
import pytest

from halewright.core.mechanics import assignment, rubber
from halewright.core.mechanics.assignment import Need, Offer, Wanted, Way
from halewright.core.mechanics.rubber import Curve
from halewright.core.people.kit import BandLabel, Material, Shape
from halewright.core.people.person import PersonId

LIMIT = 3.0
NEO = Curve(linear_n=12.0, softening_n=0.0, stiffening_n=0.0, most_ratio=2.5)
"""F(2) = 12 · (2 - 1/4) = 21 N, F(2.5) = 12 · (2.5 - 0.16) = 28.08 N."""


def _offer(
    label: str,
    *,
    linear_n: float = 12.0,
    length_m: float | None = 2.0,
    material: Material = Material.LATEX,
    count: int = 1,
    shape: Shape = Shape.STRIP,
    retired: bool = False,
) -> Offer:
    return Offer(
        label=BandLabel(label),
        curve=Curve(linear_n=linear_n, softening_n=0.0, stiffening_n=0.0, most_ratio=2.5),
        shape=shape,
        material=material,
        length_m=length_m,
        count=count,
        retired=retired,
    )


def _need(
    name: str,
    *,
    target_n: float = 21.0,
    longest_m: float = 1.0,
    latex_free: bool = False,
    most_n: float | None = None,
    shape: Shape = Shape.STRIP,
    doubled: bool = False,
) -> Need:
    single = Way(
        strands=1,
        longest_m=longest_m,
        start_m=0.6 * longest_m,
        hands_count=0,
        closed=shape is Shape.LOOP,
    )
    twice = Way(strands=2, longest_m=longest_m, start_m=0.6 * longest_m, hands_count=0)
    return Need(
        person=PersonId(name),
        shape=shape,
        latex_free=latex_free,
        wanted=(
            Wanted(
                key="row",
                ways=(single, twice) if doubled else (single,),
                target_n=target_n,
                most_n=most_n,
            ),
        ),
    )


def _one(need: Need, *offers: Offer) -> assignment.Given:
    (given,) = assignment.assign([need], offers, limit_ratio=LIMIT)
    return given


def test_the_grip_is_the_length_at_which_the_target_is_met() -> None:
    """21 N is reached at twice the slack length, so 1 m of reach wants half a metre of band."""
    given = _one(_need("ann"), _offer("oak"))

    grip = given.stations[0].grip
    assert given.label == "oak"
    assert grip is not None
    assert grip.grip_length_m == pytest.approx(0.5)
    assert grip.peak_n == pytest.approx(21.0)
    assert (grip.stretch_start_ratio, grip.stretch_end_ratio) == pytest.approx((1.2, 2.0))
    assert grip.does_it


def test_nobody_for_whom_latex_is_barred_gets_latex_or_an_unknown_band() -> None:
    """Not known counts as latex, however well it would serve."""
    need = _need("ann", latex_free=True)

    given = _one(
        need,
        _offer("oak"),
        _offer("ash", material=Material.NOT_KNOWN),
        _offer("heath", linear_n=9.0, material=Material.LATEX_FREE),
    )

    assert given.label == "heath"


def test_a_retired_band_is_never_given() -> None:
    """Not even where there is no other, and not as the nearest."""
    given = _one(_need("ann"), _offer("oak", retired=True))

    assert given.label is None
    assert given.stations[0].nearest is None


def test_no_band_is_stretched_beyond_limit_or_measuring() -> None:
    """A target beyond 2.5 times slack is answered with the most that was measured: 28.1 N."""
    given = _one(_need("ann", target_n=60.0), _offer("oak"))

    grip = given.stations[0].grip
    assert grip is not None
    assert grip.stretch_end_ratio == pytest.approx(2.5)
    assert grip.peak_n == pytest.approx(28.08)
    assert not grip.does_it
    narrow = assignment.assign([_need("ann")], [_offer("oak")], limit_ratio=1.5)
    assert narrow[0].stations[0].grip.stretch_end_ratio == pytest.approx(1.5)  # type: ignore[union-attr]


def test_a_band_too_short_to_reach_serves_nobody() -> None:
    """0.3 m stretched 2.5 times reaches 0.75 m, not 1 m."""
    given = _one(_need("ann"), _offer("oak", length_m=0.3))

    assert given.label is None
    assert given.stations[0].nearest is None


def test_a_band_that_pulls_more_than_a_person_may_is_not_given() -> None:
    """0.45 m must stretch to 1 m: 2.22 times, 24.2 N; that is more than 22 N."""
    short = _offer("oak", length_m=0.45)

    assert _one(_need("ann", target_n=20.0), short).label == "oak"
    assert _one(_need("ann", target_n=20.0, most_n=22.0), short).label is None


def test_a_band_is_doubled_where_that_reaches_the_target() -> None:
    """Two strands of 21 N make 42 N with half a metre each; one strand would stop at 28 N."""
    given = _one(_need("ann", target_n=42.0, doubled=True), _offer("oak"))

    grip = given.stations[0].grip
    assert grip is not None
    assert (grip.strands, grip.does_it) == (2, True)
    assert grip.cost_points == pytest.approx(assignment.DOUBLED_POINTS)
    assert grip.grip_length_m == pytest.approx(0.5)
    assert _one(_need("bob", doubled=True), _offer("oak")).stations[0].grip.strands == 1  # type: ignore[union-attr]


def test_doubling_needs_twice_the_band() -> None:
    """0.9 m of band cannot lie twice over half a metre."""
    given = _one(_need("ann", target_n=42.0, doubled=True), _offer("oak", length_m=0.9))

    grip = given.stations[0].grip
    assert grip is not None
    # Doubled there is 0.45 m a strand: 2.22 times, 2 · 12 · (2.222 - 0.2025) = 48.5 N.
    assert grip.grip_length_m == pytest.approx(0.45)
    assert grip.peak_n == pytest.approx(48.47, abs=0.01)


def test_a_softer_band_is_better_where_the_other_hangs_slack() -> None:
    """Both reach 21 N, but the strong one at 1.4 times only, which leaves it slack at the start."""
    bag = [_offer("strong", linear_n=24.0), _offer("soft", linear_n=12.0)]

    given = _one(_need("ann"), *bag)

    # 24 · (λ - λ⁻²) = 21 at λ = 1.391; the start is 0.6 · 1.391 = 0.835, so 0.165 · 0.5 = 0.083.
    costs = assignment.cost_points([_need("ann")], bag, limit_ratio=LIMIT)
    assert costs[0] == pytest.approx([0.083, 0.0], abs=0.001)
    assert given.label == "soft"


def test_a_loop_is_as_long_as_it_is() -> None:
    """A loop of half a metre round 1 m is stretched twice: 21 N, whatever is wanted."""
    need = _need("ann", target_n=15.0, shape=Shape.LOOP)

    given = _one(need, _offer("ring", length_m=0.5, shape=Shape.LOOP), _offer("strip"))

    grip = given.stations[0].grip
    assert given.label == "ring"
    assert grip is not None
    assert grip.grip_length_m == pytest.approx(0.5)
    assert grip.peak_n == pytest.approx(21.0)
    assert not grip.does_it
    assert _one(need, _offer("big", length_m=1.2, shape=Shape.LOOP)).label is None


def test_a_station_that_no_band_does_names_the_nearest() -> None:
    """The person's own band falls short; the best of the bag is named with what it would give."""
    needs = [_need("ann", target_n=60.0), _need("bob", target_n=60.0)]
    offers = [_offer("oak"), _offer("flint", linear_n=20.0)]

    told = {each.person: each for each in assignment.assign(needs, offers, limit_ratio=LIMIT)}

    other = next(each for each in told.values() if each.label == "oak")
    nearest = other.stations[0].nearest
    assert nearest is not None
    assert nearest.label == "flint"
    assert nearest.peak_n == pytest.approx(20.0 * 2.34)
    assert other.better == "flint"


def test_stock_is_not_given_twice() -> None:
    """Two pieces serve two of three people; the third goes without, and is told."""
    needs = [_need(name) for name in ("ann", "bob", "cat")]

    given = assignment.assign(needs, [_offer("oak", count=2)], limit_ratio=LIMIT)

    assert sorted(each.label or "" for each in given) == ["", "oak", "oak"]
    assert next(each for each in given if each.label is None).better == "oak"


def test_without_needs_or_bands_there_is_nothing_to_give() -> None:
    """An empty class and an empty bag are answers, not errors."""
    assert assignment.assign([], [_offer("oak")], limit_ratio=LIMIT) == ()
    assert _one(_need("ann")).label is None


def _brute(needs: list[Need], offers: list[Offer]) -> float:
    """Return the least total over every way of handing pieces out, going without included."""
    costs = assignment.cost_points(needs, offers, limit_ratio=LIMIT)
    without = [assignment.UNSERVED_POINTS * len(need.wanted) for need in needs]
    pieces = [k for k, offer in enumerate(offers) for _ in range(offer.count)]
    pieces += [-1] * len(needs)
    return min(
        sum(
            without[row] if piece < 0 else float(costs[row, piece])
            for row, piece in enumerate(handed)
        )
        for handed in set(itertools.permutations(pieces, len(needs)))
    )


@pytest.mark.parametrize("seed", range(25))
def test_it_is_as_good_as_trying_everything(seed: int) -> None:
    """On small classes no way of handing out bands costs less than the one proposed."""
    chance = random.Random(seed)
    needs = [
        _need(
            f"p{k}",
            target_n=chance.choice([10.0, 20.0, 35.0, 50.0]),
            longest_m=chance.uniform(0.6, 1.6),
            latex_free=chance.random() < 0.3,
            most_n=chance.choice([None, 25.0]),
            doubled=chance.random() < 0.5,
        )
        for k in range(4)
    ]
    offers = [
        _offer(
            f"b{k}",
            linear_n=chance.uniform(5.0, 30.0),
            length_m=chance.uniform(0.4, 2.0),
            material=chance.choice(list(Material)),
            count=chance.randint(0, 2),
            retired=chance.random() < 0.2,
        )
        for k in range(3)
    ]

    given = assignment.assign(needs, offers, limit_ratio=LIMIT)

    costs = assignment.cost_points(needs, offers, limit_ratio=LIMIT)
    column = {offer.label: k for k, offer in enumerate(offers)}
    total = sum(
        assignment.UNSERVED_POINTS if each.label is None else float(costs[row, column[each.label]])
        for row, each in enumerate(given)
    )
    assert math.isfinite(total)
    assert total == pytest.approx(_brute(needs, offers))
    for offer in offers:
        assert sum(each.label == offer.label for each in given) <= offer.count


def test_every_grip_gives_the_peak_that_is_told() -> None:
    """Reach over grip, through the law, is the peak: checked with the law itself."""
    grip = _one(_need("ann", target_n=17.0), _offer("oak")).stations[0].grip

    assert grip is not None
    told = rubber.tension_n(NEO, stretch_ratios=np.array([1.0 / grip.grip_length_m]))[0]
    assert told == pytest.approx(grip.peak_n) == pytest.approx(17.0)

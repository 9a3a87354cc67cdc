"""Which of the bands in the bag serves whom, over a class at once.

A person has one band of each shape for the whole session and grips it anew at each station, so a
band serves a station at the grip whose peak comes nearest to the target: within the stretch limit
and what was measured, within the band's own length, doubled where that is better. What a band
costs a person is the sum over the stations; the sum over the class is made as small as it can be.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.optimize import linear_sum_assignment

from halewright.core.mechanics import kit_use, rubber
from halewright.core.mechanics.angles import Array
from halewright.core.mechanics.rubber import Curve
from halewright.core.mechanics.spans import Laid
from halewright.core.people.kit import BandLabel, Material, Shape
from halewright.core.people.person import PersonId

SLACK_POINTS = 0.5
"""A band that hangs wholly slack at the start costs as much as half the target missed: our rule."""
DOUBLED_POINTS = 0.1
"""Folding a band costs time, as much as a tenth of the target missed: our rule."""
MOST_MISSED_POINTS = 3.0
UNSERVED_POINTS = 10.0
"""A station that a band cannot serve costs more than any that it serves badly: our rule."""
NEAR_SHARE = 0.15
"""A peak within this share of the target, or within 5 N, is what was asked for: our rule, after a
spread of one in ten (physics notes §5)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """How a band lies for one station, for one body: `longest_m` is of the run stretched most.

    `start_m` is that run's length at the start; `fixed_m` lies flat or under shoes in each strand.
    """

    strands: int
    longest_m: float
    start_m: float
    runs_count: int = 1
    fixed_m: float = 0.0
    hands_count: int = 2
    closed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """One station: the ways the band may lie, the peak wanted, and the most that is allowed.

    `key` is the caller's own name for it; `most_n` None means no limit of the person's own.
    """

    key: str
    ways: tuple[Way, ...]
    target_n: float
    most_n: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """What one person does with one band of this shape."""

    person: PersonId
    shape: Shape
    latex_free: bool
    wanted: tuple[Wanted, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """A kind of band in the bag; `length_m` None means that nobody measured how long it is."""

    label: BandLabel
    curve: Curve
    shape: Shape
    material: Material
    length_m: float | None
    count: int
    retired: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Grip:
    """How a band serves a station: `does_it` says whether the peak is what was asked for."""

    label: BandLabel
    strands: int
    grip_length_m: float
    peak_n: float
    stretch_start_ratio: float
    stretch_end_ratio: float
    cost_points: float
    does_it: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Served:
    """One station with the person's own band, None where that cannot serve it.

    `nearest` is the best grip with any band that the person may use, set where their own does not
    do it; None where no band comes into question.
    """

    key: str
    grip: Grip | None
    nearest: Grip | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Given:
    """One person's band of one shape (None where none serves) and their stations.

    `better` is a band that would serve better, of which all are taken.
    """

    person: PersonId
    shape: Shape
    label: BandLabel | None
    stations: tuple[Served, ...]
    better: BandLabel | None = None


def way(laid: Laid, *, strands: int | None = None) -> Way:
    """Return how a laid band counts here; `strands` 2 tells the same way with the band doubled."""
    run = max(laid.runs, key=lambda each: float(each.length_m.max()))
    return Way(
        strands=strands or laid.strands,
        longest_m=float(run.length_m.max()),
        start_m=float(run.length_m[0]),
        runs_count=len(laid.runs),
        fixed_m=laid.flat_m + laid.pinned_m,
        hands_count=laid.hands,
        closed=laid.closed,
    )


def assign(
    needs: Sequence[Need], offers: Sequence[Offer], *, limit_ratio: float
) -> tuple[Given, ...]:
    """Return everybody's band, in the order of the needs, at the least cost over the class.

    Exact: each kind of band stands for `count` pieces and each person gets one piece or none.
    Strips and loops do not compete, so they are shared out by themselves.
    """
    costs = cost_points(needs, offers, limit_ratio=limit_ratio)
    chosen: list[int | None] = [None] * len(needs)
    for shape in Shape:
        rows = [k for k, need in enumerate(needs) if need.shape is shape]
        if rows:
            found = _solve(costs[rows], needs=[needs[k] for k in rows], offers=offers)
            for k, column in zip(rows, found, strict=True):
                chosen[k] = column
    return tuple(
        _given(need, costs=costs[k], column=chosen[k], offers=offers, limit_ratio=limit_ratio)
        for k, need in enumerate(needs)
    )


def cost_points(needs: Sequence[Need], offers: Sequence[Offer], *, limit_ratio: float) -> Array:
    """Return what each kind of band (columns) costs each person (rows).

    Infinite where a band may not be used by this person or serves none of their stations.
    """
    costs = np.full((len(needs), len(offers)), np.inf)
    flat = _flatten(needs)
    if flat is None:
        return costs
    for column, offer in enumerate(offers):
        price = _priced(flat, offer=offer, limit_ratio=limit_ratio).cost
        best = np.minimum.reduceat(price, flat.station_starts)
        sums = np.add.reduceat(np.minimum(best, UNSERVED_POINTS), flat.need_starts)
        serves = np.logical_or.reduceat(np.isfinite(best), flat.need_starts)
        for place, row in enumerate(flat.need_rows):
            if serves[place] and _may_use(needs[row], offer):
                costs[row, column] = sums[place]
    return costs


def _may_use(need: Need, offer: Offer) -> bool:
    free = offer.material is Material.LATEX_FREE
    return (
        offer.shape is need.shape
        and not offer.retired
        and offer.count > 0
        and (free or not need.latex_free)
    )


def _solve(costs: Array, *, needs: Sequence[Need], offers: Sequence[Offer]) -> list[int | None]:
    """Return the column of each row: pieces side by side, and a place with no band for each."""
    owners = [
        column
        for column, offer in enumerate(offers)
        for _ in range(min(offer.count, len(needs)) if np.isfinite(costs[:, column]).any() else 0)
    ]
    without = np.array([UNSERVED_POINTS * max(len(need.wanted), 1) for need in needs])
    barred = (1.0 + without.sum()) * 2.0
    pieces = np.where(np.isfinite(costs), costs, barred)[:, owners]
    bare = np.full((len(needs), len(needs)), barred)
    np.fill_diagonal(bare, without)
    rows, columns = linear_sum_assignment(np.concatenate([pieces, bare], axis=1))
    found: list[int | None] = [None] * len(needs)
    for row, column in zip(rows.tolist(), columns.tolist(), strict=True):
        if column < len(owners):
            found[row] = owners[column]
    return found


def _given(
    need: Need,
    *,
    costs: Array,
    column: int | None,
    offers: Sequence[Offer],
    limit_ratio: float,
) -> Given:
    may = [offer for offer in offers if _may_use(need, offer)]
    own = None if column is None else offers[column]
    best = int(np.argmin(costs)) if costs.size and np.isfinite(costs.min()) else None
    taken = best is not None and (column is None or costs[best] < costs[column] - 1e-9)
    return Given(
        person=need.person,
        shape=need.shape,
        label=None if own is None else own.label,
        stations=tuple(
            _served(wanted, own=own, offers=may, limit_ratio=limit_ratio) for wanted in need.wanted
        ),
        better=offers[best].label if taken and best is not None else None,
    )


def _served(
    wanted: Wanted, *, own: Offer | None, offers: Sequence[Offer], limit_ratio: float
) -> Served:
    grip = None if own is None else best_grip(wanted, offer=own, limit_ratio=limit_ratio)
    if grip is not None and grip.does_it:
        return Served(key=wanted.key, grip=grip)
    others = [best_grip(wanted, offer=offer, limit_ratio=limit_ratio) for offer in offers]
    found = [each for each in others if each is not None]
    nearest = min(found, key=lambda each: each.cost_points, default=None)
    return Served(key=wanted.key, grip=grip, nearest=nearest)


def best_grip(wanted: Wanted, *, offer: Offer, limit_ratio: float) -> Grip | None:
    """Return how a band serves one station best; None where it cannot within its limits."""
    flat = _flatten([Need(person=PersonId(""), shape=offer.shape, latex_free=False,
                          wanted=(wanted,))])  # fmt: skip
    if flat is None:
        return None
    priced = _priced(flat, offer=offer, limit_ratio=limit_ratio)
    at = int(np.argmin(priced.cost))
    if not np.isfinite(priced.cost[at]):
        return None
    peak_n = float(priced.peak_n[at])
    return Grip(
        label=offer.label,
        strands=int(flat.strands[at]),
        grip_length_m=float(priced.slack_m[at] * flat.runs_count[at] + flat.fixed_m[at]),
        peak_n=peak_n,
        stretch_start_ratio=float(flat.start_m[at] / priced.slack_m[at]),
        stretch_end_ratio=float(flat.longest_m[at] / priced.slack_m[at]),
        cost_points=float(priced.cost[at]),
        does_it=near(peak_n=peak_n, target_n=wanted.target_n),
    )


def near(*, peak_n: float, target_n: float) -> bool:
    """Return whether a peak can hardly be told from the one that was wanted."""
    return abs(peak_n - target_n) <= max(rubber.STEP_N, NEAR_SHARE * target_n)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Flat:
    """Every way of every station of every need side by side, and where each begins."""

    strands: Array
    longest_m: Array
    start_m: Array
    runs_count: Array
    fixed_m: Array
    hands_count: Array
    closed: Array
    target_n: Array
    most_n: Array
    station_starts: tuple[int, ...]
    need_starts: tuple[int, ...]
    need_rows: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Priced:
    cost: Array
    slack_m: Array
    peak_n: Array


def _flatten(needs: Sequence[Need]) -> _Flat | None:
    """Return all ways side by side; None where there is nothing to do with a band."""
    ways: list[Way] = []
    limits: list[tuple[float, float]] = []
    station_starts: list[int] = []
    need_starts: list[int] = []
    need_rows: list[int] = []
    for row, need in enumerate(needs):
        stations = [wanted for wanted in need.wanted if wanted.ways]
        if not stations:
            continue
        need_rows.append(row)
        need_starts.append(len(station_starts))
        for wanted in stations:
            station_starts.append(len(ways))
            ways += wanted.ways
            most_n = np.inf if wanted.most_n is None else wanted.most_n
            limits += [(wanted.target_n, most_n)] * len(wanted.ways)
    if not ways:
        return None
    return _Flat(
        strands=np.array([float(each.strands) for each in ways]),
        longest_m=np.array([each.longest_m for each in ways]),
        start_m=np.array([each.start_m for each in ways]),
        runs_count=np.array([float(each.runs_count) for each in ways]),
        fixed_m=np.array([each.fixed_m for each in ways]),
        hands_count=np.array([float(each.hands_count) for each in ways]),
        closed=np.array([float(each.closed) for each in ways]),
        target_n=np.array([target_n for target_n, _ in limits]),
        most_n=np.array([most_n for _, most_n in limits]),
        station_starts=tuple(station_starts),
        need_starts=tuple(need_starts),
        need_rows=tuple(need_rows),
    )


def _priced(flat: _Flat, *, offer: Offer, limit_ratio: float) -> _Priced:
    """Return the best grip of one kind of band for every way, and what it costs."""
    reach = min(offer.curve.most_ratio, limit_ratio)
    aimed = rubber.stretches(offer.curve, tensions_n=flat.target_n / flat.strands)
    aimed = np.where(np.isnan(aimed), reach, np.minimum(aimed, reach))
    length_m = np.inf if offer.length_m is None else offer.length_m
    wound_m = flat.hands_count * kit_use.HAND_WRAP_M
    room_m = ((length_m - wound_m) / flat.strands - flat.fixed_m) / flat.runs_count
    slack_m = np.minimum(flat.longest_m / np.maximum(aimed, 1.0), room_m)
    # A loop is as long as it is: nobody grips it shorter.
    slack_m = np.where(flat.closed > 0.0, length_m, slack_m)
    usable = (slack_m > 0.0) & np.isfinite(slack_m)
    safe_m = np.where(usable, slack_m, 1.0)
    stretch = flat.longest_m / safe_m
    usable &= (stretch <= reach * (1.0 + 1e-9)) & (stretch > 1.0)
    told = rubber.told_n(offer.curve, stretch_ratios=np.minimum(stretch, offer.curve.most_ratio))
    peak_n = flat.strands * told
    usable &= peak_n <= flat.most_n * (1.0 + 1e-9)
    missed = np.abs(peak_n - flat.target_n) / flat.target_n
    slack_share = np.clip(1.0 - flat.start_m / safe_m, 0.0, 1.0)
    # A station whose own way is one strand is dearer with two; others come folded anyway.
    folded = np.where(flat.strands > _own_strands(flat), DOUBLED_POINTS, 0.0)
    cost = np.minimum(missed, MOST_MISSED_POINTS) + SLACK_POINTS * slack_share + folded
    return _Priced(cost=np.where(usable, cost, np.inf), slack_m=safe_m, peak_n=peak_n)


def _own_strands(flat: _Flat) -> Array:
    """Return for every way the strands of its station's first way, which is the authored one."""
    starts = list(flat.station_starts)
    counts = np.diff([*starts, flat.strands.size])
    return np.repeat(flat.strands[starts], counts)

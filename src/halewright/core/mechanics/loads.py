"""Newtons for one person, one movement and one band: tension, stretch, joint moments, work.

`of` computes everything; `given` takes a geometry computed before, to ask for many bands. Say how
the band is held in one of three ways: by grip length, by the tension wanted, or by a share of a
tension managed before.

Words. The *grip length* is the slack band from one hand's mark to the other's, or from the anchor
to the mark, pinned and flat-lying parts included and what is wound round the hands left out; a
band folded double is measured along one strand; a closed loop has its whole way round. *Tension*
is what a hand or anchor feels from all strands together; for a closed loop it is the band's own,
and each limb inside feels twice that. Moments are net joint moments, never a muscle's force.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from halewright.core.catalogue.movement import Option
from halewright.core.mechanics import geometry as geometries
from halewright.core.mechanics import grips, rubber, tensions
from halewright.core.mechanics.angles import Array
from halewright.core.mechanics.geometry import BandGeometry, Geometry, RunGeometry
from halewright.core.mechanics.rubber import Estimate
from halewright.core.mechanics.skeleton import Body
from halewright.core.mechanics.tensions import RunTension

LIMIT_RATIO = grips.LIMIT_RATIO
LIGHT_N = 10.0
"""Below this a band cannot be told from none with any trust, and is shown as "light": our rule."""
GRIP_SD_M = 0.01
"""How exactly a hand finds its mark: our rule."""
_NORMAL_95 = 1.96


class Code(StrEnum):
    """What a leader must know about a load, besides its numbers."""

    SLACK_AT_START = "slack_at_start"
    OVER_STRETCH = "over_stretch"
    """Stretched beyond the local limit somewhere in the movement."""
    BEYOND_MEASURED = "beyond_measured"
    """Stretched beyond the last reading: the tension there is not known."""
    INFEASIBLE = "infeasible"
    """This band cannot give that tension, or so short a grip cannot be taken."""
    LIGHT = "light"
    NO_BAND = "no_band"
    """This way of doing the movement has no band."""
    TOO_SHORT = "too_short"
    """The band is shorter than the grip, its strands and the hand wraps need."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShareOf:
    """A share of a tension that the person managed before."""

    share_ratio: float
    tension_n: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Peak:
    """The value farthest from zero, with its sign, and the phase at which it falls.

    None where the band was stretched beyond what was measured, so that no peak is known.
    """

    peak_nm: float | None
    phase_ratio: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class JointLoad:
    """The net joint moments about one axis over the phases: for the band, and for the weight."""

    band_nm: Array
    weight_nm: Array
    phase_ratios: Array

    @property
    def net_nm(self) -> Array:
        """Return both together."""
        return self.band_nm + self.weight_nm

    @property
    def band(self) -> Peak:
        """Return the peak of the band's part."""
        return _peak(self.band_nm, phase_ratios=self.phase_ratios)

    @property
    def weight(self) -> Peak:
        """Return the peak of the weight's part."""
        return _peak(self.weight_nm, phase_ratios=self.phase_ratios)

    @property
    def net(self) -> Peak:
        """Return the peak of both together."""
        return _peak(self.net_nm, phase_ratios=self.phase_ratios)


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """What a person meets over one repetition, from the start (phase 0) to the far end (1).

    Arrays have a value for each phase; tension is NaN where the band was never measured. Peaks,
    interval and work are None where the peak is not known. `slack_m` is the slack length of one
    run; `used_m` the band needed without hand wraps. `joints` are by axis, see `moments.AXES`.
    """

    strands: int
    grip_length_m: float
    slack_m: float
    used_m: float
    hands: int
    closed: bool
    phase_ratios: Array
    length_m: Array
    stretch_ratios: Array
    tension_n: Array
    joints: Mapping[str, JointLoad]
    tension_start_n: float | None
    tension_peak_n: float | None
    tension_interval_n: tuple[float, float] | None
    peak_phase_ratio: float
    stretch_start_ratio: float
    stretch_end_ratio: float
    stretch_most_ratio: float
    work_j: float | None
    codes: tuple[Code, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class NoLoad:
    """Why there is no load to show; `most_n` is the most this band could give within its limits."""

    code: Code
    most_n: float | None = None

    @property
    def codes(self) -> tuple[Code, ...]:
        """Return the one code, as `Load.codes`."""
        return (self.code,)


def of(
    *,
    body: Body,
    option: Option,
    law: Estimate,
    grip_length_m: float | None = None,
    target_tension_n: float | None = None,
    target_share_of: ShareOf | None = None,
    strands: int | None = None,
    limit_ratio: float = LIMIT_RATIO,
) -> Load | NoLoad:
    """Return the load of an option for a body with a band of this law; strands None as authored.

    Give exactly one of grip length, target tension and target share (ValueError otherwise).
    Raises NoBandWay where the band's way cannot be laid.
    """
    return given(
        geometry=geometries.of(body=body, option=option, strands=strands),
        law=law,
        grip_length_m=grip_length_m,
        target_tension_n=target_tension_n,
        target_share_of=target_share_of,
        limit_ratio=limit_ratio,
    )


def given(
    *,
    geometry: Geometry,
    law: Estimate,
    grip_length_m: float | None = None,
    target_tension_n: float | None = None,
    target_share_of: ShareOf | None = None,
    limit_ratio: float = LIMIT_RATIO,
) -> Load | NoLoad:
    """Return the load as `of` does, for a geometry that was computed before."""
    wanted = (grip_length_m, target_tension_n, target_share_of)
    if sum(each is not None for each in wanted) != 1:
        raise ValueError("give one of grip_length_m, target_tension_n and target_share_of")
    if not geometry.bands:
        return NoLoad(code=Code.NO_BAND)
    if target_share_of is not None:
        target_tension_n = target_share_of.share_ratio * target_share_of.tension_n
    if target_tension_n is not None:
        grip_length_m = grips.for_tension_m(geometry=geometry, law=law, tension_n=target_tension_n)
    if grip_length_m is None or not grips.can_be_taken(geometry, grip_length_m=grip_length_m):
        most = grips.most_n(geometry=geometry, law=law, limit_ratio=limit_ratio)
        return NoLoad(code=Code.INFEASIBLE, most_n=most)
    return _load(geometry=geometry, law=law, grip_length_m=grip_length_m, limit_ratio=limit_ratio)


def _load(*, geometry: Geometry, law: Estimate, grip_length_m: float, limit_ratio: float) -> Load:
    solved = _solved(geometry=geometry, law=law, grip_length_m=grip_length_m)
    place, told = _told(solved)
    band = geometry.bands[place[0]]
    laid, run = band.laid, band.runs[place[1]]
    slack_m = laid.slack_m(grip_length_m)
    tension_n = laid.strands * told.most_n
    known = not bool(np.isnan(tension_n).any())
    top = int(np.argmax(tension_n)) if known else int(np.argmax(told.stretch_ratios))
    return Load(
        strands=laid.strands,
        grip_length_m=grip_length_m,
        slack_m=slack_m,
        used_m=laid.used_m(grip_length_m),
        hands=laid.hands,
        closed=laid.closed,
        phase_ratios=geometry.phase_ratios,
        length_m=run.length_m,
        stretch_ratios=told.stretch_ratios,
        tension_n=tension_n,
        joints=_joints(geometry=geometry, solved=solved),
        tension_start_n=None if np.isnan(tension_n[0]) else float(tension_n[0]),
        tension_peak_n=float(tension_n[top]) if known else None,
        tension_interval_n=(
            _interval_n(law=law, band=band, run=run, told=told, at=top, slack_m=slack_m)
            if known
            else None
        ),
        peak_phase_ratio=float(geometry.phase_ratios[top]),
        stretch_start_ratio=float(told.stretch_ratios[0]),
        stretch_end_ratio=float(told.stretch_ratios[-1]),
        stretch_most_ratio=float(told.stretch_ratios.max()),
        work_j=_work_j(geometry=geometry, solved=solved) if known else None,
        codes=_codes(told=told, tension_n=tension_n, limit_ratio=limit_ratio),
    )


def _solved(*, geometry: Geometry, law: Estimate, grip_length_m: float) -> list[list[RunTension]]:
    """Return the tensions of every run of every band."""
    return [
        [
            tensions.of(run=run.run, curve=law.curve, slack_m=band.laid.slack_m(grip_length_m))
            for run in band.runs
        ]
        for band in geometry.bands
    ]


def _told(solved: list[list[RunTension]]) -> tuple[tuple[int, int], RunTension]:
    """Return the run that is stretched most, and where it is among bands and runs."""
    places = [(k, j) for k, runs in enumerate(solved) for j in range(len(runs))]
    # The first of equals, so that left and right never change places by rounding.
    best = max(places, key=lambda at: round(float(solved[at[0]][at[1]].stretch_ratios.max()), 9))
    return best, solved[best[0]][best[1]]


def _codes(*, told: RunTension, tension_n: Array, limit_ratio: float) -> tuple[Code, ...]:
    codes = []
    if told.stretch_ratios[0] < 1.0:
        codes.append(Code.SLACK_AT_START)
    if float(told.stretch_ratios.max()) > limit_ratio * (1.0 + 1e-9):
        codes.append(Code.OVER_STRETCH)
    if bool(np.isnan(tension_n).any()):
        codes.append(Code.BEYOND_MEASURED)
    elif float(tension_n.max()) < LIGHT_N:
        codes.append(Code.LIGHT)
    return tuple(codes)


def _interval_n(
    *,
    law: Estimate,
    band: BandGeometry,
    run: RunGeometry,
    told: RunTension,
    at: int,
    slack_m: float,
) -> tuple[float, float]:
    """Return the 95 % interval of the tension at one frame.

    Squares add: the band's own interval, and what pose, stature and the hands' marks do through
    the slope of the curve. The ends reach out to the bounds of friction: none at all, and slipping
    one way everywhere.
    """
    stretch = np.array([told.stretch_ratios[at]])
    low_n, high_n = rubber.interval_n(law, stretch_ratios=stretch)
    middle_n = float(told.most_n[at])
    slope = float(rubber.slope_n(law.curve, stretch_ratios=stretch)[0])
    length_ratio = float(run.length_sd_m[at] / run.length_m[at])
    mark_ratio = GRIP_SD_M * max(band.laid.hands, 1) ** 0.5 / len(band.runs) / slack_m
    shift_n = _NORMAL_95 * slope * float(stretch[0]) * float(np.hypot(length_ratio, mark_ratio))
    below_n = float(np.hypot(middle_n - low_n[0], shift_n))
    above_n = float(np.hypot(high_n[0] - middle_n, shift_n))
    rough_n = float(tensions.rough_n(run=run.run, curve=law.curve, slack_m=slack_m)[at])
    lowest_n = min(middle_n, float(told.even_n[at])) - below_n
    strands = band.laid.strands
    return strands * max(lowest_n, 0.0), strands * (max(middle_n, rough_n) + above_n)


def _joints(*, geometry: Geometry, solved: list[list[RunTension]]) -> dict[str, JointLoad]:
    count = geometry.phase_ratios.size
    found: dict[str, Array] = {}
    for band, runs in zip(geometry.bands, solved, strict=True):
        for run, tension in zip(band.runs, runs, strict=True):
            for each, region_n in zip(run.moments_nm, tension.regions_n, strict=True):
                for axis, moment in each.items():
                    told = band.laid.strands * region_n * moment
                    found[axis] = found.get(axis, np.zeros(count)) + told
    return {
        axis: JointLoad(
            band_nm=found.get(axis, np.zeros(count)),
            weight_nm=weight,
            phase_ratios=geometry.phase_ratios,
        )
        for axis, weight in geometry.weight_nm.items()
    }


def _work_j(*, geometry: Geometry, solved: list[list[RunTension]]) -> float:
    """Return ∫ T dL from the start to the far end, over all runs and strands."""
    total_j = 0.0
    for band, runs in zip(geometry.bands, solved, strict=True):
        for run, tension in zip(band.runs, runs, strict=True):
            for region, region_n in zip(run.run.regions, tension.regions_n, strict=True):
                mean_n = 0.5 * (region_n[1:] + region_n[:-1])
                total_j += band.laid.strands * float((mean_n * np.diff(region.length_m)).sum())
    return total_j


def _peak(values: Array, *, phase_ratios: Array) -> Peak:
    if bool(np.isnan(values).any()):
        return Peak(peak_nm=None, phase_ratio=None)
    at = int(np.argmax(np.abs(values)))
    return Peak(peak_nm=float(values[at]), phase_ratio=float(phase_ratios[at]))


def shown(*, tension_n: float, interval_n: tuple[float, float]) -> str:
    """Return a tension as it may be shown: in steps of 5 N with its interval, or "light".

    The interval is rounded outwards, so that it never looks narrower than it is.
    """
    step_n = rubber.STEP_N
    low = int(step_n * np.floor(interval_n[0] / step_n))
    high = int(step_n * np.ceil(interval_n[1] / step_n))
    name = "light" if tension_n < LIGHT_N else f"{rubber.shown_n(tension_n)} N"
    return f"{name} ({low} to {high} N)"

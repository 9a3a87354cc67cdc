"""One band in one person's hands: the load at a grip, and whether it is within their limits."""

from dataclasses import replace
from functools import lru_cache

from halewright.core.catalogue.movement import MovementId
from halewright.core.catalogue.words import OptionKind
from halewright.core.mechanics import geometry as geometries
from halewright.core.mechanics import kit_use, loads, rubber
from halewright.core.mechanics.demands import Demands
from halewright.core.mechanics.geometry import Geometry
from halewright.core.mechanics.loads import Code, Load, NoLoad
from halewright.core.mechanics.rubber import Estimate
from halewright.core.mechanics.skeleton import Body
from halewright.core.people.kit import Band, Material
from halewright.core.people.limits import Measure
from halewright.core.people.person import Person
from halewright.core.screening import judge
from halewright.core.screening.verdict import Outcome, Verdict
from halewright.files import movements
from halewright.usecases import judging
from halewright.usecases import loads as group_loads

_FRAMES = 31
_CORRECTIONS = 6
_BACK_SHARE = 0.85
_NEAR_SHARE = 0.01


def with_load(demands: Demands, *, tension_n: float) -> Demands:
    """Return what an option asks once the band's peak tension is known."""
    told = {Measure.TENSION: tension_n}
    return replace(
        demands,
        left={**demands.left, **told},
        right={**demands.right, **told},
        load_known=True,
    )


def verdict_of(
    load: Load | None,
    *,
    person: Person,
    outcome: Outcome,
    movement: MovementId,
    option: OptionKind,
    band: Band,
) -> Verdict | None:
    """Return whether this load is within what the person must avoid; None where it is not known."""
    if load is None or load.tension_peak_n is None:
        return None
    meant = movements.shipped()[movement]
    asked = judging.shipped_demands()[movement, option]
    return judge.judge(
        outcome=outcome,
        person=person,
        movement=meant,
        option=meant.option(option),
        demands=with_load(asked, tension_n=load.tension_peak_n),
        latex_free=band.material is Material.LATEX_FREE,
    )


def tension_limit_n(outcome: Outcome) -> float | None:
    """Return a person's own limit of tension, the lowest of several; None without one."""
    told = [limit.at_most for limit in outcome.limits if limit.measure is Measure.TENSION]
    return min(told, default=None)


def geometry_of(
    body: Body, *, movement: MovementId, option: OptionKind, strands: int | None = None
) -> Geometry:
    """Return the geometry of a shipped option for a body, remembered between pages."""
    return _geometry(body, movement, option, strands)


@lru_cache(maxsize=256)
def _geometry(
    body: Body, movement: MovementId, option: OptionKind, strands: int | None
) -> Geometry:
    meant = movements.shipped()[movement].option(option)
    return geometries.of(body=body, option=meant, strands=strands, frames=_FRAMES)


@lru_cache(maxsize=512)
def held(
    body: Body,
    *,
    movement: MovementId,
    option: OptionKind,
    strands: int | None,
    band: Band,
    peak_n: float,
    limit_ratio: float,
) -> tuple[Load | None, tuple[Code, ...]]:
    """Return the load of a band gripped for a peak tension, with every code.

    A loop is as long as it is; `strands` None means as authored. Where the band rubs over the body
    the grip is mended a few times until the peak with friction is the one wanted.
    """
    law = group_loads.law_of(band, limit_ratio=limit_ratio)
    geometry = geometry_of(body, movement=movement, option=option, strands=strands)
    if law is None:
        return None, ()
    laid = geometry.bands[0].laid
    if laid.closed:
        found = loads.given(
            geometry=geometry, law=law, grip_length_m=band.length_m, limit_ratio=limit_ratio
        )
    elif any(run.friction for run in laid.runs):
        found = _rubbing(geometry, law=law, peak_n=peak_n, limit_ratio=limit_ratio)
    else:
        found = loads.given(
            geometry=geometry, law=law, target_tension_n=peak_n, limit_ratio=limit_ratio
        )
    if not isinstance(found, Load):
        return None, found.codes
    long_enough = kit_use.is_long_enough(found, band=band)
    return found, found.codes if long_enough else (*found.codes, Code.TOO_SHORT)


def _rubbing(
    geometry: Geometry, *, law: Estimate, peak_n: float, limit_ratio: float
) -> Load | NoLoad:
    """Return the load with friction whose peak is the one wanted, to about a part in a hundred."""
    band = geometry.bands[0]
    aim_n = peak_n
    best: Load | None = None
    for _ in range(_CORRECTIONS):
        stretch = rubber.stretch_ratio(law.curve, tension_n=aim_n / band.laid.strands)
        if stretch is None:
            break
        told = loads.given(
            geometry=geometry,
            law=law,
            grip_length_m=band.laid.grip_length_m(band.longest_m / stretch),
            limit_ratio=limit_ratio,
        )
        reached_n = told.tension_peak_n if isinstance(told, Load) else None
        if not isinstance(told, Load) or reached_n is None:
            # Friction stretches it beyond the last reading somewhere: a longer grip.
            aim_n *= _BACK_SHARE
            continue
        if best is None or _missed_n(told, peak_n) < _missed_n(best, peak_n):
            best = told
        if abs(reached_n - peak_n) <= _NEAR_SHARE * peak_n:
            break
        aim_n *= peak_n / max(reached_n, 1e-6)
    return best or NoLoad(code=Code.INFEASIBLE)


def _missed_n(load: Load, peak_n: float) -> float:
    return abs((load.tension_peak_n or 0.0) - peak_n)
